import { nearestPreferred, type Series, stepPreferred } from '@two-thirds/sim/quantity';
import { bounded, type KnobBounds } from './bounded-scale.ts';
import type { Measure } from './measure.ts';
import { openEnded } from './open-ended-scale.ts';

/** How a knob turns: what lies along its tape, and where it rests. */
export interface KnobScale {
  /** Equal turns multiply (`ratio`) or add (`sum`). */
  readonly law: 'ratio' | 'sum';
  /** Least and greatest value that can be turned to, SI units. */
  readonly least: number;
  readonly greatest: number;
  /** The resting value nearest to this one. */
  snap(value: number): number;
  /** The next resting value above (steps = 1), below (-1), and so on; never beyond least and greatest. */
  step(value: number, steps: number): number;
  /** Position along the tape: decades for `ratio`, resting steps for `sum`. Rises with the value. */
  position(value: number): number;
  /** The value at a position; the inverse of `position`, kept between least and greatest. */
  at(position: number): number;
  /** Resting values between two values, ascending, both ends included. */
  rests(from: number, until: number): number[];
}

/** Times people set: round numbers, about ten a decade. */
const ROUND_TIMES = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8];
/** A computed value misses its resting value by rounding only. */
const SAME = 1e-9;
/** A knob never turns out of what can be bought or waited for; typed values may. */
const ranges: Readonly<Partial<Record<Measure, readonly [number, number]>>> = {
  Ω: [0.1, 1e12],
  F: [1e-12, 10],
  s: [1e-9, 1e7],
  Hz: [1e-6, 1e9],
  H: [1e-9, 1e3],
  A: [1e-12, 1e3],
  C: [1e-15, 1],
  W: [1e-3, 1e3],
  number: [1e-3, 1e5],
};
/** The same of what begins with none of it: what stands in series, is late, draws or leaks. */
const rangesFromNone: Readonly<Partial<Record<Measure, readonly [number, number]>>> = {
  Ω: [0.1, 1e6],
  F: [1e-12, 1e-3],
  s: [1e-6, 1e3],
  Hz: [0.1, 1e6],
  A: [1e-9, 1],
  C: [1e-12, 1e-6],
};
/** And of what has no limit: nothing leaks, nothing ends. Volts and counts go in even steps. */
const rangesToNoLimit: Readonly<Partial<Record<Measure, readonly [number, number]>>> = {
  Ω: [1e3, 1e10],
  A: [1e-3, 10],
  V: [0, 36],
  count: [0, 24],
};
const seriesOf: Readonly<Partial<Record<Measure, Series>>> = { Ω: 'E24', F: 'E12', H: 'E12' };
/** Tolerances that parts are sold with (IEC 60062:2016, section 5, letters B to N). */
const TOLERANCES = [0.001, 0.0025, 0.005, 0.01, 0.02, 0.03, 0.05, 0.1, 0.2, 0.3];

/** A count above this is turned by ratio, along round whole numbers: nobody goes through thousands one by one. */
const LONG_COUNT = 24;
/** Round whole numbers, far beyond whatever is counted. */
const ROUND_COUNTS = Array.from({ length: 8 }, (_, decade) => ROUND_TIMES.map((each) => each * 10 ** decade))
  .flat()
  .filter(Number.isInteger);

/**
 * The scale of a knob for quantities of this kind: resistances along E24, capacitances along E12 (IEC 60063), times,
 * frequencies, currents and plain numbers along round numbers, all by ratio; tolerances as they are sold; shares in steps
 * of 5 %, counts in steps of one or, where they are large, along round whole numbers, everything else in even steps fit to
 * its size. What begins at none, or without a limit, has that as one end of its tape.
 *
 * @param nominal the value the knob stands at to begin with, SI units; even steps are a round number near 1/24 of it.
 * @param bounds where it stops before the end of the tape.
 */
export function knobScale(measure: Measure, nominal: number, bounds: KnobBounds = {}): KnobScale {
  return bounded(scaleOf(measure, nominal), bounds);
}

function scaleOf(measure: Measure, nominal: number): KnobScale {
  if (measure === 'tolerance') return listScale(TOLERANCES);
  if (measure === 'share') return evenScale(0.05, 0, 1);
  if (nominal === Infinity) {
    const range = rangesToNoLimit[measure] ?? [0, 1];
    const isEven = measure === 'V' || measure === 'count';
    return openEnded(isEven ? evenScale(measure === 'V' ? 0.5 : 1, ...range) : byRatio(measure, range), 'limit');
  }
  if (measure === 'count') return nominal > LONG_COUNT ? listScale(ROUND_COUNTS) : evenScale(1, 0, Infinity);
  const fromNone = nominal === 0 ? rangesFromNone[measure] : undefined;
  if (fromNone !== undefined) return openEnded(byRatio(measure, fromNone), 'none');
  const range = ranges[measure];
  if (range === undefined || !(nominal > 0)) return evenScale(evenStep(nominal), nominal < 0 ? -Infinity : 0, Infinity);
  return byRatio(measure, range);
}

function byRatio(measure: Measure, range: readonly [number, number]): KnobScale {
  const series = seriesOf[measure];
  return series === undefined
    ? ratioScale(range, nearestRound, stepRound)
    : ratioScale(
        range,
        (value) => nearestPreferred(value, series),
        (value, steps) => stepPreferred(value, series, steps),
      );
}

/** A scale by ratio that rests on these values alone, ascending. */
function listScale(values: readonly number[]): KnobScale {
  const ends = [values[0] ?? 0, values.at(-1) ?? 0] as const;
  const at = (index: number): number => values[Math.max(0, Math.min(values.length - 1, index))] ?? 0;
  const nearest = (value: number): number =>
    values.reduce((best, each) => (Math.abs(Math.log(each / value)) < Math.abs(Math.log(best / value)) ? each : best));
  const step = (value: number, steps: number): number => {
    const above = values.filter((each) => each < value * (1 - SAME)).length;
    const isRest = Math.abs(at(above) / value - 1) <= SAME;
    return at(above + steps - (steps > 0 && !isRest ? 1 : 0));
  };
  const scale = ratioScale(ends, nearest, step);
  return { ...scale, rests: (from, until) => values.filter((each) => each >= from && each <= until) };
}

function ratioScale(
  [least, greatest]: readonly [number, number],
  nearest: (value: number) => number,
  stepped: (value: number, steps: number) => number,
): KnobScale {
  const inside = (value: number): number => Math.min(greatest, Math.max(least, value));
  return {
    law: 'ratio',
    least,
    greatest,
    snap: (value) => inside(nearest(inside(value))),
    step: (value, steps) => inside(stepped(inside(value), steps)),
    position: (value) => Math.log10(inside(value)),
    at: (position) => inside(10 ** position),
    rests: (from, until) => {
      const found: number[] = [];
      const last = inside(until) * (1 + SAME);
      for (let value = nearest(inside(from)); value <= last; value = stepped(value, 1)) {
        if (value >= inside(from) * (1 - SAME)) found.push(value);
      }
      return found;
    },
  };
}

function evenScale(size: number, least: number, greatest: number): KnobScale {
  const inside = (value: number): number => Math.min(greatest, Math.max(least, value));
  // Twelve digits keep 0.1 + 0.2 at 0.3 and lose nothing that anybody sets.
  const multiple = (count: number): number => inside(Number((count * size).toPrecision(12)));
  return {
    law: 'sum',
    least,
    greatest,
    snap: (value) => multiple(Math.round(value / size)),
    step: (value, steps) => {
      const count = value / size;
      const from = steps > 0 ? Math.floor(count + SAME) : Math.ceil(count - SAME);
      return multiple(from + steps);
    },
    position: (value) => value / size,
    at: (position) => inside(position * size),
    rests: (from, until) => {
      const first = Math.ceil(inside(from) / size - SAME);
      const last = Math.floor(inside(until) / size + SAME);
      return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => multiple(first + index));
    },
  };
}

/** A step of 1, 2 or 5 times a power of ten, near 1/24 of the value: 0.5 V at 12 V, 0.2 V at 5 V. */
function evenStep(nominal: number): number {
  const wanted = Math.abs(nominal) / 24;
  if (!(wanted > 0)) return 0.5;
  const decade = 10 ** Math.floor(Math.log10(wanted));
  const mantissa = [1, 2, 5, 10].reduce((best, each) =>
    Math.abs(Math.log(each / (wanted / decade))) < Math.abs(Math.log(best / (wanted / decade))) ? each : best,
  );
  return Number((mantissa * decade).toPrecision(12));
}

function roundAt(index: number): number {
  const count = ROUND_TIMES.length;
  const decade = Math.floor(index / count);
  return Number(`${ROUND_TIMES[index - decade * count]}e${decade}`);
}

/** Number of the greatest round value that is not above this one. */
function roundBelow(value: number): number {
  const decade = Math.floor(Math.log10(value));
  let index = (decade + 1) * ROUND_TIMES.length;
  while (roundAt(index) > value * (1 + SAME)) index -= 1;
  return index;
}

function nearestRound(value: number): number {
  const below = roundAt(roundBelow(value));
  const above = roundAt(roundBelow(value) + 1);
  return value / below <= above / value ? below : above;
}

function stepRound(value: number, steps: number): number {
  const below = roundBelow(value);
  const onRound = roundAt(below) >= value * (1 - SAME);
  return roundAt(below + steps + (steps < 0 && !onRound ? 1 : 0));
}
