import fc from 'fast-check';
import { overDecades } from './random-values.ts';

/** A tenth of the runs that other properties get: the circuits are integrated a second time each. */
const fewRuns = Math.ceil(Number(process.env['LAWS_RUNS'] ?? 100) / 10);
const factors = fc.array(overDecades(0.5, 2), { minLength: 12, maxLength: 12 });

/** Runs a check over random factors from a half to two, at most twelve a run; `factor()` gives the next one. */
export function overFactors(seed: number, check: (factor: () => number) => void): void {
  fc.assert(
    fc.property(factors, (list) => {
      let next = 0;
      check(() => list[next++]!);
    }),
    { seed, numRuns: fewRuns },
  );
}
