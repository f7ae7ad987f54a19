import type { Part, PartKind } from '../../circuit/description.ts';
import { presses } from '../../circuit/schedule-fields.ts';
import { anyResistance, flag } from '../../field/value-readers.ts';
import { bounceField } from './bounce-field.ts';
import { endsAAndB } from './terminals.ts';

/** A part that opens and closes by hand. Between its presses it is as `closed` says, during them the other way. */
function contact(kind: string, title: string, closed: boolean): PartKind {
  return {
    kind,
    title,
    terminals: endsAAndB,
    fields: [
      {
        name: 'closed',
        title: 'closed when nobody touches it',
        default: closed,
        source: closed ? 'a jumper is plugged in until stated' : 'open until stated',
        read: flag(),
      },
      {
        name: 'resistance',
        title: 'resistance when closed',
        unit: 'Ω',
        default: 0,
        source: 'ideal until stated',
        read: anyResistance(),
      },
      { name: 'presses', title: 'when it is worked', default: [], source: 'untouched until stated', read: presses() },
      bounceField('how it bounces after every press and release'),
    ],
    paths: () => [['a', 'b']],
    steadyPaths: (part) => (isAlwaysClosed(part) ? [['a', 'b']] : []),
    sources: () => [],
    joins: (part) => (isAlwaysClosed(part) && part.values.resistance === 0 ? [['a', 'b']] : []),
  };
}

function isAlwaysClosed(part: Part): boolean {
  const { closed, presses: scheduled } = part.values as { closed: boolean; presses: readonly unknown[] };
  return closed && scheduled.length === 0;
}

/** A push button, open until pressed. */
export const button = contact('button', 'button', false);

/** A plug-in link, closed until pulled. */
export const jumper = contact('jumper', 'jumper', true);

/** A switch, open until worked. */
export const toggleSwitch = contact('switch', 'switch', false);
