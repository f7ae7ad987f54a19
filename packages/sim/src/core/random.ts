import { mersenne } from 'pure-rand/generator/mersenne';

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

/**
 * Random numbers from a seed: the Mersenne Twister MT19937, two 32-bit outputs a number.
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
  const generator = mersenne(seed);
  return {
    next: () => {
      const high = generator.next() >>> 5;
      const low = generator.next() >>> 6;
      return (high * 2 ** 26 + low) / 2 ** 53;
    },
  };
}
