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
  const texts = choices.map((choice) => (choice === NOT_ATTACHED ? AS_GOOD_AS_NONE : choice));
  const same = texts.indexOf(String(now));
  // What is refused takes long to be refused in words: only units that the present value has are tried.
  return same >= 0
    ? same
    : (unitsOf(now)
        .map((unit) => sameQuantity(texts, now, unit))
        .find((at) => at >= 0) ?? -1);
}

function unitsOf(now: string | number): readonly Unit[] {
  return units.filter((unit) => readQuantity(now, unit).ok);
}

/** Position of the first text that is the same quantity. */
function sameQuantity(texts: readonly string[], now: string | number, unit: Unit): number {
  const wanted = readQuantity(now, unit);
  return texts.findIndex((text) => {
    const read = readQuantity(text, unit);
    return read.ok && wanted.ok && Math.abs(read.value - wanted.value) <= 1e-9 * Math.abs(wanted.value);
  });
}
