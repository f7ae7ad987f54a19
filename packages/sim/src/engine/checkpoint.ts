import type { AgendaStanding } from './agenda-standing.ts';

/** Where a circuit whose transistors may snap stood when an instant began. */
interface Before {
  readonly pieces: readonly number[];
  /** Voltage across the base of each transistor that amplifies (V). */
  readonly controls: readonly number[];
  /** How fast capacitors, then nets that strays hold, change (V/s). */
  readonly speeds: readonly number[];
  /** Whether something else than a branch has moved since, so that the state may have jumped. */
  readonly jumped: boolean;
  /** Whether the state that follows has been looked for. */
  readonly followed: boolean;
}

/**
 * A run stopped at some time, as plain data: kept as JSON and taken up again, it goes on bit for bit as if it had never
 * stopped. The state is worked out up to the last event, where the agenda's clock stands; `shown` is how far beyond it (s)
 * observers have seen. `roots` holds the guards' last roots by situation: they are first guesses, and so part of the bits.
 */
export interface Checkpoint {
  readonly version: 2;
  readonly shown: number;
  readonly handled: number;
  readonly atOnce: number;
  readonly noise: number;
  readonly back: readonly number[];
  readonly pieces: readonly number[];
  readonly states: readonly number[];
  /** Modal state. */
  readonly modal: readonly number[];
  readonly agenda: AgendaStanding;
  /** Where transistors may snap: how the circuit stood when the present instant began. Absent at the first one. */
  readonly before?: Before | undefined;
  readonly roots: readonly {
    readonly situation: string;
    readonly likely: number;
    readonly roots: readonly number[];
  }[];
}
