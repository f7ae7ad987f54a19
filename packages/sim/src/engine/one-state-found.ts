import type { GuardCheck } from './guard-check.ts';
import type { Place } from './one-state-place.ts';

/** In place of a guard's number where there is none. */
export const NONE = -1;

/** States of a place that are remembered: a run that repeats itself comes through it a few times in a period. */
const MOST_FOUND = 8;

/** What a place leads to when it is entered with a state. Fields, for they are written over again and again. */
export class Found {
  /** The state, its rounding beyond the ordinary, and the only way back that counts, or NONE. */
  entered = Number.NaN;
  noise = 0.5;
  back = NONE;
  /** Guard that fires at once, or NONE. */
  atOnce = NONE;
  /** How long until a moving guard fires (s; Infinity if none does), which one (its position), and the state then. */
  length = Infinity;
  ending = NONE;
  last = 0.5;
}

/** Finds what places lead to, each state of a place once: what follows is the same whenever it comes again, bit for bit. */
export class Outlook {
  private readonly amplitudes = new Float64Array(1);
  /** The state with which the place was entered. A field: numbers handed over in a call cost memory. */
  z = 0.5;

  constructor(private readonly check: GuardCheck) {}

  /**
   * What a place leads to that was entered with `z`, just now or some time ago; undefined where that is beyond closed forms.
   * Rounding and ways back matter only to what fires at once.
   */
  of(place: Place, justNow: boolean): Found | undefined {
    const { latest, found } = place;
    if (this.fits(latest, justNow)) return latest;
    for (let i = 0; i < found.length; i++) {
      const each = found[i]!;
      if (this.fits(each, justNow)) return (place.latest = each);
    }
    const room = roomFor(place);
    if (!this.find(place, room)) {
      room.entered = Number.NaN;
      return undefined;
    }
    return (place.latest = room);
  }

  private fits(found: Found, justNow: boolean): boolean {
    if (found.entered !== this.z) return false;
    const { noise, back } = this.check;
    return !justNow || (found.noise === noise && found.back === back.latest && back.count <= 1);
  }

  /** Whether there is a closed form. */
  private find({ situation, rate, rest, moving, reach }: Place, found: Found): boolean {
    const { z, check, amplitudes } = this;
    if (Math.abs(z) > reach) return false;
    const { constants, tolerances, scales } = situation;
    amplitudes[0] = z - rest;
    const { count, latest } = check.back;
    found.entered = count > 1 ? Number.NaN : z;
    found.noise = check.noise;
    found.back = latest;
    found.atOnce = check.pastLimit(situation, amplitudes);
    found.length = Infinity;
    found.ending = NONE;
    if (found.atOnce !== NONE || rate === 0) return true;
    for (let position = 0; position < moving.length; position++) {
      const g = moving[position]!;
      const c = check.coefficients[g]!;
      const level = constants[g]!;
      const tolerance = tolerances[g]! + scales[g]! * check.noise;
      if (c >= 0 || level < -tolerance) continue;
      // A limit that is only just reached: the general engine says when.
      if (level <= tolerance) return false;
      const length = Math.log(-c / level) / rate;
      if (!(length > 0 && length < found.length)) continue;
      found.length = length;
      found.ending = position;
      found.last = rest + amplitudes[0] * (-level / c);
    }
    return true;
  }
}

/** Room for what is found next: new room as long as there is little, then that of the oldest. */
function roomFor(place: Place): Found {
  const { found } = place;
  if (Number.isNaN(place.latest.entered)) return place.latest;
  if (found.length < MOST_FOUND) {
    const room = new Found();
    found.push(room);
    return room;
  }
  place.oldest = (place.oldest + 1) % MOST_FOUND;
  return found[place.oldest]!;
}
