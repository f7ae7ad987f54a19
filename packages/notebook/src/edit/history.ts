import { withKnobsFollowing } from './cell-knobs.ts';
import { isSameJson, type Json } from './json.ts';
import { type Path, withValue } from './path.ts';
import type { Prediction } from '../runtime/predictions.ts';
import type { WhatIfMark } from './what-if-mark.ts';

/** One change of a document, as data. */
export interface Edit {
  /** The place that changes. */
  readonly path: Path;
  /** What stands there afterwards; `undefined` removes it. */
  readonly value: Json | undefined;
  /** What was done, in a few words, for example `R1 to 68 kΩ`. */
  readonly label: string;
  /** Edits that follow each other with the same key become one step of undo, until {@link settle}: a knob being turned. */
  readonly joins?: string;
  /** What it asks of a board, or no longer asks, where it is a question of the kind "what if". */
  readonly whatIf?: WhatIfMark;
}

/** A document with its past and future. The documents share all parts that did not change. */
export interface History {
  readonly document: Json;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
}

/** A way back (or forth) to another state of the document. */
interface Step {
  readonly document: Json;
  readonly label: string;
  readonly joins?: string;
  readonly whatIf?: WhatIfMark;
  readonly prediction?: PredictionChange;
}

/** A step that changes no document but what a reader expects of a cell, and whether its result is shown. */
export interface PredictionChange {
  readonly cell: string;
  readonly before: Prediction;
  readonly after: Prediction;
}

/** Steps of undo that are kept; older ones are forgotten. */
export const STEPS_KEPT = 200;

/** A history that starts with this document. */
export function openHistory(document: Json): History {
  return { document, past: [], future: [] };
}

/** The history after one more edit. What had been undone is forgotten. An edit that changes nothing gives the same history. */
export function record(history: History, edit: Edit): History {
  const document = withKnobsFollowing(history.document, withValue(history.document, edit.path, edit.value));
  if (isSameJson(document, history.document)) return history;
  const last = history.past.at(-1);
  const joined = edit.joins !== undefined && last?.joins === edit.joins;
  const step: Step = {
    document: joined ? last.document : history.document,
    label: edit.label,
    ...(edit.joins === undefined ? {} : { joins: edit.joins }),
    ...(edit.whatIf === undefined ? {} : { whatIf: edit.whatIf }),
  };
  const before = joined ? history.past.slice(0, -1) : history.past;
  return { document, past: [...before, step].slice(-STEPS_KEPT), future: [] };
}

/** The history after a change of what a reader expects, as a step of undo of its own. */
export function recordPrediction(history: History, prediction: PredictionChange, label: string): History {
  const step: Step = { document: history.document, label, prediction };
  return { document: history.document, past: [...history.past, step].slice(-STEPS_KEPT), future: [] };
}

/** Ends joining: the next edit starts a step of undo of its own. */
export function settle(history: History): History {
  const last = history.past.at(-1);
  if (last?.joins === undefined) return history;
  const closed: Step = { document: last.document, label: last.label, ...markOf(last) };
  return { ...history, past: [...history.past.slice(0, -1), closed] };
}

/** The history one step back; the same history where there is nothing to undo. */
export function undo(history: History): History {
  const step = history.past.at(-1);
  if (step === undefined) return history;
  return {
    document: step.document,
    past: history.past.slice(0, -1),
    future: [{ document: history.document, label: step.label, ...markOf(step) }, ...history.future],
  };
}

/** The history one step forth; the same history where nothing was undone. */
export function redo(history: History): History {
  const [step, ...rest] = history.future;
  if (step === undefined) return history;
  return {
    document: step.document,
    past: [...history.past, { document: history.document, label: step.label, ...markOf(step) }],
    future: rest,
  };
}

/** What goes with a step in either direction. */
function markOf({ whatIf, prediction }: Pick<Step, 'whatIf' | 'prediction'>): Pick<Step, 'whatIf' | 'prediction'> {
  return { ...(whatIf === undefined ? {} : { whatIf }), ...(prediction === undefined ? {} : { prediction }) };
}
