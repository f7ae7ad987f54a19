import { readQuantity, type Unit, unitPlurals } from '@two-thirds/sim/quantity';
import { boardParts, valuePlace } from './board-values.ts';
import type { Json } from './json.ts';
import type { PointValue } from './load-point.ts';
import { valueAt } from './path.ts';

/** What a list of parts says in place of a probe that is not attached. */
const NOT_ATTACHED = 'none';
/** A probe of this resistance is as good as not attached (Ω): it loads 1 MΩ by a millionth. */
const AS_GOOD_AS_NONE = '1 TΩ';
const units = Object.keys(unitPlurals) as readonly Unit[];

/**
 * What the board is to be given for a combination of plugged-in parts, by the names of their places.
 *
 * @param places names of the values, as the cell lists them.
 * @param parts what is plugged in, as text.
 */
export function swapValues(places: readonly string[], parts: readonly string[]): PointValue[] {
  return places.map((name, place) => {
    const text = parts[place] ?? '';
    if (text === 'true' || text === 'false') return { name, unit: null, value: text === 'true' };
    const number = text.trim() === '' ? NaN : Number(text);
    if (Number.isFinite(number)) return { name, unit: null, value: number };
    return { name, unit: null, value: text === NOT_ATTACHED ? AS_GOOD_AS_NONE : text };
  });
}

/** Which of these choices a board has at a place now; -1 for none of them. */
export function choiceNow(document: Json, board: string, name: string, choices: readonly string[]): number {
  const parts = boardParts(document, board);
  const place = valuePlace(parts, name);
  const part = parts.find((each) => each['name'] === place?.part);
  const now = place === undefined ? undefined : valueAt(part, place.steps);
  if (typeof now === 'boolean') return choices.indexOf(String(now));
  if (typeof now !== 'string' && typeof now !== 'number') return -1;
  return choices.findIndex((choice) => isSame(choice === NOT_ATTACHED ? AS_GOOD_AS_NONE : choice, now));
}

/** Whether two values say the same: as text, or as quantities of one unit. */
function isSame(choice: string, now: string | number): boolean {
  if (choice === String(now)) return true;
  return units.some((unit) => {
    const [one, other] = [readQuantity(choice, unit), readQuantity(now, unit)];
    return one.ok && other.ok && Math.abs(one.value - other.value) <= 1e-9 * Math.abs(one.value);
  });
}
