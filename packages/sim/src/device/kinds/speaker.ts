import type { PartKind } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';
import { endsAAndB } from './terminals.ts';

/** A loudspeaker, for the current it draws: its resistance alone. */
export const speaker: PartKind = {
  kind: 'speaker',
  title: 'loudspeaker',
  terminals: endsAAndB,
  fields: [
    {
      name: 'resistance',
      title: 'resistance of the coil',
      unit: 'Ω',
      default: 8,
      source: 'common practice, no source',
      read: quantity('Ω', { above: 0 }),
    },
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
};
