/** A straight map from values to pixels. */
export interface Scale {
  (value: number): number;
  /** The value at a pixel; the inverse. */
  invert(pixel: number): number;
}

/** The straight map that takes `from` to `start` and `until` to `end`. Equal ends of the domain map to the middle. */
export function linearScale(from: number, until: number, start: number, end: number): Scale {
  const span = until - from;
  const scale = (value: number): number =>
    span === 0 ? (start + end) / 2 : start + ((value - from) / span) * (end - start);
  return Object.assign(scale, {
    invert: (at: number): number => from + ((at - start) / (end - start)) * span,
  });
}

/**
 * A pixel as it is written into SVG: hundredths are finer than any screen. What lies on the middle between two of them to
 * rounding always goes the same way, so that nothing trembles that is worked out anew.
 */
export function pixel(value: number): number {
  return hundredths(value) / 100;
}

/** A pixel in hundredths, a whole number; see {@link pixel}. */
export function hundredths(value: number): number {
  return Math.round(Math.round(value * 1e7) / 1e5);
}

/** A pixel as text, as it stands in path data; see {@link pixel}. */
export function pixelText(value: number): string {
  return hundredthsText(hundredths(value));
}

/**
 * A pixel given in hundredths as text. Paths have thousands of numbers, and to write one as a sum of whole pixels and a
 * remainder from a table takes a fraction of the time that it takes to find the shortest digits of a double.
 *
 * @param count hundredths, a whole number.
 */
export function hundredthsText(count: number): string {
  const size = Math.abs(count);
  if (!(size < LARGEST)) return String(count / 100);
  const whole = Math.floor(size / 100);
  const text = whole + (REMAINDERS[size - whole * 100] ?? '');
  return count < 0 ? `-${text}` : text;
}

/** Up to here whole numbers are written the quick way; further out, in deep zooms, as any double. */
const LARGEST = 1e9;
/** What stands behind whole pixels, by hundredths: nothing, `.01`, and so on to `.99`. */
const REMAINDERS = Array.from({ length: 100 }, (_, count) => (count === 0 ? '' : String(count / 100).slice(1)));
