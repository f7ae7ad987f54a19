import { pixel, type Scale } from './scale.ts';

/** Samples that fall onto one column of pixels. */
interface Column {
  readonly first: number;
  last: number;
  low: number;
  high: number;
}

/**
 * Samples as SVG path data: one line through all of them, with the lowest and the highest where many fall onto one
 * column of pixels. It is broken where there is no sample and where samples are missing.
 *
 * @param times of the samples, ascending (s).
 * @param gaps stretches without samples (s).
 */
export function samplePath(
  times: readonly number[],
  values: readonly (number | null)[],
  x: Scale,
  y: Scale,
  gaps: readonly { readonly from: number; readonly until: number }[] = [],
): string {
  let path = '';
  let at = NaN;
  let column: Column | undefined;
  let isBroken = true;
  const put = (value: number): void => {
    path += `${isBroken ? 'M' : 'L'}${at} ${pixel(y(value))}`;
    isBroken = false;
  };
  const end = (): void => {
    if (column === undefined) return;
    const { first, last, low, high } = column;
    put(first);
    if (high > Math.max(first, last)) put(high);
    if (low < Math.min(first, last)) put(low);
    if (last !== first || high > first || low < first) put(last);
    column = undefined;
  };
  let before = -Infinity;
  for (const [index, time] of times.entries()) {
    const value = values[index] ?? null;
    const isGap = gaps.some(({ from, until }) => before <= from && time >= until);
    before = time;
    if (value === null || isGap) {
      end();
      isBroken = true;
    }
    if (value === null) continue;
    const here = Math.round(x(time) * 2) / 2;
    if (column !== undefined && here === at) {
      column.last = value;
      column.low = Math.min(column.low, value);
      column.high = Math.max(column.high, value);
      continue;
    }
    end();
    at = here;
    column = { first: value, last: value, low: value, high: value };
  }
  end();
  return path;
}

/** The band between the lowest and the highest sample of each stretch, closed; empty where every sample is kept. */
export function bandOf(
  times: readonly number[],
  low: readonly number[],
  high: readonly number[],
  x: Scale,
  y: Scale,
): string {
  if (low.every((value, index) => value === high[index])) return '';
  const edge = (values: readonly number[]): string[] =>
    times.map((time, index) => `${pixel(x(time))} ${pixel(y(values[index] ?? 0))}`);
  return `M${[...edge(high), ...edge(low).reverse()].join('L')}Z`;
}
