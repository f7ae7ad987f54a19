/** A stream of random numbers. The same seed always gives the same stream, on every machine. */
export interface RandomSource {
  /**
   * The next number, uniform in [0, 1), a multiple of 2^-53.
   * Needs no `this`, so that it can be handed on as a plain function.
   */
  readonly next: () => number;
}

/** Largest seed: the generator takes 32 bits. */
const LARGEST_SEED = 0xffff_ffff;

/** Words of the generator's state, and how far apart those are of which a new one is made. */
const WORDS = 624;
const MIDDLE = 397;

/**
 * The Mersenne Twister MT19937 (M. Matsumoto and T. Nishimura, Mersenne Twister, ACM Transactions on Modeling and Computer
 * Simulation 8 (1998), 3 to 30; constants of the state's beginning as in the reference implementation of 2002, from memory).
 * Its state is filled and turned no further than its outputs go: a study that draws two numbers for each of its samples, from
 * a stream of their own, would spend more on it than on anything else.
 */
class MersenneTwister {
  /** Words 0 to `filled - 1` have been made of the seed; those before `at` have been turned once more than the others. */
  private readonly state: number[];
  private filled = 1;
  private at = 0;

  constructor(seed: number) {
    this.state = [seed | 0];
  }

  /** The next output, as a whole number of 32 bits with a sign. */
  next(): number {
    const { state, at } = this;
    if (this.filled < WORDS) this.fill(Math.min(at + MIDDLE + 1, WORDS));
    const next = at + 1 === WORDS ? 0 : at + 1;
    const middle = at + MIDDLE < WORDS ? at + MIDDLE : at + MIDDLE - WORDS;
    const joined = (state[at]! & 0x8000_0000) | (state[next]! & 0x7fff_ffff);
    let word = state[middle]! ^ (joined >>> 1) ^ ((joined & 1) === 0 ? 0 : 0x9908_b0df);
    state[at] = word;
    this.at = next;
    word ^= word >>> 11;
    word ^= (word << 7) & 0x9d2c_5680;
    word ^= (word << 15) & 0xefc6_0000;
    return word ^ (word >>> 18);
  }

  private fill(end: number): void {
    const { state } = this;
    let word = state[this.filled - 1]!;
    for (let index = this.filled; index < end; index++) {
      word = (Math.imul(1_812_433_253, word ^ (word >>> 30)) + index) | 0;
      state.push(word);
    }
    this.filled = Math.max(this.filled, end);
  }
}

/**
 * Random numbers from a seed: the Mersenne Twister, two 32-bit outputs a number.
 *
 * 27 bits of the first output and 26 of the second make 53 bits, all that a double holds in
 * [0, 1): `(a 2^26 + b) / 2^53` (from memory: M. Matsumoto and T. Nishimura, the reference
 * implementation of MT19937, 53-bit resolution). Small seeds are as good as large ones, because
 * the seed is spread over the whole state before the first output.
 *
 * @param seed a whole number from 0 to 4294967295.
 * @throws RangeError for any other seed, because rounding it would let two seeds give one stream.
 */
export function seededRandom(seed: number): RandomSource {
  if (!Number.isInteger(seed) || seed < 0 || seed > LARGEST_SEED) {
    throw new RangeError(
      `seededRandom: seed must be a whole number from 0 to ${LARGEST_SEED}; got ${String(seed)}. Use for example 1.`,
    );
  }
  const generator = new MersenneTwister(seed);
  return {
    next: () => {
      const high = generator.next() >>> 5;
      const low = generator.next() >>> 6;
      return (high * 2 ** 26 + low) / 2 ** 53;
    },
  };
}
