import fc from 'fast-check';

/** Numbers spread evenly over the decades between two bounds. */
export function overDecades(least: number, greatest: number): fc.Arbitrary<number> {
  return fc
    .double({ min: Math.log(least), max: Math.log(greatest), noNaN: true })
    .map((logarithm) => Math.min(greatest, Math.max(least, Math.exp(logarithm))));
}

/** Numbers spread evenly between two bounds. */
export function between(least: number, greatest: number): fc.Arbitrary<number> {
  return fc.double({ min: least, max: greatest, noNaN: true });
}

/** The ranges that experiment boards use: 1 kΩ to 10 MΩ, 100 pF to 10 mF, 4.5 V to 16 V. */
export const ohms = overDecades(1e3, 10e6);
/** See {@link ohms}. */
export const farads = overDecades(100e-12, 10e-3);
/** See {@link ohms}. */
export const volts = between(4.5, 16);
