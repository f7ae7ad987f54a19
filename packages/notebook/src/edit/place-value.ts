import { readyBoards } from '@two-thirds/sim/board';
import { boardParts, valueChange, valuePlace } from './board-values.ts';
import { isRecord, type Json } from './json.ts';
import { type Path, valueAt, withValue } from './path.ts';

/** The value at a place of a part as the document gives it, its ready board's included; undefined where none is given. */
export function partValue(document: Json, board: string, part: string, steps: Path): Json | undefined {
  const data = boardParts(document, board).find((each) => each['name'] === part);
  return valueAt(data, steps);
}

/**
 * The document with another value at a place of a part; `undefined` takes it away, so that its default holds again.
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
  const key = String(change.path.at(-1));
  const parts = boardParts(document, board);
  const covered = valuePlace(parts, key)?.steps ?? steps;
  const inner = steps.slice(covered.length);
  const own = readyBoards.get(ready)?.circuit.parts.find((each) => each.name === part) as unknown as Json;
  const isItsOwn = inner.length === 0 && JSON.stringify(valueAt(own, steps)) === JSON.stringify(value);
  const entry = inner.length === 0 ? value : withValue(change.value, inner, value);
  // An entry for what lies inside another would hold on to the old value.
  const isInside = (name: string): boolean => {
    const place = valuePlace(parts, name);
    return place?.part === part && place.steps.length > covered.length && isPrefix(covered, place.steps);
  };
  return withEntry(document, board, key, isItsOwn && !isWritten ? undefined : entry, isInside);
}

function isPrefix(start: Path, steps: Path): boolean {
  return start.every((step, index) => step === steps[index]);
}

/** Whether a value stands in the document itself, not only in the ready board that it names. */
export function isWrittenOut(document: Json, board: string, part: string, steps: Path): boolean {
  const change = valueChange(document, board, { part, steps }, '');
  return change !== undefined && valueAt(document, change.path) !== undefined;
}

/** Writes an entry of the `values` of a ready board, in the place of those that go. */
function withEntry(
  document: Json,
  board: string,
  key: string,
  value: Json | undefined,
  goes: (key: string) => boolean,
): Json {
  const path = ['boards', board, 'values'];
  const before = valueAt(document, path);
  const kept = Object.entries(isRecord(before) ? before : {}).filter(([name]) => !goes(name));
  const after = withValue(Object.fromEntries(kept), [key], value);
  return withValue(document, path, isRecord(after) && Object.keys(after).length === 0 ? undefined : after);
}
