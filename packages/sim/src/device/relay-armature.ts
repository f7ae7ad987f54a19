import type { Guard, Reaction, Reactor } from './contract.ts';

/** The winding's branch and the currents (A) that it pulls in and drops out with. */
export interface WindingCurrents {
  readonly winding: number;
  readonly pullIn: number;
  readonly dropOut: number;
}

/** Branches of the contact that closes when it pulls in, and of the one that is closed at rest. */
export interface ContactBranches {
  readonly make?: number;
  readonly rest?: number;
}

/** Which way the current of the winding is enough; in the lowest two bits of the state. */
export const OFF = 0;
const FORWARDS = 1;
const BACKWARDS = 2;
const DIRECTION = 3;
/** Bits of the state: the armature is at the winding; the contact that belongs there has bounced off. */
const PULLED = 4;
const BOUNCED = 8;

/** Events. The first three are also what becomes of the direction. */
const ARRIVE = 3;
const LEAVE = 4;
const REBOUND = 5;

const MOVE_SLOT = 0;
const REBOUND_SLOT = 1;

/** After the comparators of timers at the same instant. */
const RANK = 3.5;

/** What the current of a winding does next: passes pull-in in either direction, or falls to drop-out. */
export function windingGuards(direction: number, { winding, pullIn, dropOut }: WindingCurrents): Guard[] {
  const forwards = { branch: winding, sign: 1 } as const;
  const backwards = { branch: winding, sign: -1 } as const;
  switch (direction) {
    case FORWARDS:
      return [{ event: OFF, rank: RANK, watch: backwards, offset: -dropOut }];
    case BACKWARDS:
      return [{ event: OFF, rank: RANK, watch: forwards, offset: -dropOut }];
    default:
      return [
        { event: FORWARDS, rank: RANK, watch: forwards, offset: pullIn },
        { event: BACKWARDS, rank: RANK, watch: backwards, offset: pullIn },
      ];
  }
}

/**
 * The armature of a relay. It moves once the current has been past pull-in for the operate time without falling to
 * drop-out, and moves back once it has been below drop-out for the release time: shorter pulses and gaps do nothing.
 *
 * @param times operate and release time (s).
 * @param bounces times of the bounces after it has pulled in, and after it has dropped out (s); none where empty.
 */
export function relayReactor(
  part: string,
  currents: WindingCurrents,
  times: { readonly operate: number; readonly release: number },
  { make, rest }: ContactBranches,
  bounces: readonly (readonly number[])[],
): Reactor {
  const [pulling = [], dropping = []] = bounces;
  /** The pieces of the contacts in a state. */
  const pieces = (state: number): [number, number][] => {
    const touches = (state & BOUNCED) === 0;
    const pulled = (state & PULLED) !== 0;
    return [
      ...(make === undefined ? [] : [[make, pulled && touches ? 1 : 0] as [number, number]]),
      ...(rest === undefined ? [] : [[rest, !pulled && touches ? 1 : 0] as [number, number]]),
    ];
  };
  const arrive = (state: number): Reaction => {
    const pulled = (state & PULLED) !== 0;
    const contact = pulled ? make : rest;
    const due = contact === undefined ? [] : pulled ? pulling : dropping;
    return {
      state,
      pieces: pieces(state),
      schedule: due.map((after) => ({ slot: REBOUND_SLOT, after, event: REBOUND })),
      cancel: [REBOUND_SLOT],
      records: [pulled ? { kind: 'pulledIn', cause: 'windingOn' } : { kind: 'droppedOut', cause: 'windingOff' }],
    };
  };
  return {
    part,
    start: OFF,
    slots: 2,
    timetable: [],
    guards: (state) => windingGuards(state & DIRECTION, currents),
    react(state, event) {
      const pulled = (state & PULLED) !== 0;
      switch (event) {
        case ARRIVE:
          return arrive((state | PULLED) & ~BOUNCED);
        case LEAVE:
          return arrive(state & ~PULLED & ~BOUNCED);
        case REBOUND: {
          const next = state ^ BOUNCED;
          const kind = (next & BOUNCED) === 0 ? 'close' : 'open';
          return { state: next, pieces: pieces(next), schedule: [], cancel: [], records: [{ kind }] };
        }
        default: {
          const isOn = event !== OFF;
          const move = isOn ? { after: times.operate, event: ARRIVE } : { after: times.release, event: LEAVE };
          return {
            state: (state & ~DIRECTION) | event,
            pieces: [],
            schedule: isOn === pulled ? [] : [{ slot: MOVE_SLOT, ...move }],
            cancel: [MOVE_SLOT],
            records: [{ kind: isOn ? 'windingOn' : 'windingOff' }],
          };
        }
      }
    },
  };
}
