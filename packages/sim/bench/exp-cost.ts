/** Calls in one sample: long enough (some milliseconds) that the clock's own grain does not show. */
const callsPerSample = 1_000_000;

/** Odd, so that the median is a sample; enough to shrug off a sample that another program disturbed. */
const samples = 7;

/**
 * Cost of one `Math.exp` in nanoseconds on this machine, now: the median of seven samples. Benchmarks divide by it, so
 * that their limits hold on slow and fast machines alike.
 *
 * The arguments run over [-8, 0), where the decays of a circuit lie, and each one differs, so that nothing is reused;
 * the results are summed, so that nothing is optimised away. The loop around the call counts as part of the cost.
 */
export function expCost(): number {
  sampleExp();
  const costs = Array.from({ length: samples }, sampleExp).sort((a, b) => a - b);
  return costs[(samples - 1) / 2] ?? Number.NaN;
}

function sampleExp(): number {
  const step = 8 / callsPerSample;
  let sum = 0;
  const start = process.hrtime.bigint();
  for (let call = 0; call < callsPerSample; call += 1) sum += Math.exp(-8 + call * step);
  const nanoseconds = Number(process.hrtime.bigint() - start);
  // The integral of exp over [-8, 0] is just under 1, so the sum times the step must be as well.
  if (!(Math.abs(sum * step - 1) < 0.01)) throw new Error(`expCost: the sum must be near 1; got ${sum * step}.`);
  return nanoseconds / callsPerSample;
}
