import { type Unit, withMinus } from '../quantity/index.ts';

/** A place on an axis with its text. */
export interface Tick {
  /** In SI units. */
  readonly at: number;
  readonly label: string;
}

/** A tick in pixels. */
export interface PlacedTick {
  readonly at: number;
  readonly label: string;
}

/** An axis: its ticks, and the quantity with its unit in words. */
export interface Axis {
  readonly ticks: readonly Tick[];
  readonly title: string;
}

/** Units an axis of time may be counted in: the first that gives the greatest time at least 1. */
const timeUnits: readonly (readonly [seconds: number, from: number, name: string])[] = [
  [86_400, 259_200, 'days'],
  [3_600, 10_800, 'hours'],
  [60, 600, 'minutes'],
  [1, 1, 'seconds'],
  [1e-3, 1e-3, 'milliseconds'],
  [1e-6, 1e-6, 'microseconds'],
  [1e-9, 0, 'nanoseconds'],
];

/** Words for the unit of an upright axis, with the prefix that fits its values. */
const unitWords: Readonly<Partial<Record<Unit, string>>> = { V: 'volts', A: 'amperes', s: 'seconds', Ω: 'ohms' };
const prefixWords: readonly (readonly [number, string])[] = [
  [1, ''],
  [1e-3, 'milli'],
  [1e-6, 'micro'],
  [1e-9, 'nano'],
  [1e-12, 'pico'],
];

/** Usual room from tick to tick along the axis of time, and of one digit of a label (pixels). */
const TICK_SPACING = 80;
const DIGIT = 7.5;

/** By how much the ticks may exceed their number, so that 8.0001 V still gets steps of 2 V rather than 5 V. */
const OVER = 0.05;

/**
 * Round places from `from` to `until`, about `most` of them at the most, in steps of 1, 2 or 5 times a power of ten; each with the
 * digits its step needs.
 *
 * @param unit what 1 on the labels stands for, in the unit of `from` and `until`.
 */
export function roundTicks(from: number, until: number, most: number, unit = 1): Tick[] {
  const span = (until - from) / unit;
  if (!(span > 0) || !Number.isFinite(span) || most < 1) return [];
  const smallest = span / most;
  const decade = Math.floor(Math.log10(smallest));
  const mantissa = [1, 2, 5, 10].find((each) => each * 10 ** decade >= smallest * (1 - OVER)) ?? 10;
  const step = mantissa * 10 ** decade;
  const digits = Math.max(0, -(decade + (mantissa === 10 ? 1 : 0)));
  const first = Math.ceil(from / unit / step - 1e-6);
  const last = Math.floor(until / unit / step + 1e-6);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => {
    // Counting steps keeps the thousandth tick as exact as the first; `+ 0` turns -0 into 0.
    const value = (first + index) * step + 0;
    return { at: value * unit, label: withMinus(value.toFixed(Math.min(20, digits))) };
  });
}

/** The axis of time for a window, with about one tick every 80 pixels, fewer where the labels are long. */
export function timeAxis(from: number, until: number, width: number): Axis {
  const greatest = Math.max(Math.abs(from), Math.abs(until));
  const [unit, , name] = timeUnits.find((each) => greatest >= each[1]) ?? [1, 1, 'seconds'];
  const title = `time in ${name}`;
  let ticks: Tick[] = [];
  // A wider spacing may need fewer digits, never more, so this comes to rest.
  for (let spacing = TICK_SPACING; spacing < width; spacing *= 1.5) {
    ticks = roundTicks(from, until, Math.max(2, Math.floor(width / spacing)), unit);
    const longest = ticks.reduce((most, { label }) => Math.max(most, label.length), 0);
    if ((longest * DIGIT + 16) * ticks.length <= width) break;
  }
  return { ticks, title };
}

/** The upright axis of a lane: few ticks, and the unit in words with the prefix that fits the values. */
export function valueAxis(low: number, high: number, unit: Unit, height: number): Axis {
  const greatest = Math.max(Math.abs(low), Math.abs(high));
  const [size, prefix] = prefixWords.find(([each]) => greatest >= each) ?? [1, ''];
  const ticks = roundTicks(low, high, Math.max(2, Math.floor(height / 28)), size);
  return { ticks, title: prefix + (unitWords[unit] ?? unit) };
}
