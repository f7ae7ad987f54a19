/** Calls in one sample: about two milliseconds, short enough that some samples fall into a quiet moment of the machine. */
const CALLS = 200_000;

/**
 * Cost of one `Math.exp` in nanoseconds on this machine, now: one short sample. Benchmarks divide by the least of many,
 * taken in turn with what they measure, so that their limits hold on slow, fast and busy machines alike.
 *
 * The arguments run over [-8, 0), where the decays of a circuit lie, and each one differs, so that nothing is reused;
 * the results are summed, so that nothing is optimised away. The loop around the call counts as part of the cost.
 */
export function expCost(): number {
  const step = 8 / CALLS;
  let sum = 0;
  const start = process.hrtime.bigint();
  for (let call = 0; call < CALLS; call += 1) sum += Math.exp(-8 + call * step);
  const nanoseconds = Number(process.hrtime.bigint() - start);
  // The integral of exp over [-8, 0] is just under 1, so the sum times the step must be as well.
  if (!(Math.abs(sum * step - 1) < 0.01)) throw new Error(`expCost: the sum must be near 1; got ${sum * step}.`);
  return nanoseconds / CALLS;
}
