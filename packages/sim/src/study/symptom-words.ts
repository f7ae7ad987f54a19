import { percentText, type Unit } from '../quantity/index.ts';
import { areAlike } from './alike.ts';
import { quantityText } from './sweep-words.ts';
import type { SymptomRow } from './symptoms.ts';

/** Ratios up to this are told as a share more or less, larger ones as so many times. */
const TIMES_FROM = 2;

/** A reading as it is called and measured. */
export interface NamedReading {
  readonly name: string;
  readonly unit: Unit | null;
}

/** What one would see of a fault, against the board as built: each reading that changes, in words. */
export function seenWords(
  readings: readonly NamedReading[],
  healthy: SymptomRow | undefined,
  { values, reasons, failed }: SymptomRow,
  alike: number,
): string {
  if (failed !== null) return `It cannot be computed: ${failed}`;
  const changes = readings.flatMap(({ name, unit }, index) => {
    const [was, is] = [healthy?.values[index] ?? null, values[index] ?? null];
    if (areAlike([was], [is], alike)) return [];
    if (is === null) return [`no ${name} (${reasons[index] ?? 'unknown'})`];
    const now = `${name} ${quantityText(is, unit)}`;
    if (was === null) return [`${now} where there should be none`];
    return [`${now} ${changeText(was, is, unit)}`];
  });
  return changes.length === 0 ? 'Nothing: every reading is as it should be.' : `${changes.join('; ')}.`;
}

function changeText(was: number, is: number, unit: Unit | null): string {
  const instead = `instead of ${quantityText(was, unit)}`;
  if (was === 0 || is === 0 || Math.sign(was) !== Math.sign(is)) return instead;
  const ratio = is / was;
  if (ratio >= TIMES_FROM) return `${instead}, ${short(ratio)} times as much`;
  if (ratio <= 1 / TIMES_FROM) return `${instead}, one part in ${short(1 / ratio)}`;
  return `${instead}, ${percentText(Number((100 * Math.abs(ratio - 1)).toPrecision(2)))} ${ratio > 1 ? 'more' : 'less'}`;
}

function short(value: number, digits = 3): string {
  return String(Number(value.toPrecision(digits)));
}
