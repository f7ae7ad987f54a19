import type { Reaction } from '../device/contract.ts';
import type { EventKind, SnapChange } from '../trace/event.ts';
import type { Situation } from './situation.ts';

/** How one situation goes over into another: z' = matrix z + offset, or z unchanged where `same`. */
export interface Passage {
  readonly to: Situation;
  readonly same: boolean;
  /** Row order, `to.stateCount` by the state count before. */
  readonly matrix: Float64Array;
  readonly offset: Float64Array;
}

/** What follows an event; kept at the situation in which it happened when it would be the same again. */
export interface Succession {
  /** Absent where the event makes a short. */
  readonly passage: Passage | undefined;
  readonly shortedParts: readonly string[] | undefined;
  /** The reactor whose reaction this is, or -1. */
  readonly reactor: number;
  readonly reaction: Reaction | undefined;
  /** Whether the reaction touches the agenda. */
  readonly schedules: boolean;
  /** Part and kind for events that no reactor records. */
  readonly part: string;
  readonly kind: EventKind;
  /**
   * Number of the event that would take a branch straight back to the piece it has just left, or -1. While no time passes
   * that event can be due by rounding only.
   */
  readonly back: number;
  /** What transistors do in a snap. */
  readonly snap: readonly SnapChange[] | undefined;
  /** For what follows the corner of an input: the level (V) and slope (V/s) that begin there; else 0. */
  readonly level: number;
  readonly slope: number;
  /** How long the situation had lasted (s), where that matters. */
  readonly lasted: number;
}
