import type { ExponentialSum } from '../core/exponential-sum.ts';

/**
 * How signals follow from the modal state during one situation (all switches, latches and source pieces settled).
 * Within a segment that starts at local time 0,
 *
 *     y_i(t) = constants[i] + slopes[i] t + sum_k rows[i n + k] amplitudes[k] exp(-rates[k] t)
 *
 * `rates` (1/s) ascend; one below zero is a part of the state that grows, a zero rate one that stands still but for the
 * slope.
 * Signals are net voltages (V) first, then part currents (A), in the order of the run's `SignalTable`.
 */
export interface Frame {
  readonly rates: Float64Array;
  readonly rows: Float64Array;
  readonly constants: Float64Array;
  readonly slopes: Float64Array;
  /** Works out the numbers of one signal, or of all: they count only then. Absent where all are there. */
  need?(index?: number): void;
}

/** One signal of a segment as a function of local time, with what many ask for. */
export interface SegmentSignal extends Readonly<ExponentialSum> {
  /** The value that it keeps throughout; NaN where it moves. */
  readonly steady: number;
  /** Whether some of its terms rise and others fall, so that it may turn; where not, it goes one way. */
  readonly mayTurn: boolean;
  /** Values at the start and at the end of the segment. */
  readonly atStart: number;
  readonly atEnd: number;
}

/** Names of what a trace can show. Currents count from the part's first terminal to its second. */
export interface SignalTable {
  /** Net names; signal index = position. Internal nets contain a dot, for example `U1.control`. */
  readonly nets: readonly string[];
  /** Part names with a current; signal index = nets.length + position. */
  readonly currents: readonly string[];
}

/**
 * One stretch of a run between two events, handed to observers. The object and its arrays are reused: copy what you keep.
 */
export interface SegmentView {
  /** Start, in seconds, as the sum of two doubles. */
  start: number;
  startLow: number;
  /** Length in seconds, never negative. */
  length: number;
  frame: Frame;
  /** Modal amplitudes at the start, as in `Frame`; `frame.rates.length` of them count. */
  amplitudes: Float64Array;
  /**
   * One signal, written out once for all who ask for it while the segment is shown; -1 stands for one that is 0 throughout.
   * It is reused like the view.
   */
  signal(index: number): SegmentSignal;
}
