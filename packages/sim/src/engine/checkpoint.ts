import type { AgendaStanding } from './agenda-standing.ts';
import type { Program } from './program.ts';

/** The version of checkpoints that is written, and the only one that is read. */
export const CHECKPOINT_VERSION = 2;

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
  readonly version: typeof CHECKPOINT_VERSION;
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

/**
 * Whether something can be a checkpoint of a run of the program: of this version, with a place for each of its branches,
 * reactors, inputs and timetables. Other values of the same circuit are not noticed.
 */
export function isCheckpointOf({ branches, reactors, inputs }: Program, from: unknown): from is Checkpoint {
  const { version, modal, pieces, states, roots, back, agenda } = (from ?? {}) as Partial<Checkpoint>;
  const { marks, corners, timetables, entries, slots } = agenda ?? {};
  const slotCount = reactors.reduce((sum, reactor) => sum + reactor.slots, 0);
  const lengths: readonly (readonly [list: unknown, length: number | undefined])[] = [
    [modal, undefined],
    [roots, undefined],
    [back, undefined],
    [pieces, branches.length],
    [states, reactors.length],
    [marks, inputs.length],
    [corners, inputs.length],
    [timetables, reactors.length],
    [entries, reactors.length],
    [slots, slotCount],
  ];
  return (
    version === CHECKPOINT_VERSION &&
    lengths.every(([list, length]) => Array.isArray(list) && (length === undefined || list.length === length))
  );
}
