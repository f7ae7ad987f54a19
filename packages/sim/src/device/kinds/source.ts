import type { PartKind } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';
import { endsAAndB } from './terminals.ts';

/** A constant-current diode or circuit: the same current from `a` to `b` whatever the voltage, as long as there is enough. */
export const source: PartKind = {
  kind: 'source',
  title: 'current source',
  terminals: endsAAndB,
  fields: [
    { name: 'current', title: 'current from a to b', unit: 'A', required: true, read: quantity('A', { above: 0 }) },
    {
      name: 'headroom',
      title: 'voltage below which the current fades',
      unit: 'V',
      default: 1,
      source: 'common practice, no source',
      read: quantity('V', { above: 0 }),
    },
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
};
