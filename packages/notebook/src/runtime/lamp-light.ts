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

/** Rises by which a flashing is known, and within how many seconds of page time they make it too fast: 2.5 a second. */
const RISES = 4;
const TOO_FAST = 1.2;
/** The same rises within more than this (s) are slow enough to be shown again. */
const SLOW_AGAIN = 1.7;
/** Mean light is taken over this time (s); even at the slowest steady flashing it then moves by a few hundredths. */
const MEAN = 2;
/** Light is shown in steps, so that a mean does not tremble. */
const STEP = 0.05;
/**
 * Turns from brighter to darker or back within a second, at most. Two of them are a flash; WCAG 2.2, success criterion
 * 2.3.1, allows three flashes.
 */
const MOST_TURNS = 5;

/**
 * Decides how bright a lamp is shown, so that it never flashes more than three times a second on the page, whatever it
 * does in the circuit and however its time is scaled.
 */
export class LampLight {
  private shown = 0;
  private direction = 0;
  private turns: number[] = [];
  private samples: LightSample[] = [];
  private rises: number[] = [];
  private isSteady = false;

  /** @param calm whether it is to be steady however slowly it flashes. */
  pass(sample: LightSample, calm: boolean): ShownLight {
    const { now, light } = sample;
    this.samples.push(sample);
    while ((this.samples[0]?.now ?? now) < now - MEAN) this.samples.shift();
    for (let rise = 0; rise < Math.min(sample.rises, RISES); rise += 1) this.rises.push(now);
    this.rises = this.rises.slice(-RISES);
    const since = this.rises.length < RISES ? Infinity : now - (this.rises[0] ?? now);
    this.isSteady = since < (this.isSteady ? SLOW_AGAIN : TOO_FAST);
    if (!this.isSteady && !calm) return { light: this.limited(light, now), steady: false };
    const frequency = this.frequency();
    const shown = this.limited(Math.round(this.mean() / STEP) * STEP, now, STEP * 1.5);
    return { light: shown, steady: true, ...(frequency === undefined ? {} : { frequency }) };
  }

  /** The lamp while no time passes. */
  rest(now: number, light: number): ShownLight {
    this.samples = [];
    this.rises = [];
    this.isSteady = false;
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
  private limited(wanted: number, now: number, least = 0): number {
    const change = wanted - this.shown;
    if (change === 0 || Math.abs(change) < least) return this.shown;
    const direction = Math.sign(change);
    if (direction !== this.direction) {
      this.turns = this.turns.filter((time) => time > now - 1);
      if (this.turns.length >= MOST_TURNS) return this.shown;
      this.turns.push(now);
      this.direction = direction;
    }
    this.shown = wanted;
    return wanted;
  }
}
