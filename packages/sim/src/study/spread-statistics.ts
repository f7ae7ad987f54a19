/** Shares of the samples that lie below the quantiles that are told. */
export const QUANTILES = [0.005, 0.025, 0.05, 0.25, 0.5, 0.75, 0.95, 0.975, 0.995] as const;

/** Most bins of a histogram. */
const MOST_BINS = 40;

/** 95 % of a normal distribution lie within this many standard deviations. */
const DEVIATIONS = 1.959963984540054;

/** One bin of a histogram: `from` belongs to it, `to` only to the last one. */
export interface Bin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** What can be said of a list of numbers; null where there are too few of them. */
export interface Statistics {
  readonly count: number;
  readonly mean: number | null;
  /** Standard deviation of the distribution, estimated from the samples (divided by their number less one). */
  readonly deviation: number | null;
  readonly least: number | null;
  readonly greatest: number | null;
  /** One for each of {@link QUANTILES}. */
  readonly quantiles: readonly (number | null)[];
  readonly bins: readonly Bin[];
}

/** Mean, standard deviation, quantiles and a histogram of numbers in any order. */
export function statisticsOf(values: readonly number[]): Statistics {
  const sorted = Float64Array.from(values).sort();
  const count = sorted.length;
  const mean = count === 0 ? null : meanOf(sorted);
  const squares = mean === null ? 0 : sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return {
    count,
    mean,
    deviation: count < 2 ? null : Math.sqrt(squares / (count - 1)),
    least: sorted[0] ?? null,
    greatest: sorted[count - 1] ?? null,
    quantiles: QUANTILES.map((share) => (count === 0 ? null : quantileOf(sorted, share))),
    bins: binsOf(sorted),
  };
}

/** The mean, summed about the first number so that many digits in common cost none. */
function meanOf(values: Float64Array): number {
  const first = values[0] ?? 0;
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length;
}

/** Linear between neighbours, definition 7 of R. J. Hyndman and Y. Fan, Sample quantiles in statistical packages, 1996. */
function quantileOf(sorted: Float64Array, share: number): number {
  const place = share * (sorted.length - 1);
  const index = Math.floor(place);
  const below = sorted[index] ?? NaN;
  const above = sorted[index + 1] ?? below;
  return below + (above - below) * (place - index);
}

/** Equal bins from the least to the greatest; where all are whole numbers and few, one for each of these. */
function binsOf(sorted: Float64Array): Bin[] {
  const [least = 0] = sorted;
  const greatest = sorted.at(-1) ?? 0;
  if (sorted.length === 0) return [];
  const whole = greatest - least < MOST_BINS && sorted.every(Number.isInteger);
  if (!whole && least === greatest) return [{ from: least, to: greatest, count: sorted.length }];
  const number = whole ? greatest - least + 1 : Math.max(1, Math.min(MOST_BINS, Math.ceil(Math.sqrt(sorted.length))));
  const start = whole ? least - 0.5 : least;
  const width = whole ? 1 : (greatest - least) / number;
  const counts = new Array<number>(number).fill(0);
  for (const value of sorted) counts[Math.min(number - 1, Math.floor((value - start) / width))]! += 1;
  const end = whole ? greatest + 0.5 : greatest;
  return counts.map((count, index) => ({
    from: start + index * width,
    to: index === number - 1 ? end : start + (index + 1) * width,
    count,
  }));
}

/**
 * Between what a share lies of which `count` out of `of` samples speak, with 95 % confidence: the score interval of E. B.
 * Wilson, Probable inference, the law of succession, and statistical inference, Journal of the American Statistical
 * Association 22 (1927), 209 to 212. Unlike the share plus or minus twice its deviation it stays within 0 and 1 and says
 * something even where all samples agree.
 */
export function wilsonInterval(count: number, of: number): readonly [low: number, high: number] {
  if (of === 0) return [0, 1];
  const share = count / of;
  const square = DEVIATIONS ** 2 / of;
  const middle = (share + square / 2) / (1 + square);
  const reach = (DEVIATIONS * Math.sqrt((share * (1 - share)) / of + square / (4 * of))) / (1 + square);
  return [count === 0 ? 0 : middle - reach, count === of ? 1 : middle + reach];
}
