import type { PartKind } from '../../circuit/description.ts';
import { anyResistance, quantity, tolerance } from '../../field/value-readers.ts';
import { endsAAndB } from './terminals.ts';

/** A resistor. 0 Ω makes one net of its two; there is no upper limit. */
export const resistor: PartKind = {
  kind: 'resistor',
  title: 'resistor',
  terminals: endsAAndB,
  fields: [
    { name: 'resistance', title: 'resistance', unit: 'Ω', required: true, read: anyResistance() },
    { name: 'tolerance', title: 'tolerance', unit: 'share', read: tolerance() },
    { name: 'rating', title: 'power rating', unit: 'W', read: quantity('W', { above: 0 }) },
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
  joins: (part) => (part.values.resistance === 0 ? [['a', 'b']] : []),
};
