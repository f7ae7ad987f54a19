import type { Reaction, Reactor } from './contract.ts';
import { OFF, type WindingCurrents, windingGuards } from './relay-armature.ts';

/** The limit has been told; added to the direction of the current. */
const TOLD = 4;
const TOO_LONG = 3;

const NOTE = { what: 'on-too-long' } as const;
/** Ranks below 4 belong to what acts; this only records. */
const RANK = 4;

/**
 * A reactor that does nothing but tell when the current of a winding has lasted for longer than the part bears (s), from
 * pull-in on, and when it is off again.
 */
export function onTimeWatch(part: string, currents: WindingCurrents, longest: number): Reactor {
  return {
    part,
    watches: NOTE,
    start: OFF,
    slots: 1,
    timetable: [],
    guards: (state) => windingGuards(state & ~TOLD, currents).map((guard) => ({ ...guard, rank: RANK })),
    react(state, event): Reaction {
      const records = (phase: 'over' | 'clear'): Reaction['records'] => [{ kind: 'fault', fault: { ...NOTE, phase } }];
      if (event === TOO_LONG)
        return { state: state | TOLD, pieces: [], schedule: [], cancel: [], records: records('over') };
      return {
        state: event,
        pieces: [],
        schedule: event === OFF ? [] : [{ slot: 0, after: longest, event: TOO_LONG }],
        cancel: [0],
        records: state & TOLD ? records('clear') : [],
      };
    },
  };
}
