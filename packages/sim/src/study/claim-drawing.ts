import { Arbitrary, check, property, type Random, sample, Stream, Value } from 'fast-check';
import type { Trial } from './claim-simplicity.ts';
import type { ClaimTrials } from './claim-trials.ts';

/** Makes what draws and shrinks the trials of claims. */
export function createClaimTrials(): ClaimTrials {
  return {
    draw: (sizes, seed, count) => sample(new TrialArbitrary(sizes), { seed: seed | 0, numRuns: count }),
    simplest(failing, fails) {
      const trials = property(new TrialArbitrary([]), (trial) => !fails(trial));
      // An example without the history of how it was drawn: shrinking hangs on its values alone.
      const found = check(trials, { examples: [[failing]], numRuns: 1, seed: 1 });
      return found.counterexample?.[0] ?? failing;
    },
  };
}

/** Trials as positions in lists of values, each equally likely. */
class TrialArbitrary extends Arbitrary<Trial> {
  readonly #sizes: readonly number[];

  constructor(sizes: readonly number[]) {
    super();
    this.#sizes = sizes;
  }

  generate(random: Random): Value<Trial> {
    return new Value(
      this.#sizes.map((size) => random.nextInt(0, size - 1)),
      undefined,
    );
  }

  canShrinkWithoutContext(value: unknown): value is Trial {
    return Array.isArray(value);
  }

  shrink(trial: Trial): Stream<Value<Trial>> {
    return new Stream(simpler(trial));
  }
}

/** Trials one step simpler than another, the simplest steps first. */
function* simpler(trial: Trial): Generator<Value<Trial>> {
  const moved = (index: number, position: number): Value<Trial> => new Value(trial.with(index, position), undefined);
  const off = [...trial.keys()].filter((index) => trial[index] !== 0);
  for (const index of off) yield moved(index, 0);
  for (const index of off) {
    for (let position = 1; position < (trial[index] ?? 0); position++) yield moved(index, position);
  }
}
