import type { EventKind, SnapChange } from '../trace/event.ts';
import type { ArmedGuard } from './armed-guards.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { Situation } from './situation.ts';
import type { WaysBack } from './ways-back.ts';

/** Where a circuit goes on: the pieces of all branches, and where it snaps there, what the transistors do. */
export interface Followed {
  readonly pieces: readonly number[];
  readonly changes: readonly SnapChange[];
}

/** Transistors of which the circuit, as it is drawn, does not say what they come to. */
export interface Undecided {
  readonly parts: readonly string[];
}

/** What a run needs where transistors may drive each other on, so that there may be several states at one instant. */
export interface Snapping {
  /** Where the circuit stood when the present instant began; undefined at the first one. */
  before: Checkpoint['before'];
  /** Takes note of where the circuit stands, settled, before anything moves. */
  leave(situation: Situation, z: Float64Array, elapsed: number): void;
  /** Takes note of an event of a kind, if it is something else than a branch that moves. */
  jump(kind: EventKind): void;
  /**
   * Looks at a situation before anything happens in it: the state to go on in, if that is another one.
   *
   * @param guard the one that fires, if one does.
   * @param back ways back of the branches that have moved at this instant.
   */
  next(
    situation: Situation,
    z: Float64Array,
    guard: ArmedGuard | undefined,
    back: WaysBack,
  ): Followed | Undecided | undefined;
}
