import { readyBoards } from '@two-thirds/sim/board';
import { boardParts, valueChange } from './board-values.ts';
import { isRecord, type Json } from './json.ts';
import { type Path, valueAt, withValue } from './path.ts';

/** The value at a place of a part as the document gives it, its ready board's included; undefined where none is given. */
export function partValue(document: Json, board: string, part: string, steps: Path): Json | undefined {
  const data = boardParts(document, board).find((each) => each['name'] === part);
  return valueAt(data, steps);
}

/**
 * The document with another value at a place of a part; `undefined` takes a field away, so that its default holds again.
 * What a ready board has of itself is not written into its `values`, so that a value that is put back leaves nothing
 * behind. Undefined where the board has no such part.
 *
 * @param isWritten whether it is to be written out all the same.
 */
export function withPartValue(
  document: Json,
  board: string,
  part: string,
  steps: Path,
  value: Json | undefined,
  isWritten = false,
): Json | undefined {
  const [field] = steps;
  if (field === undefined || partValue(document, board, part, []) === undefined) return undefined;
  const change = valueChange(document, board, { part, steps }, value ?? '');
  if (change === undefined) return undefined;
  const ready = valueAt(document, ['boards', board, 'ready']);
  if (typeof ready !== 'string') return withValue(document, change.path, value);
  const own = readyBoards.get(ready)?.circuit.parts.find((each) => each.name === part);
  const isItsOwn = JSON.stringify(valueAt(own as unknown as Json, steps)) === JSON.stringify(value);
  const isWhole = change.value === (value ?? '');
  if (!(isItsOwn && isWhole) || (isWritten && value !== undefined))
    return withValue(document, change.path, value === undefined ? undefined : change.value);
  const after = withValue(document, change.path, undefined);
  const values = valueAt(after, ['boards', board, 'values']);
  return isRecord(values) && Object.keys(values).length === 0
    ? withValue(after, ['boards', board, 'values'], undefined)
    : after;
}

/** Whether a value stands in the document itself, not only in the ready board that it names. */
export function isWrittenOut(document: Json, board: string, part: string, steps: Path): boolean {
  const change = valueChange(document, board, { part, steps }, '');
  return change !== undefined && valueAt(document, change.path) !== undefined;
}
