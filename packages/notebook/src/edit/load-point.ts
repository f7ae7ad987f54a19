import { shortText, spokenName, typedQuantity, type Unit } from '@two-thirds/sim/quantity';
import { boardParts, valueChange, valuePlace } from './board-values.ts';
import type { Edit } from './history.ts';
import type { Json } from './json.ts';
import { valueAt, withValue } from './path.ts';

const TOLD_DIGITS = 5;

/** A value of a board and what it is to be: a number in SI units, a word (a timer's family), or yes or no. */
export interface PointValue {
  /** As it is named in the document: `R1`, `G1.wave.period`. */
  readonly name: string;
  readonly unit: Unit | null;
  readonly value: number | string | boolean;
}

/** The one edit that gives a board all values of a point; undefined where a name means nothing on it. */
export function loadPoint(document: Json, board: string, values: readonly PointValue[]): Edit | undefined {
  let after = document;
  for (const { name, unit, value } of values) {
    const place = valuePlace(boardParts(after, board), name);
    const written = typeof value !== 'number' || unit === null ? value : typedQuantity(value, unit);
    const change = place === undefined ? undefined : valueChange(after, board, place, written);
    if (change === undefined) return undefined;
    after = withValue(after, change.path, change.value);
  }
  const label = values
    .map(
      ({ name, unit, value }) => `${spokenName(name)} to ${typeof value === 'number' ? pointText(value, unit) : value}`,
    )
    .join(' and ');
  return { path: ['boards', board], value: valueAt(after, ['boards', board]), label };
}

/** A value as it is told: so many digits at most, none that say nothing. */
export function pointText(value: number, unit: Unit | null, digits = TOLD_DIGITS): string {
  return shortText(value, unit, digits);
}
