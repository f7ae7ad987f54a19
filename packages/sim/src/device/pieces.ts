import type { Law } from '../network/element.ts';
import type { Piece } from './contract.ts';

/** The law of a branch that carries nothing. */
export const OPEN: Law = { kind: 'open' };

/** v = offset + resistance i. */
export function thevenin(offset: number, resistance: number): Law {
  return { kind: 'thevenin', input: -1, offset, resistance };
}

/** A single piece without exits. */
export function always(law: Law): Piece[] {
  return [{ law, exits: [] }];
}

/**
 * A one-way path: carries current from a to b once its voltage reaches `drop` (V), never backwards. Pieces: `first` is
 * blocked, `first + 1` conducts; `first` is where they stand in the branch's list.
 */
export function oneWay(first: number, drop: number, resistance: number): Piece[] {
  return [
    { law: OPEN, exits: [{ watch: 'voltage', rising: true, limit: drop, to: first + 1 }] },
    { law: thevenin(drop, resistance), exits: [{ watch: 'current', rising: false, limit: 0, to: first }] },
  ];
}

/**
 * A constant current from a to b that fades to nothing over the last `headroom` volts, so that it never drives a pin past
 * the rail it comes from. Pieces, from `first`: none, fading, full.
 */
export function fadingCurrent(first: number, current: number, headroom: number): Piece[] {
  return [
    { law: OPEN, exits: [{ watch: 'voltage', rising: true, limit: 0, to: first + 1 }] },
    {
      law: thevenin(0, headroom / current),
      exits: [
        { watch: 'voltage', rising: false, limit: 0, to: first },
        { watch: 'voltage', rising: true, limit: headroom, to: first + 2 },
      ],
    },
    { law: { kind: 'current', current }, exits: [{ watch: 'voltage', rising: false, limit: headroom, to: first + 1 }] },
  ];
}

/**
 * So many times the current of another branch, or what a one-way path lets through, whichever is less. Pieces: amplifying,
 * then those of the one-way path: blocked, conducting. Where the other branch is open the first one carries nothing.
 */
export function amplified(by: number, gain: number, drop: number, resistance: number): Piece[] {
  const [blocked, conducting] = oneWay(1, drop, resistance) as [Piece, Piece];
  return [
    {
      law: { kind: 'controlled', by, gain },
      exits: [{ watch: 'voltage', rising: false, limit: drop, to: 2, less: { branch: by, times: gain * resistance } }],
    },
    blocked,
    {
      law: conducting.law,
      exits: [
        { watch: 'current', rising: true, limit: 0, to: 0, less: { branch: by, times: gain } },
        ...conducting.exits,
      ],
    },
  ];
}
