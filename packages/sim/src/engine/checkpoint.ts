import type { AgendaStanding } from './agenda-standing.ts';

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
  readonly roots: readonly {
    readonly situation: string;
    readonly likely: number;
    readonly roots: readonly number[];
  }[];
}
