import type { Frame } from './frame.ts';

/**
 * Keeps one copy of every frame a run uses. Frames are told apart by what they hold, so it does not matter whether the
 * engine hands over the same object, changes one in place or builds a new one.
 */
export class FrameStore {
  readonly #frames: Frame[] = [];
  readonly #byHash = new Map<number, number[]>();
  #latest = 0;
  /** Doubles held by all copies together. */
  numbers = 0;

  /** The number of the copy that equals this frame; makes one if there is none yet. */
  keep(frame: Frame): number {
    const latest = this.#frames[this.#latest];
    if (latest !== undefined && sameFrame(latest, frame)) return this.#latest;
    const hash = hashOf(frame);
    const candidates = this.#byHash.get(hash) ?? [];
    let found = candidates.find((index) => sameFrame(this.#frames[index]!, frame));
    if (found === undefined) {
      found = this.#frames.length;
      this.#frames.push({
        rates: frame.rates.slice(),
        rows: frame.rows.slice(),
        constants: frame.constants.slice(),
        slopes: frame.slopes.slice(),
      });
      this.numbers += frame.rates.length + frame.rows.length + frame.constants.length + frame.slopes.length;
      this.#byHash.set(hash, [...candidates, found]);
    }
    this.#latest = found;
    return found;
  }

  /** The copy with this number. */
  get(index: number): Frame {
    return this.#frames[index]!;
  }
}

function sameFrame(a: Frame, b: Frame): boolean {
  return (
    sameNumbers(a.constants, b.constants) &&
    sameNumbers(a.slopes, b.slopes) &&
    sameNumbers(a.rates, b.rates) &&
    sameNumbers(a.rows, b.rows)
  );
}

function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
}

const bits = new Uint32Array(2);
const double = new Float64Array(bits.buffer);

/** FNV-1a over the bit patterns of what changes most between frames; the constants are those of the 32-bit form, from memory. */
function hashOf(frame: Frame): number {
  let hash = 0x811c9dc5;
  for (const numbers of [frame.constants, frame.slopes, frame.rates]) {
    for (const value of numbers) {
      double[0] = value;
      hash = Math.imul(hash ^ bits[0]!, 0x01000193);
      hash = Math.imul(hash ^ bits[1]!, 0x01000193);
    }
  }
  return hash >>> 0;
}
