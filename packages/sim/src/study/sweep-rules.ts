import { percentText, spokenName, type Unit } from '../quantity/index.ts';
import type { Axis } from './axis.ts';
import { errorText } from './claim-words.ts';
import type { SweepOutcome, SweepPoint } from './sweep.ts';
import { quantityText } from './sweep-words.ts';

/** Digits of a reading and a rule that are told side by side. */
const DIGITS = 4;

/** A rule of thumb for one reading of a sweep. */
export interface SweepRule {
  /** Position of the reading in the plan. */
  readonly index: number;
  /** The rule as written: `1.1 * R1 * C1`. */
  readonly text: string;
  /** What it gives with this value of the axis, in the SI unit of the reading; not finite where it gives nothing. */
  readonly at: (x: number) => number;
}

/** Where a reading is furthest from its rule, SI units. */
interface RuleError {
  readonly x: number;
  readonly reading: number;
  readonly rule: number;
  /** (reading - rule) / |rule|. */
  readonly error: number;
}

/** A rule of thumb beside the readings of a sweep. Plain data. */
export interface RuleCourse {
  /** What the rule gives at each point (SI); null where it gives nothing. */
  readonly values: readonly (number | null)[];
  /** (reading - rule) / |rule| at each point, a share; null where one of them has no value or the rule gives 0. */
  readonly error: readonly (number | null)[];
  /** The largest error in size, at points and at both sides of jumps; null where there is none at all. */
  readonly greatest: RuleError | null;
}

/** Holds a rule of thumb against what a sweep has found. */
export function ruleCourse({ index, at }: SweepRule, { points, marks }: SweepOutcome): RuleCourse {
  const values = points.map(({ x }) => finite(at(x)));
  const off = (point: SweepPoint): RuleError | null => {
    const [reading, rule] = [point.measured[index]?.value ?? null, finite(at(point.x))];
    if (typeof reading !== 'number' || rule === null || rule === 0) return null;
    return { x: point.x, reading, rule, error: (reading - rule) / Math.abs(rule) };
  };
  const sides = marks.flatMap(({ below, above }) => [below, above]);
  const all = [...points, ...sides].map(off).filter((each) => each !== null);
  return {
    values,
    error: points.map((point) => off(point)?.error ?? null),
    greatest: all.reduce<RuleError | null>(
      (most, each) => (most === null || Math.abs(each.error) > Math.abs(most.error) ? each : most),
      null,
    ),
  };
}

/** How far a reading is from its rule, in a sentence with the numbers of the sweep. */
export function ruleWords(
  axis: Axis,
  { name, unit }: { readonly name: string; readonly unit: Unit | null },
  { text }: SweepRule,
  { greatest }: RuleCourse,
): string {
  if (greatest === null) return `Nowhere is there both ${name} and ${text}.`;
  const { x, reading, rule, error } = greatest;
  const off = errorText(error);
  if (error === 0 || off === percentText(0)) return `${name} is what ${text} gives throughout.`;
  const at = `${spokenName(axis.name)} of ${quantityText(x, axis.unit, DIGITS)}`;
  const sides = `${quantityText(reading, unit, DIGITS)} against ${quantityText(rule, unit, DIGITS)}`;
  return `${name} is furthest from ${text} at ${at}: ${sides}, an error of ${off}.`;
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
