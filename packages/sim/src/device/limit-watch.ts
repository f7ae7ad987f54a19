import type { FaultCode } from '../trace/event.ts';
import type { Guard, Reaction, Reactor } from './contract.ts';

/** A limit of a part: what is watched must lie between `least` and `most` (V or A). */
export interface PartLimit {
  readonly what: FaultCode;
  /** The voltage of one node above another, or the current of a branch. */
  readonly watch: { readonly plus: number; readonly minus: number } | { readonly branch: number };
  readonly least?: number;
  readonly most?: number;
  /** The pin of a timer that it is about. */
  readonly pin?: string;
}

const INSIDE = 0;
const ABOVE = 1;
const BELOW = 2;

/** Ranks below 4 belong to what acts; this only records. */
const RANK = 4;

/** A reactor that does nothing but tell when a part passes a limit of its own and when it is back inside. */
export function limitWatch(part: string, limit: PartLimit): Reactor {
  const { what, watch, least, most, pin } = limit;
  const note = pin === undefined ? { what } : { what, pin };
  const rises = (past: number, event: number): Guard => ({
    event,
    rank: RANK,
    watch: 'branch' in watch ? { ...watch, sign: 1 } : { ...watch, seen: 'plus above minus' },
    offset: past,
  });
  const falls = (past: number, event: number): Guard => ({
    event,
    rank: RANK,
    watch:
      'branch' in watch ? { ...watch, sign: -1 } : { plus: watch.minus, minus: watch.plus, seen: 'minus above plus' },
    offset: -past,
  });
  return {
    part,
    watches: note,
    start: INSIDE,
    slots: 0,
    timetable: [],
    guards(state) {
      if (state === ABOVE) return [falls(most!, INSIDE)];
      if (state === BELOW) return [rises(least!, INSIDE)];
      return [
        ...(most === undefined || most === Infinity ? [] : [rises(most, ABOVE)]),
        ...(least === undefined || least === -Infinity ? [] : [falls(least, BELOW)]),
      ];
    },
    react: (_, event): Reaction => ({
      state: event,
      pieces: [],
      schedule: [],
      cancel: [],
      records: [{ kind: 'fault', fault: { ...note, phase: event === INSIDE ? 'clear' : 'over' } }],
    }),
  };
}
