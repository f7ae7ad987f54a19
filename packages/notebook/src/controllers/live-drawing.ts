import type { PartRow } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';
import { liveSignals } from '../runtime/live-lanes.ts';
import type { LiveReport, TraceWish } from '../runtime/live-protocol.ts';
import { RATES } from '../runtime/live-rate.ts';
import { RollingTrace } from '../runtime/rolling-trace.ts';

/** Length of what is drawn (s of page time). */
const SPAN = 8;
/** Pause between two drawings (s): fluent enough for the eye, and where motion is not wanted a step now and then. */
const PAUSE = 1 / 30;
const CALM_PAUSE = 0.4;

/** Keeps what is drawn of a run by hand, and says when there is more to draw. */
export class LiveDrawing {
  /** What is drawn; `undefined` while there is no run, or nothing of it to draw. */
  rolling: RollingTrace | undefined;
  /** Voltage above which a net counts as high (V). */
  level = 0;
  /** The rate that was chosen: seconds in the circuit for one second here. */
  rate = 1;
  /** Called when there is more to draw. */
  drew: (() => void) | undefined;

  private signals: readonly string[] = [];
  private isRunning = false;
  private drawnAt = 0;
  /** What was asked for last. */
  private asked: TraceWish | undefined;

  /** What is to be asked for with the next slice; its answer comes before another is asked for. */
  ask(): TraceWish | undefined {
    this.asked = this.rolling?.wish;
    return this.asked;
  }

  /** Tells which board is run, and its parts: what is drawn follows from the page. */
  show(document: Json, board: string | undefined, parts: readonly PartRow[]): void {
    const signals = board === undefined ? [] : liveSignals(document, board, parts);
    if (signals.join(' ') === this.signals.join(' ')) return;
    this.signals = signals;
    this.renew();
  }

  /** A run begins. */
  begin(level: number): void {
    this.level = level;
    this.isRunning = true;
    this.renew();
  }

  /** Chooses how long a stretch is drawn, by the place of a rate among the rates. */
  setRate(rate: number): void {
    this.rate = RATES[rate] ?? 1;
    this.renew();
  }

  /** The run is over. */
  leave(): void {
    this.isRunning = false;
    this.renew();
  }

  /**
   * Takes in what came of a slice.
   *
   * @param now page time (s).
   * @param isHeld whether time stands still: then what there is shows at once.
   * @param calm whether it is to move only now and then.
   */
  take({ trace }: LiveReport, now: number, isHeld: boolean, calm: boolean): void {
    // One that was asked for before another rate was chosen has columns of another length.
    if (trace === undefined || this.asked !== this.rolling?.wish) return;
    this.rolling?.take(trace);
    if (!isHeld && now - this.drawnAt < (calm ? CALM_PAUSE : PAUSE)) return;
    this.drawnAt = now;
    this.drew?.();
  }

  private renew(): void {
    const isDrawn = this.isRunning && this.signals.length > 0;
    this.rolling = isDrawn ? new RollingTrace(this.signals, SPAN * this.rate) : undefined;
    this.drew?.();
  }
}
