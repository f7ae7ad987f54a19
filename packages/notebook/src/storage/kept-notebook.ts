import { checkDocument } from '@two-thirds/sim/document';
import { type History, STEPS_KEPT } from '../edit/history.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import type { Predictions } from '../runtime/predictions.ts';

/** The form of kept notebooks that this version writes; it reads this one and all earlier ones. */
export const FORM = 1;

/** Steps of undo, and of redo, that are kept with a notebook. */
export const STEPS_STORED = 60;

/** A notebook as the browser keeps it between visits. */
export interface KeptNotebook {
  /** Short name in addresses: that of a worked example, or one made up for a notebook of one's own. */
  readonly key: string;
  readonly form: number;
  /** Counts the times it was written, so that two windows notice each other. */
  readonly revision: number;
  /** When it was last changed (ms since 1970). */
  readonly changed: number;
  readonly title: string;
  /** Its first sentences. */
  readonly introduction: string;
  /** The document as it was opened: what knobs go back to. */
  readonly opened: Json;
  readonly history: History;
  readonly predictions: Predictions;
  /** Ids of folded cells. */
  readonly folded: readonly string[];
  /** The file it is saved to, where the browser lets a page write to one. */
  readonly file?: FileSystemFileHandle;
}

/** What a list of notebooks shows of one. */
export interface NotebookSummary {
  readonly key: string;
  readonly form: number;
  readonly revision: number;
  readonly changed: number;
  readonly title: string;
  readonly introduction: string;
}

/** The summary of a notebook. */
export function summaryOf({ key, form, revision, changed, title, introduction }: KeptNotebook): NotebookSummary {
  return { key, form, revision, changed, title, introduction };
}

/** The history with no more steps than are kept. */
export function storedHistory({ document, past, future }: History): History {
  const most = Math.min(STEPS_STORED, STEPS_KEPT);
  return { document, past: past.slice(-most), future: future.slice(0, most) };
}

/**
 * Checks what was found in the browser's storage before it is used.
 *
 * @returns the notebook, or why it cannot be used; in that case it must stay as it is.
 */
export function readKept(found: unknown): KeptNotebook | { readonly refusal: string } {
  const record = isObject(found) ? found : {};
  const name = typeof record['title'] === 'string' ? `“${record['title']}”` : 'The page';
  if (typeof record['form'] === 'number' && record['form'] > FORM) {
    return {
      refusal: `${name} must be of form ${FORM} or earlier; got form ${record['form']}, kept by a later version of Two Thirds. It stays as it is; open it with that version.`,
    };
  }
  const history = isObject(record['history']) ? record['history'] : {};
  const { unusable } = checkDocument(history['document']);
  const isWhole =
    unusable === undefined &&
    isSteps(history['past']) &&
    isSteps(history['future']) &&
    typeof record['key'] === 'string' &&
    typeof record['revision'] === 'number' &&
    typeof record['changed'] === 'number' &&
    isObject(record['predictions']) &&
    Array.isArray(record['folded']);
  if (!isWhole) {
    const fault = unusable === undefined ? 'got one that lacks something' : `got this: ${unusable.message}`;
    return { refusal: `${name} must be kept whole; ${fault}. It stays as it is and is not opened.` };
  }
  return found as KeptNotebook;
}

function isSteps(value: unknown): boolean {
  return (
    isList(value as Json) &&
    (value as unknown[]).every(
      (step) => isObject(step) && typeof step['label'] === 'string' && isRecord(step['document']),
    )
  );
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
