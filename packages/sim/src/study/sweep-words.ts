import { formatQuantity, spokenName, type Unit, withMinus } from '../quantity/index.ts';
import { patternRegion } from './fate-pattern.ts';
import type { Axis } from './axis.ts';
import { nearlySameText } from './nearly-same.ts';
import { ratioRegion } from './ratio-steps.ts';
import type { SweepMark, SweepOutcome, SweepPoint } from './sweep.ts';

/** Jumps of one quantity told one by one; more are counted. */
const TOLD_JUMPS = 6;
/** Digits of the place of a jump. */
const PLACE_DIGITS = 4;

/**
 * What a sweep found, in a few sentences built from its own numbers: how each reading goes, where it jumps, where it has no
 * value and why.
 *
 * @param names what the readings are called, in the order of the plan.
 */
export function sweepWords(axis: Axis, names: readonly string[], { points, marks }: SweepOutcome): string {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return 'Nothing is computed yet.';
  const over = `${spokenName(axis.name)} from ${quantityText(first.x, axis.unit)} to ${quantityText(last.x, axis.unit)}`;
  const readings = names.flatMap((name, index) => readingWords(axis, name, index, points, marks));
  return [`Over ${over} (${points.length} points):`, ...joined(readings), ...fateWords(axis, marks)].join(' ');
}

/** A number with its unit, or a plain one. */
export function quantityText(value: number, unit: Unit | null, digits?: number): string {
  if (unit !== null) return formatQuantity(value, unit, digits === undefined ? {} : { digits });
  return withMinus(String(Number.isInteger(value) ? value : Number(value.toPrecision(digits ?? 3))));
}

function joined(clauses: readonly string[]): string[] {
  return clauses.length === 0 ? [] : [`${clauses.join('; ')}.`];
}

function readingWords(
  axis: Axis,
  name: string,
  index: number,
  points: readonly SweepPoint[],
  marks: readonly SweepMark[],
): string[] {
  const unit = points.map(({ units }) => units[index]).find((each) => each !== undefined && each !== null) ?? null;
  const seen = points.flatMap(({ x, measured }) => {
    const value = measured[index]?.value;
    return typeof value === 'number' ? [{ x, value }] : [];
  });
  const missing = points.length - seen.length;
  const reason = points.map(({ measured }) => measured[index]?.reason).find((each) => each !== undefined);
  const none = missing === 0 ? [] : [`${name} has no value at ${missing} of them (${reason ?? 'unknown'})`];
  return [...courseWords(axis, name, unit, seen), ...jumpWords(axis, name, index, marks), ...none];
}

/** Whether it rises, falls, stays or goes both ways, and between which values. */
function courseWords(
  axis: Axis,
  name: string,
  unit: Unit | null,
  seen: readonly { readonly x: number; readonly value: number }[],
): string[] {
  const [first, last] = [seen[0], seen.at(-1)];
  if (first === undefined || last === undefined) return [];
  const text = ({ value }: { readonly value: number }): string => quantityText(value, unit);
  const least = seen.reduce((a, b) => (b.value < a.value ? b : a));
  const most = seen.reduce((a, b) => (b.value > a.value ? b : a));
  if (text(least) === text(most)) return [`${name} is ${text(first)} ${nearlySameText(least.value, most.value)}`];
  const steps = seen.slice(1).map(({ value }, index) => Math.sign(value - seen[index]!.value));
  if (steps.every((step) => step >= 0)) return [`${name} rises from ${text(first)} to ${text(last)}`];
  if (steps.every((step) => step <= 0)) return [`${name} falls from ${text(first)} to ${text(last)}`];
  const at = ({ x }: { readonly x: number }): string => quantityText(x, axis.unit);
  return [`${name} goes both ways, between ${text(least)} at ${at(least)} and ${text(most)} at ${at(most)}`];
}

function jumpWords(axis: Axis, name: string, index: number, marks: readonly SweepMark[]): string[] {
  const jumps = marks.flatMap(({ below, above }) => {
    const [before, after] = [below, above].map(({ steps }) => ratioRegion(steps[index] ?? null));
    if (before === after || below.failed !== null || above.failed !== null) return [];
    return [`${quantityText(above.x, axis.unit, PLACE_DIGITS)} (${before} to ${after})`];
  });
  if (jumps.length === 0) return [];
  return [`${name} changes at ${listed(jumps)}`];
}

function fateWords(axis: Axis, marks: readonly SweepMark[]): string[] {
  const jumps = marks.filter(
    ({ below, above }) =>
      patternRegion(below.fates) !== patternRegion(above.fates) && below.fates !== null && above.fates !== null,
  );
  const [first] = jumps;
  if (first === undefined) return [];
  const times = jumps.length === 1 ? 'once' : `${jumps.length} times`;
  const at = quantityText(first.above.x, axis.unit, PLACE_DIGITS);
  const start = jumps.length === 1 ? 'at' : 'first at';
  return [
    `The pattern of fates changes ${times}, ${start} ${at}: from "${first.below.fates}" to "${first.above.fates}".`,
  ];
}

function listed(texts: readonly string[]): string {
  const rest = texts.length - TOLD_JUMPS;
  return rest > 0 ? `${texts.slice(0, TOLD_JUMPS).join(', ')} and ${rest} more places` : texts.join(', ');
}
