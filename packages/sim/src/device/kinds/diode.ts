import type { PartKind } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';
import { anodeAndCathode, slope } from './junction.ts';

/** A diode: open below its forward voltage, above it that voltage and a resistance. */
export const diode: PartKind = {
  kind: 'diode',
  title: 'diode',
  terminals: anodeAndCathode,
  fields: [
    {
      name: 'forward',
      title: 'forward voltage',
      unit: 'V',
      default: 0.6,
      source: 'silicon; common practice, no source',
      read: quantity('V', { atLeast: 0 }),
    },
    slope,
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
};
