/**
 * What can happen in a run. `part` acts, `kind` says what it did:
 *
 * - `source`     a supply or signal changes its piece (an edge, a corner of a ramp)
 * - `close` / `open`  a button, jumper or switch; a finger touches / lifts; a transistor saturates / lets go
 * - `triggerLow` / `triggerHigh`   TRIGGER went below / back above its reference
 * - `accepted`   TRIGGER has been low for the minimum trigger width
 * - `thresholdOver`  THRESHOLD reached CONTROL while the interval runs
 * - `resetLow` / `resetHigh`  RESET went below / back above its level
 * - `set` / `cleared`  the latch changed
 * - `outputHigh` / `outputLow`  the output stage and the discharge switch followed, after the delay
 * - `piece`      a diode, LED or one-way stage moved to another piece of its curve
 */
export type EventKind =
  | 'source'
  | 'close'
  | 'open'
  | 'triggerLow'
  | 'triggerHigh'
  | 'accepted'
  | 'thresholdOver'
  | 'resetLow'
  | 'resetHigh'
  | 'set'
  | 'cleared'
  | 'outputHigh'
  | 'outputLow'
  | 'piece';

/** One event of a run, with what caused it. */
export interface RunEvent {
  /** Seconds; `timeLow` is what the double `time` cannot hold. */
  readonly time: number;
  readonly timeLow: number;
  readonly part: string;
  readonly kind: EventKind;
  /** For `set` and `cleared`: the event kind that brought it about. */
  readonly cause?: EventKind;
  /**
   * For comparator events: the voltage seen and the limit it met (V), at that instant, after the event's jump if it came
   * from one. For a transistor the same of its base current (A).
   */
  readonly value?: number;
  readonly limit?: number;
}
