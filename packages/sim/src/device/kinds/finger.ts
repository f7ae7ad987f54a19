import { type PartKind, REFERENCE } from '../../circuit/description.ts';
import { presses } from '../../circuit/schedule-fields.ts';
import { quantity } from '../../field/value-readers.ts';

/** A finger on a touch plate: the body as a capacitance and a leak to the board's 0 V, behind the skin. */
export const finger: PartKind = {
  kind: 'finger',
  title: 'finger',
  terminals: [{ name: 'a', required: true }],
  fields: [
    { name: 'touches', title: 'when it touches', default: [], source: 'away until stated', read: presses() },
    {
      name: 'capacitance',
      title: 'capacitance of the body to earth',
      unit: 'F',
      default: 100e-12,
      source: 'common practice, no source',
      read: quantity('F', { above: 0 }),
    },
    {
      name: 'resistance',
      title: 'resistance of the skin',
      unit: 'Ω',
      default: 10e3,
      source: 'common practice, no source',
      read: quantity('Ω', { atLeast: 0 }),
    },
    {
      name: 'earth',
      title: 'leak of the body to ground',
      unit: 'Ω',
      default: 100e6,
      source: 'assumed, no source',
      read: quantity('Ω', { above: 0, word: 'none' }),
    },
  ],
  paths: () => [['a', REFERENCE]],
  steadyPaths: () => [],
  sources: () => [],
};
