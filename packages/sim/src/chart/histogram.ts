import type { SpreadReading } from '../document/index.ts';
import { pointText } from './point-text.ts';
import { type QuantityAxis, quantityAxis } from './quantity-axis.ts';
import { pixel } from './scale.ts';

/** A bar of a histogram. */
interface HistogramBar {
  readonly x: number;
  readonly width: number;
  readonly top: number;
  /** Whether it lies outside the limits that were asked for. */
  readonly isOutside: boolean;
}

/** A place along a histogram with its name. */
export interface HistogramMark {
  readonly kind: 'limit' | 'worst' | 'now';
  readonly at: number;
  readonly label: string;
  /** Whether the name stands left of the place, else right of it. */
  readonly isLeft: boolean;
}

/** The distribution of one reading, laid out in pixels. */
export interface HistogramScene {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
  readonly axis: QuantityAxis;
  readonly bars: readonly HistogramBar[];
  readonly marks: readonly HistogramMark[];
  /** From the 5 % quantile to the 95 % quantile, where they are known. */
  readonly middle: readonly [number, number] | undefined;
}

const HEIGHT = 110;
const TOP = 24;
const AIR = 0.04;
/** Room of a letter of a name, and between a name and its line (pixels). */
const LETTER = 6.8;
const GAP = 5;

/** Lays out the histogram of a reading; undefined where no sample has a value. */
export function histogramScene(reading: SpreadReading, width: number): HistogramScene | undefined {
  const { bins, worst, limits, now, unit, name } = reading;
  const places = [
    ...bins.flatMap(({ from, to }) => [from, to]),
    ...[worst.least?.value, worst.greatest?.value, now, limits?.low, limits?.high].filter(
      (at) => typeof at === 'number',
    ),
  ];
  if (bins.length === 0) return undefined;
  const [least, most] = [Math.min(...places), Math.max(...places)];
  const air = (most - least || Math.abs(most) || 1) * AIR;
  const [left, right] = [6, Math.floor(width - 10)];
  const foot = TOP + HEIGHT;
  const axis = quantityAxis({
    what: name,
    unit,
    from: least - air,
    until: most + air,
    isLogarithmic: false,
    start: left,
    end: right,
  });
  const highest = Math.max(...bins.map(({ count }) => count), 1);
  const x = (value: number): number => pixel(axis.scale(value));
  const quantile = (share: number): number | undefined =>
    reading.quantiles.find((each) => Math.abs(each.share - share) < 1e-9)?.value;
  const [low, high] = [quantile(0.05), quantile(0.95)];
  return {
    width,
    height: foot + 44,
    left,
    right,
    top: TOP,
    foot,
    axis,
    bars: bins
      .filter(({ count }) => count > 0)
      .map(({ from, to, count }) => ({
        x: x(from),
        width: Math.max(1.5, x(to) - x(from) - 1),
        top: pixel(foot - (count / highest) * HEIGHT),
        isOutside: isBeyond((from + to) / 2, limits),
      })),
    marks: [
      mark('limit', limits?.low, 'at least'),
      mark('limit', limits?.high, 'at most'),
      mark('worst', worst.least?.value, 'least'),
      mark('worst', worst.greatest?.value, 'greatest'),
      mark('now', now, 'as it stands'),
    ].flatMap((each) => (each === undefined ? [] : [each])),
    middle: low === undefined || high === undefined ? undefined : [x(low), x(high)],
  };

  function mark(
    kind: HistogramMark['kind'],
    value: number | null | undefined,
    words: string,
  ): HistogramMark | undefined {
    if (value === null || value === undefined) return undefined;
    const at = x(value);
    const label = `${words} ${pointText(value, unit, 4)}`;
    const needed = label.length * LETTER + GAP;
    // Outward where there is room, so that the names of two limits never meet; worst cases are at the very ends.
    const [fitsLeft, fitsRight] = [at - left > needed, right - at > needed];
    return { kind, at, label, isLeft: value === limits?.low ? fitsLeft : !fitsRight };
  }
}

function isBeyond(value: number, limits: SpreadReading['limits']): boolean {
  if (limits === null) return false;
  return (limits.low !== null && value < limits.low) || (limits.high !== null && value > limits.high);
}
