import { shortText, type Unit } from '../quantity/index.ts';

/** Digits of values that were computed. */
const TOLD_DIGITS = 5;

/** A value as charts tell it: so many digits at most, none that say nothing. */
export function pointText(value: number, unit: Unit | null, digits = TOLD_DIGITS): string {
  return shortText(value, unit, digits);
}
