/** Digits after the point: times and capacitances go down to fractions of a picosecond and picofarad. */
const DIGITS = 16;

/** A number as accessibility attributes take it: without an exponent. */
export function plainNumber(value: number): string {
  return value.toFixed(DIGITS).replace(/\.?0+$/, '');
}
