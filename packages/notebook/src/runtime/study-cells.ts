import { cellKey } from '@two-thirds/sim/document';
import { boardParts, valueChange, valuePlace } from '../edit/board-values.ts';
import { isRecord, type Json } from '../edit/json.ts';
import { valueAt, withValue } from '../edit/path.ts';
import { boardOf, type PageCell, textField } from './cells.ts';

/** Kinds of cells that compute many runs. */
const studyKinds: ReadonlySet<string> = new Set([
  'sweep',
  'map',
  'spread',
  'choose',
  'claim',
  'swaps',
  'symptoms',
  'capture',
]);
/** Fields that name a value which a study goes through, whatever the document has there. */
const variedFields = ['vary', 'x', 'y'];

/** Whether a cell computes many runs, cut into jobs. One whose id cannot be used has none: it is only told so. */
export function isStudyCell({ kind, data, index, id }: PageCell): boolean {
  return studyKinds.has(kind) && cellKey(data, index) === id;
}

/**
 * Everything that the runs of a study depend on, as text. Two states of a document with the same text for a cell give
 * the same jobs: what the document has for the values that the study goes through makes no difference to them.
 */
export function studySignature(document: Json, cell: PageCell): string {
  const board = boardOf(cell) ?? '';
  let neutral = document;
  for (const name of variedNames(cell)) {
    const place = valuePlace(boardParts(neutral, board), name);
    const change = place === undefined ? undefined : valueChange(neutral, board, place, null);
    if (change !== undefined) neutral = withValue(neutral, change.path, change.value);
  }
  const links = valueAt(neutral, ['links']) ?? null;
  const boards = valueAt(neutral, links === null ? ['boards', board] : ['boards']) ?? null;
  // What was seen at a bench is only held against what the runs gave.
  const { seen: _, ...data } = cell.data;
  return JSON.stringify([links, boards, data]);
}

function variedNames(cell: PageCell): string[] {
  // A kit has its own parts in all places that it names.
  if (cell.kind === 'swaps' && isRecord(cell.data['parts'])) return Object.keys(cell.data['parts']);
  return variedFields.flatMap((field) => {
    const range = cell.data[field];
    const name = isRecord(range) ? textField(range, 'value') : undefined;
    return name === undefined ? [] : [name];
  });
}
