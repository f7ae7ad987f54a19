import { type RandomSource, seededRandom } from '../core/random.ts';

/** Seeds and numbers of jobs are 32-bit whole numbers. */
const WORDS = 2 ** 32;

/**
 * The random numbers of one job of a study: they follow from the study's seed and the job's number alone, so that jobs may
 * run in any order and anywhere. Within one study no two jobs share a stream: the number is spread over 32 bits by steps
 * that can be undone.
 *
 * @param seed a whole number from 0 to 4294967295.
 * @param index number of the job, a whole number from 0 to 4294967295.
 * @throws RangeError for other seeds and numbers.
 */
export function jobRandom(seed: number, index: number): RandomSource {
  for (const [name, number] of [
    ['seed', seed],
    ['index', index],
  ] as const) {
    if (Number.isInteger(number) && number >= 0 && number < WORDS) continue;
    throw new RangeError(
      `jobRandom: ${name} must be a whole number from 0 to ${WORDS - 1}; got ${String(number)}. Use for example 1.`,
    );
  }
  return seededRandom(scattered((scattered(seed) + index) % WORDS));
}

/**
 * Spreads neighbouring numbers over all 32 bits, one to one: multiplying by odd numbers and shifting onto itself can both be
 * undone. The constants are those of the finisher of MurmurHash3 by A. Appleby (public domain; from memory).
 */
function scattered(word: number): number {
  let bits = word ^ (word >>> 16);
  bits = Math.imul(bits, 0x85ebca6b);
  bits ^= bits >>> 13;
  bits = Math.imul(bits, 0xc2b2ae35);
  bits ^= bits >>> 16;
  return bits >>> 0;
}
