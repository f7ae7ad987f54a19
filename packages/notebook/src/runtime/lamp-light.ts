import type { FlashLedger } from './flash-ledger.ts';

/** What a lamp did in one frame of the page. */
export interface LightSample {
  /** Page time at the end of the frame, and the time since the frame before (s). */
  readonly now: number;
  readonly elapsed: number;
  /** Mean light in the frame, 0 to 1. */
  readonly light: number;
  /** How often it lit up, and when the first and the last time (s, in the circuit). */
  readonly rises: number;
  readonly firstRise: number;
  readonly lastRise: number;
}

/** How a lamp is shown. */
export interface ShownLight {
  /** 0 to 1. */
  readonly light: number;
  /** Whether it is shown in steady mean light because it flashes too fast to be shown flashing. */
  readonly steady: boolean;
  /** While it is steady: how often it flashes a second in the circuit (Hz), once that is known. */
  readonly frequency?: number;
}

/** Rises by which a flashing is known. */
export const RISES = 4;
/** How long a rise is remembered (s of page time): the slowest flashing that is steady has four in this time. */
const REMEMBERED = 2;
/** Mean light is taken over this time (s); even at the slowest steady flashing it then moves by a few hundredths. */
const MEAN = 2;
/** Changes of light below this are no turns: nobody sees them, and they must not use up what others may show. */
const UNSEEN = 0.01;
/** Light is shown in steps, so that a mean does not tremble. */
const STEP = 0.05;
/**
 * Turns of one lamp from brighter to darker or back within a second, at most; two of them are a flash. One less than the
 * ledger of all lamps allows, so that a lamp alone keeps well below three flashes.
 */
const MOST_TURNS = 5;

/** Decides how bright one lamp of a page is shown. */
export class LampLight {
  private shown = 0;
  private direction = 0;
  private turns: number[] = [];
  private samples: LightSample[] = [];
  private risen: number[] = [];
  /** Whether it was last found to flash too fast to be shown so. */
  isTooFast = false;
  private readonly ledger: FlashLedger;

  /** @param ledger counts the flashes of all lamps that are seen together. */
  constructor(ledger: FlashLedger) {
    this.ledger = ledger;
  }

  /** When it lit up lately, in page time (s). */
  get rises(): readonly number[] {
    return this.risen;
  }

  /** How far its last rises lie apart (s of page time): little for fast flashing, `Infinity` while it has no two. */
  get period(): number {
    const [first, last] = [this.risen[0], this.risen.at(-1)];
    const count = this.risen.length;
    return first === undefined || last === undefined || count < 2 ? Infinity : (last - first) / (count - 1);
  }

  /** Takes in what it did in a frame. */
  hear(sample: LightSample): void {
    const { now } = sample;
    this.samples.push(sample);
    while ((this.samples[0]?.now ?? now) < now - MEAN) this.samples.shift();
    for (let rise = 0; rise < Math.min(sample.rises, RISES); rise += 1) this.risen.push(now);
    this.risen = this.risen.filter((time) => time > now - REMEMBERED).slice(-2 * RISES);
  }

  /** How it is shown now: as it is, or in its mean light with its frequency. */
  show(now: number, light: number, steady: boolean): ShownLight {
    if (!steady) return { light: this.limited(light, now), steady };
    const frequency = this.frequency();
    const shown = this.limited(Math.round(this.mean() / STEP) * STEP, now, STEP * 1.5);
    return { light: shown, steady, ...(frequency === undefined ? {} : { frequency }) };
  }

  /** The lamp while no time passes. */
  rest(now: number, light: number): ShownLight {
    this.samples = [];
    this.risen = [];
    this.isTooFast = false;
    return { light: this.limited(light, now), steady: false };
  }

  private mean(): number {
    let sum = 0;
    let time = 0;
    for (const { light, elapsed } of this.samples) {
      sum += light * elapsed;
      time += elapsed;
    }
    return time > 0 ? sum / time : this.shown;
  }

  private frequency(): number | undefined {
    const rising = this.samples.filter(({ rises }) => rises > 0);
    const count = rising.reduce((sum, { rises }) => sum + rises, 0);
    const span = (rising.at(-1)?.lastRise ?? 0) - (rising[0]?.firstRise ?? 0);
    return count > 1 && span > 0 ? (count - 1) / span : undefined;
  }

  /** Takes the light nearer to what is wanted, unless that were one turn too many within a second. */
  private limited(wanted: number, now: number, least = UNSEEN): number {
    const change = wanted - this.shown;
    if (change === 0 || (Math.abs(change) < least && wanted > 0)) return this.shown;
    const direction = Math.sign(change);
    if (direction !== this.direction) {
      this.turns = this.turns.filter((time) => time > now - 1);
      if (this.turns.length >= MOST_TURNS || !this.ledger.mayTurn(direction, now)) return this.shown;
      this.turns.push(now);
      this.direction = direction;
    }
    this.shown = wanted;
    return wanted;
  }
}
