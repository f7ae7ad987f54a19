import type { ClaimResult } from '../document/index.ts';
import { type QuantityAxis, quantityAxis, valueWords } from './quantity-axis.ts';
import { pixel } from './scale.ts';

type Course = ClaimResult['over'][number];
type Verdict = ClaimResult['verdict'];

/** A trial as a mark: what it came to tells its shape. */
export interface ClaimMark {
  readonly x: number;
  readonly y: number;
  readonly verdict: Verdict;
}

/** How far off a claim is along one of its values, laid out in pixels. */
export interface ClaimScene {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
  readonly x: QuantityAxis;
  readonly y: QuantityAxis;
  /** Where there is no error at all. */
  readonly zero: number;
  readonly path: string;
  readonly marks: readonly ClaimMark[];
  /** The stretch in which it holds. */
  readonly holds: readonly [number, number] | undefined;
  /** The stretch of this value in which it holds while others are changed as well. */
  readonly together: readonly [number, number] | undefined;
  /** Where the board stands now. */
  readonly now: number | undefined;
}

const HEIGHT = 120;
const TOP = 26;
const LINE = 24;
/** Errors smaller than this are not blown up to fill the height (share). */
const LEAST_ERROR = 0.01;

/**
 * Lays out a claim along a value that is a number; undefined along words, or where it has no error anywhere.
 *
 * @param claim the values that may be changed together, and how its sides are compared: only one that says that they are
 * equal can be in error.
 */
export function claimScene(
  course: Course,
  width: number,
  { box = null, relation = '=' }: Partial<Pick<ClaimResult, 'box' | 'relation'>> = {},
): ClaimScene | undefined {
  const { x: values, unit, scale, error, verdicts, holds, now } = course;
  const points = values.flatMap((at, index) =>
    typeof at === 'number' ? [{ at, error: error[index] ?? null, verdict: verdicts[index] ?? 'open' }] : [],
  );
  const errors = points.flatMap((point) => (point.error === null ? [] : [point.error]));
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || first === last || errors.length === 0) return undefined;
  const [low, high] = [Math.min(0, ...errors, -LEAST_ERROR), Math.max(0, ...errors, LEAST_ERROR)];
  const [left, right] = [54, Math.floor(width - 10)];
  const foot = TOP + HEIGHT;
  const x = quantityAxis({
    what: valueWords(course.value, unit),
    unit,
    from: first.at,
    until: last.at,
    isLogarithmic: scale === 'logarithmic',
    start: left,
    end: right,
    points: points.map(({ at }) => at),
  });
  const y = quantityAxis({
    what: relation === '=' ? 'error' : 'left side above the right',
    unit: 'share',
    from: low,
    until: high,
    isLogarithmic: false,
    start: foot - 4,
    end: TOP,
    spacing: LINE,
  });
  const zero = pixel(y.scale(0));
  const placed = points.map((point) => ({
    x: pixel(x.scale(point.at)),
    // What has no value stands on the axis below, apart from what is exactly right.
    y: point.error === null ? foot : pixel(y.scale(point.error)),
    verdict: point.verdict,
    isKnown: point.error !== null,
  }));
  const side = box?.sides.find((each) => each.value === course.value);
  const inside = typeof now === 'number' && now >= first.at && now <= last.at;
  return {
    width,
    height: foot + 44,
    left,
    right,
    top: TOP,
    foot,
    x,
    y,
    zero,
    path: placed
      .map((point, index) =>
        point.isKnown ? `${index > 0 && placed[index - 1]?.isKnown === true ? 'L' : 'M'}${point.x} ${point.y}` : '',
      )
      .join(''),
    marks: placed.map((point) => ({ x: point.x, y: point.y, verdict: point.verdict })),
    holds: holds === null ? undefined : [pixel(x.scale(holds.from)), pixel(x.scale(holds.to))],
    together: side === undefined || 'words' in side ? undefined : [pixel(x.scale(side.from)), pixel(x.scale(side.to))],
    now: inside ? pixel(x.scale(now)) : undefined,
  };
}
