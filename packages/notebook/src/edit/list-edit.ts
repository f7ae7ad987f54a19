import { placeName, type ValuePlace, valueChange } from './board-values.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json } from './json.ts';
import { valueAt, withValue } from './path.ts';

/**
 * The edit that gives a part another list. Where an entry is taken out, its knobs go with it, and those of the entries
 * after it follow them to their new places.
 *
 * @param removed position of the entry that is taken out, if one is.
 */
export function listEdit(
  document: Json,
  board: string,
  place: ValuePlace,
  { entries, label, removed }: { readonly entries: readonly Json[]; readonly label: string; readonly removed?: number },
): Edit | undefined {
  const change = valueChange(document, board, place, entries);
  if (change === undefined || removed === undefined) return change && { ...change, label };
  const before = withValue(document, change.path, change.value);
  const after = withKnobsMoved(before, board, `${placeName(place)}[`, removed);
  return after === before ? { ...change, label } : { path: [], value: after, label };
}

function withKnobsMoved(document: Json, board: string, start: string, removed: number): Json {
  const move = (knob: Json): readonly Json[] => {
    if (typeof knob !== 'string' || !knob.startsWith(start)) return [knob];
    const [figures = '', ...rest] = knob.slice(start.length).split(']');
    const entry = Number(figures);
    if (entry === removed) return [];
    return entry < removed ? [knob] : [`${start}${entry - 1}]${rest.join(']')}`];
  };
  const page = valueAt(document, ['page']);
  let value = document;
  for (const [index, cell] of (isList(page) ? page : []).entries()) {
    const knobs = isRecord(cell) && cell['board'] === board ? cell['knobs'] : undefined;
    if (!isList(knobs) || !knobs.some((knob) => typeof knob === 'string' && knob.startsWith(start))) continue;
    value = withValue(value, ['page', index, 'knobs'], knobs.flatMap(move));
  }
  return value;
}
