/** Rises of a signal within one frame of the page: how many, and when the first and the last (s). */
export interface FrameRises {
  readonly rises: number;
  readonly firstRise: number;
  readonly lastRise: number;
}

/** How long rises are counted (s of page time). */
const COUNTED = 1;

/** Tells how often a signal rises a second, from whole periods. */
export class RiseMeter {
  private readonly frames: (FrameRises & { readonly now: number })[] = [];

  /** Takes in a frame that ends at this page time (s); gives the frequency (Hz in the circuit) where it is known. */
  take(now: number, frame: FrameRises): number | undefined {
    if (frame.rises > 0) this.frames.push({ now, ...frame });
    while ((this.frames[0]?.now ?? now) < now - COUNTED) this.frames.shift();
    const count = this.frames.reduce((sum, { rises }) => sum + rises, 0);
    const span = (this.frames.at(-1)?.lastRise ?? 0) - (this.frames[0]?.firstRise ?? 0);
    return count > 1 && span > 0 ? (count - 1) / span : undefined;
  }
}

/** The rises among the changes of an output. */
export function risesOf(changes: readonly number[], startsHigh: boolean): FrameRises {
  const rising = changes.filter((_, index) => (index % 2 === 0) !== startsHigh);
  return { rises: rising.length, firstRise: rising[0] ?? 0, lastRise: rising.at(-1) ?? 0 };
}
