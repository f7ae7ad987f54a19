import type { ClaimChoice } from './claim-plan.ts';

/** A trial: for each choice, a position in its list of values, see {@link simplestFirst}. Position 0 is the board's own. */
export type Trial = readonly number[];

/** Digits that tell a value from others; more are rounding. */
const DIGITS = 12;
/** First digits from the roundest on: those of the 1-2-5 steps of scales and instruments, then the others. */
const MANTISSAS = '125346789';

/** How round a number is, smaller is rounder: its significant digits, then the roundness of the first of them. */
export function roundness(value: number): number {
  const [mantissa = '0'] = Math.abs(value)
    .toExponential(DIGITS - 1)
    .split('e');
  const digits = mantissa.replace('.', '').replace(/0+$/, '');
  return digits.length * MANTISSAS.length + Math.max(0, MANTISSAS.indexOf(digits[0] ?? '1'));
}

/** The values of a choice: the board's own, then those it is tried at, from the roundest on, nearer ones before others. */
export function simplestFirst({ nominal, points, words }: ClaimChoice): (number | null)[] {
  const others = points.filter((point) => point !== nominal);
  if (words !== null) return [nominal, ...others];
  const rank = new Map(others.map((point) => [point, [roundness(point), distance(point, nominal), point] as const]));
  return [nominal, ...others.sort((a, b) => compareKeys(rank.get(a) ?? [], rank.get(b) ?? []))];
}

/**
 * Orders trials from the simplest on: those with the fewest values off the board's own first, then those with the roundest
 * values, then those nearest to the board's own.
 */
export function compareTrials(choices: readonly ClaimChoice[], lists: readonly (readonly (number | null)[])[]) {
  const key = (trial: Trial): number[] => {
    const off = trial.flatMap((position, index) => (position === 0 ? [] : [{ index, position }]));
    const values = off.map(({ index, position }) => ({ choice: choices[index], value: lists[index]?.[position] ?? 0 }));
    const numbers = values.filter(({ choice }) => choice?.words === null);
    const sum = (of: (each: (typeof numbers)[number]) => number): number =>
      numbers.reduce((total, each) => total + of(each), 0);
    return [
      off.length,
      sum(({ value }) => roundness(value)),
      // Rounded, so that the last bits of logarithms do not decide.
      Math.round(1e6 * sum(({ choice, value }) => distance(value, choice?.nominal ?? null))),
      ...trial,
    ];
  };
  return (a: Trial, b: Trial): number => compareKeys(key(a), key(b));
}

function compareKeys(a: readonly number[], b: readonly number[]): number {
  for (const [index, value] of a.entries()) {
    const other = b[index] ?? 0;
    if (value !== other) return value - other;
  }
  return 0;
}

/** How far two values are apart: by their ratio where that makes sense. */
function distance(value: number, nominal: number | null): number {
  if (nominal === null) return 0;
  return value > 0 && nominal > 0 ? Math.abs(Math.log(value / nominal)) : Math.abs(value - nominal);
}
