/** Two-sided 95 % points of Student's t for 1 to 6 degrees of freedom (common statistical tables, from memory). */
const FEW = [12.7062, 4.30265, 3.18245, 2.77645, 2.57058, 2.44691];
/** Two-sided 95 % point of the normal distribution. */
const NORMAL = 1.959964;

/**
 * How many standard uncertainties to either side hold the true value 95 times in 100, when the uncertainty itself was
 * estimated with so many degrees of freedom: the 97.5 % point of Student's t, to 1e-3 of it (expansion in 1 / degrees:
 * Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5, from memory).
 *
 * @param degrees a whole number above 0; Infinity where the uncertainty was known beforehand.
 */
export function coverageFactor(degrees: number): number {
  const tabled = FEW[degrees - 1];
  if (tabled !== undefined) return tabled;
  const z = NORMAL;
  const terms = [
    (z ** 3 + z) / 4,
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96,
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384,
  ];
  return terms.reduce((sum, term, index) => sum + term / degrees ** (index + 1), z);
}
