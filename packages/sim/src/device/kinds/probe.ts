import type { PartKind } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';

/** The input of a measuring instrument, so that measuring can disturb. */
export const probe: PartKind = {
  kind: 'probe',
  title: 'probe',
  terminals: [
    { name: 'a', required: true },
    { name: 'b', required: false, default: 'ground' },
  ],
  fields: [
    {
      name: 'resistance',
      title: 'input resistance',
      unit: 'Ω',
      default: 10e6,
      source: 'usual for meters and dividing probes; common practice, no source',
      read: quantity('Ω', { above: 0 }),
    },
    {
      name: 'capacitance',
      title: 'input capacitance',
      unit: 'F',
      default: 12e-12,
      source: 'usual for dividing probes; common practice, no source',
      read: quantity('F', { atLeast: 0 }),
    },
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
};
