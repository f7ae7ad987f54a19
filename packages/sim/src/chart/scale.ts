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
  return Math.round(Math.round(value * 1e7) / 1e5) / 100;
}
