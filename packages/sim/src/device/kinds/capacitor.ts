import type { PartKind } from '../../circuit/description.ts';
import { anyCapacitance, anyResistance, flag, quantity, tolerance } from '../../field/value-readers.ts';
import { endsAAndB } from './terminals.ts';

/** A capacitor, with leakage beside it and resistance before it where stated. `a` is the positive end if polarised. */
export const capacitor: PartKind = {
  kind: 'capacitor',
  title: 'capacitor',
  terminals: endsAAndB,
  fields: [
    { name: 'capacitance', title: 'capacitance', unit: 'F', required: true, read: anyCapacitance() },
    { name: 'tolerance', title: 'tolerance', unit: 'share', read: tolerance() },
    {
      name: 'leakage',
      title: 'leakage, as a resistance across it',
      unit: 'Ω',
      default: Number.POSITIVE_INFINITY,
      source: 'none until stated',
      read: quantity('Ω', { above: 0, word: 'none' }),
    },
    {
      name: 'series',
      title: 'resistance in series',
      unit: 'Ω',
      default: 0,
      source: 'ideal until stated',
      read: anyResistance(),
    },
    {
      name: 'initial',
      title: 'voltage of a above b at the start',
      unit: 'V',
      default: 0,
      source: 'empty until stated',
      read: quantity('V'),
    },
    { name: 'polarised', title: 'polarised, with a positive', read: flag() },
    { name: 'rating', title: 'voltage rating', unit: 'V', read: quantity('V', { above: 0 }) },
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
};
