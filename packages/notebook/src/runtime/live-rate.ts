import { formatQuantity } from '@two-thirds/sim/quantity';

/** Rates that can be chosen: seconds in the circuit for one second here. */
export const RATES: readonly number[] = [-3, -2, -1, 0, 1, 2]
  .flatMap((decade) => [1, 2, 5].map((step) => Number(`${step}e${decade}`)))
  .concat(1000);

/** Real time among {@link RATES}. */
export const REAL_TIME = RATES.indexOf(1);

/** Below this share of the rate that was asked for, the run is said to be slower. */
const BEHIND = 0.9;
/** A time of the page over which the rate is measured, and the least that tells anything (s). */
const MEASURED = 1;
const LEAST_MEASURED = 0.5;

/** A rate in words: `1 s here is 1 ms there`. */
export function rateWords(rate: number): string {
  return `1 s here is ${timeText(rate)} there`;
}

/** Measures how fast time passes in a run, against what was asked for. */
export class Pace {
  private slices: { readonly elapsed: number; readonly done: number }[] = [];

  /** Takes in a slice: how long it took here, and how much time passed there (s). */
  take(elapsed: number, done: number): void {
    this.slices.push({ elapsed, done });
    let measured = this.elapsed();
    while (this.slices.length > 1 && measured - (this.slices[0]?.elapsed ?? 0) >= MEASURED) {
      measured -= this.slices.shift()?.elapsed ?? 0;
    }
  }

  /** Forgets what was measured: another rate was chosen, or time stood still. */
  clear(): void {
    this.slices = [];
  }

  /** The rate that is reached where that is noticeably less than what was asked for. */
  behind(asked: number): number | undefined {
    const measured = this.elapsed();
    if (measured < LEAST_MEASURED) return undefined;
    const rate = this.slices.reduce((sum, { done }) => sum + done, 0) / measured;
    return rate < BEHIND * asked ? rate : undefined;
  }

  private elapsed(): number {
    return this.slices.reduce((sum, { elapsed }) => sum + elapsed, 0);
  }
}

/** A rate in as few digits as tell it. */
function timeText(seconds: number): string {
  const isRound = RATES.includes(seconds);
  return isRound ? formatQuantity(seconds, 's', { exact: true }) : formatQuantity(seconds, 's', { digits: 2 });
}
