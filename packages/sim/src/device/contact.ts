import type { Part } from '../circuit/description.ts';
import { type Bounce, type ContactChange, contactChanges } from './bounce.ts';
import type { Device, DeviceHost, Reaction } from './contract.ts';
import { always, OPEN, thevenin } from './pieces.ts';

/** A stretch of time for which a contact is in its other position. */
export interface Press {
  readonly at: number;
  readonly for: number;
}

const TO_OTHER = 0;
const BACK = 1;

/** Adds a branch that is open or a resistance, switched by a timetable of changes; returns its index. */
export function contactBranch(
  part: Part,
  host: DeviceHost,
  a: number,
  b: number,
  resistance: number,
  closed: boolean,
  changes: readonly ContactChange[],
): number {
  const rest = closed ? 1 : 0;
  const index = host.branch({
    part: part.name,
    a,
    b,
    pieces: [...always(OPEN), ...always(thevenin(0, resistance))],
    start: rest,
  });
  const react = (_: number, event: number): Reaction => {
    const piece = event === TO_OTHER ? 1 - rest : rest;
    return {
      state: event === TO_OTHER ? 1 : 0,
      pieces: [[index, piece]],
      schedule: [],
      cancel: [],
      records: [{ kind: piece === 1 ? 'close' : 'open' }],
    };
  };
  host.reactor({
    part: part.name,
    start: 0,
    contact: true,
    slots: 0,
    timetable: changes.map(({ at, pressed }) => ({ at, event: pressed ? TO_OTHER : BACK })),
    guards: () => [],
    react,
  });
  return index;
}

function contact(kind: string): Device {
  return {
    kind,
    build(part, host) {
      const index = contactBranch(
        part,
        host,
        host.node(part.nets['a']!),
        host.node(part.nets['b']!),
        part.values['resistance'] as number,
        part.values['closed'] as boolean,
        contactChanges(part.values['presses'] as readonly Press[], part.values['bounce'] as Bounce | undefined),
      );
      host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
    },
  };
}

/** A push button: changes over while pressed. */
export const button = contact('button');
/** A jumper: usually closed, may be taken out for a while. */
export const jumper = contact('jumper');
/** A switch: changes over while thrown. */
export const switchPart = contact('switch');
