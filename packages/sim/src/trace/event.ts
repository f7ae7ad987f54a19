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
 * - `windingOn` / `windingOff`  the current of a relay's or solenoid's winding rose to pull-in / fell to drop-out
 * - `pulledIn` / `droppedOut`  its armature has followed, after the operate or release time; contacts have changed over.
 *   A `close` or `open` of a relay is a bounce of its contact
 * - `sounding` / `silent`  a buzzer has the voltage that it sounds from / has not any more
 * - `snap`       transistors that drive each other on have come to another state at once: the one before ceased to be
 * - `piece`      a diode, LED or one-way stage moved to another piece of its curve
 * - `fault`      a part goes beyond a limit of its own, or comes back inside; only where a run is asked to watch limits
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
  | 'windingOn'
  | 'windingOff'
  | 'pulledIn'
  | 'droppedOut'
  | 'sounding'
  | 'silent'
  | 'snap'
  | 'piece'
  | 'fault';

/**
 * What is beyond its limit:
 *
 * - `reverse-voltage`  a polarised capacitor or a buzzer is the wrong way round
 * - `over-voltage`     a capacitor, a winding or a buzzer is above its rating
 * - `on-too-long`      a relay or solenoid has been on for longer than it bears
 * - `over-current`     an LED is above its limit
 * - `over-power`       a resistor takes more than its rating, at that instant
 * - `supply-low` / `supply-high`  a timer's supply is outside its range
 * - `output-gives` / `output-takes`  a timer's output carries more than it is made for
 * - `pin-high` / `pin-low`  an input of a timer is above its supply / below its ground
 */
export type FaultCode =
  | 'reverse-voltage'
  | 'over-voltage'
  | 'over-current'
  | 'on-too-long'
  | 'over-power'
  | 'supply-low'
  | 'supply-high'
  | 'output-gives'
  | 'output-takes'
  | 'pin-high'
  | 'pin-low';

/** What a `fault` event is about. */
export interface FaultNote {
  readonly what: FaultCode;
  /** `over` when the limit is passed, `clear` on the way back. */
  readonly phase: 'over' | 'clear';
  /** The pin of a timer that it is about, where there is a choice. */
  readonly pin?: string;
}

/** What a transistor with a gain does before and after a snap. */
export interface SnapChange {
  readonly part: string;
  readonly from: 'off' | 'amplifying' | 'saturated';
  readonly to: 'off' | 'amplifying' | 'saturated';
}

/** One event of a run, with what caused it. */
export interface RunEvent {
  /** Seconds; `timeLow` is what the double `time` cannot hold. */
  readonly time: number;
  readonly timeLow: number;
  readonly part: string;
  readonly kind: EventKind;
  /** For `accepted`, `set`, `cleared`, `outputHigh`, `outputLow`, `pulledIn` and `droppedOut`: the event kind of the same part that brought it about. */
  readonly cause?: EventKind;
  /**
   * For comparator events: the voltage seen and the limit it met (V), at that instant, after the event's jump if it came
   * from one. For a transistor the same of its base current (A), for a winding of its current, for a buzzer of the
   * voltage across it.
   */
  readonly value?: number;
  readonly limit?: number;
  /** For `fault` events; value and limit are then those of the part: a voltage across it (V) or a current (A). */
  readonly fault?: FaultNote;
  /** For a `snap`: the transistors that it changes, in the order of the circuit; `part` is the first of them. */
  readonly snap?: readonly SnapChange[];
}
