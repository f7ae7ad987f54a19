import { formatQuantity, spokenName, type Unit, unitPlurals, withMinus } from '../quantity/index.ts';
import { linearScale, pixel, type Scale } from './scale.ts';
import { type PlacedTick, roundTicks, type Tick } from './ticks.ts';

/** An axis of one quantity, placed on the page. */
export interface QuantityAxis {
  /** From values (SI) to pixels and back. */
  readonly scale: Scale;
  readonly ticks: readonly PlacedTick[];
  /** The quantity and its unit in words. */
  readonly title: string;
}

/** What an axis is made of. */
export interface AxisPlan {
  /** What is measured, in words, for example `resistance of R1`. */
  readonly what: string;
  readonly unit: Unit | null;
  /** Least and greatest value (SI). */
  readonly from: number;
  readonly until: number;
  readonly isLogarithmic: boolean;
  /** Pixels of the two ends. */
  readonly start: number;
  readonly end: number;
  /** Values to mark if there is room for all of them: the points that were computed. */
  readonly points?: readonly number[];
  /** Room that a tick needs: along its text, or as many pixels as given where texts stand above each other. */
  readonly spacing?: number;
}

const prefixWords: readonly (readonly [size: number, word: string])[] = [
  [1e9, 'giga'],
  [1e6, 'mega'],
  [1e3, 'kilo'],
  [1, ''],
  [1e-3, 'milli'],
  [1e-6, 'micro'],
  [1e-9, 'nano'],
  [1e-12, 'pico'],
];
/** Written without the vowel in the middle. */
const shortened: Readonly<Record<string, string>> = { kiloohms: 'kilohms', megaohms: 'megohms' };
/** What a part's main value is. */
const quantityWords: Readonly<Partial<Record<Unit, string>>> = {
  Ω: 'resistance',
  F: 'capacitance',
  H: 'inductance',
  V: 'voltage',
  s: 'time',
  Hz: 'frequency',
};
/** Mantissas of ticks along a logarithmic axis, from the finest to the coarsest set. */
const MANTISSAS = [[1, 2, 3, 5, 7], [1, 2, 5], [1, 3], [1]];
/** Beyond this ratio of its ends a logarithmic axis has a prefix on every label instead of one for all. */
const ONE_PREFIX = 500;
const DIGIT = 7.2;
const GAP = 14;
const LONGEST_POINT = 5;
/** Steps that people count in, times a power of ten. */
const ROUND_STEPS = [1, 2, 2.5, 4, 5];
/** How far a label may go over the end of its chart (pixels). */
const OVERHANG = 4;

/** What a value of a board is in words: `R1` in ohms is the resistance of R1, `G1.wave.period` the period of G1. */
export function valueWords(name: string, unit: Unit | null): string {
  const [part = name, ...steps] = spokenName(name).split(' ');
  const words = steps.join(' ');
  const what = words === '' ? (unit === null ? undefined : quantityWords[unit]) : words;
  return what === undefined ? name : `${what} of ${part}`;
}

/** Lays out an axis: as many round ticks as there is room for, or the points themselves where all of them fit. */
export function quantityAxis(plan: AxisPlan): QuantityAxis {
  const { what, unit, isLogarithmic, points = [] } = plan;
  const scale = axisScale(plan);
  const ownPrefix = isLogarithmic && unit !== null && plan.until / plan.from > ONE_PREFIX;
  const [size, words] = ownPrefix ? [1, ''] : sizeOf(unit, Math.max(Math.abs(plan.from), Math.abs(plan.until)));
  const label = (at: number): string =>
    ownPrefix && unit !== null ? formatQuantity(at, unit, { exact: true }) : String(Number((at / size).toPrecision(6)));
  const own = alike(
    points.map((at) => ({ at, label: label(at) })),
    isLogarithmic,
  );
  const isShort = own.every((tick) => ownPrefix || tick.label.length <= LONGEST_POINT);
  const choices = [
    ...(own.length > 1 && isShort && (isLogarithmic || !hasOddSteps(points)) ? [own] : []),
    ...(isLogarithmic ? MANTISSAS.map((each) => logarithmicTicks(plan, each, label)) : []).filter(
      (ticks) => ticks.length > 2,
    ),
    ...[16, 12, 10, 8, 6, 5, 4, 3, 2].map((most) => roundTicks(plan.from, plan.until, most, size)),
  ];
  const place = (ticks: readonly Tick[]): PlacedTick[] =>
    ticks.map((tick) => ({ at: pixel(scale(tick.at)), label: tick.label }));
  const placed = choices.map(place);
  const ticks = placed.find((each) => each.length > 1 && fits(each, plan.spacing)) ?? placed.at(-1) ?? [];
  return { scale, ticks, title: words === '' ? what : `${what} in ${words}` };
}

/** Labels along an even axis with equally many decimals each. */
function alike(ticks: readonly Tick[], isLogarithmic: boolean): readonly Tick[] {
  if (isLogarithmic) return ticks;
  const decimals = Math.max(0, ...ticks.map(({ label }) => label.split('.')[1]?.length ?? 0));
  return ticks.map(({ at, label }) => ({ at, label: withMinus(Number(label).toFixed(decimals)) }));
}

/** Whether points lie evenly in steps that nobody counts in, such as 12: round places between them are read more easily. */
function hasOddSteps(points: readonly number[]): boolean {
  const steps = points.slice(1).map((at, index) => at - points[index]!);
  const [step = 1] = steps;
  if (!steps.every((each) => Math.abs(each - step) < 1e-6 * Math.abs(step))) return false;
  const mantissa = Math.abs(step) / 10 ** Math.floor(Math.log10(Math.abs(step)) + 1e-9);
  return ROUND_STEPS.every((round) => Math.abs(mantissa - round) > 1e-6);
}

/** Where the middle of a tick's label is put, so that it goes over the right end of its chart by no more than a few pixels. */
export function labelPlace({ at, label }: PlacedTick, right: number): number {
  return Math.min(at, right + OVERHANG - (label.length * DIGIT) / 2);
}

function axisScale({ from, until, isLogarithmic, start, end }: AxisPlan): Scale {
  if (!isLogarithmic) return linearScale(from, until, start, end);
  const straight = linearScale(Math.log10(from), Math.log10(until), start, end);
  const scale = (value: number): number => straight(Math.log10(value));
  return Object.assign(scale, { invert: (at: number): number => 10 ** straight.invert(at) });
}

/** What 1 stands for on an axis, and its name. */
function sizeOf(unit: Unit | null, greatest: number): readonly [number, string] {
  if (unit === null) return [1, ''];
  if (unit === 'share') return [0.01, 'per cent'];
  const [size, prefix] = prefixWords.find(([each]) => greatest >= each) ?? [1, ''];
  const words = prefix + unitPlurals[unit];
  return [size, shortened[words] ?? words];
}

function logarithmicTicks(
  { from, until }: AxisPlan,
  mantissas: readonly number[],
  label: (at: number) => string,
): Tick[] {
  const ticks: Tick[] = [];
  for (let decade = Math.floor(Math.log10(from)); 10 ** decade <= until; decade++) {
    for (const mantissa of mantissas) {
      const at = Number(`${mantissa}e${decade}`);
      if (at >= from * (1 - 1e-9) && at <= until * (1 + 1e-9)) ticks.push({ at, label: label(at) });
    }
  }
  return ticks;
}

function fits(ticks: readonly PlacedTick[], spacing: number | undefined): boolean {
  return ticks.every((tick, index) => {
    const before = ticks[index - 1];
    if (before === undefined) return true;
    const room = spacing ?? ((tick.label.length + before.label.length) / 2) * DIGIT + GAP;
    return Math.abs(tick.at - before.at) >= room;
  });
}
