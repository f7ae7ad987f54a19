import { type PartKind, REFERENCE } from '../../circuit/description.ts';
import { presses } from '../../circuit/schedule-fields.ts';
import { anyResistance, flag, quantity } from '../../field/value-readers.ts';

/**
 * A finger on a touch plate: behind the skin a body with a capacitance and a leak to earth, into which mains couples hum
 * where that is stated. Earth and the board's 0 V are one, or stray capacitance joins them (a board on a battery).
 */
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
      read: anyResistance(),
    },
    {
      name: 'earth',
      title: 'leak of the body to ground',
      unit: 'Ω',
      default: 100e6,
      source: 'assumed, no source',
      read: quantity('Ω', { above: 0, word: 'none' }),
    },
    {
      name: 'hum',
      title: 'amplitude of the mains voltage around the body',
      unit: 'V',
      default: 0,
      source: 'none until stated; 230 V mains has 325 V, only as a model, never as an instruction',
      read: quantity('V', { atLeast: 0 }),
    },
    {
      name: 'frequency',
      title: 'frequency of the hum',
      unit: 'Hz',
      default: 50,
      source: 'mains of most countries, 60 Hz in others; common practice, no source',
      read: quantity('Hz', { above: 0 }),
    },
    {
      name: 'coupling',
      title: 'capacitance from mains to the body',
      unit: 'F',
      default: 3e-12,
      source: 'assumed, no source: 0.2 µA from 230 V at 50 Hz',
      read: quantity('F', { above: 0 }),
    },
    {
      name: 'earthed',
      title: "whether the board's 0 V is at earth",
      default: true,
      source: 'body and hum are counted against 0 V until stated; never joined to mains earth on purpose',
      read: flag(),
    },
    {
      name: 'stray',
      title: 'capacitance of the board to earth, where it is not at earth',
      unit: 'F',
      default: 10e-12,
      source: 'assumed, no source: a hand-held board',
      read: quantity('F', { above: 0 }),
    },
  ],
  paths: () => [['a', REFERENCE]],
  steadyPaths: () => [],
  sources: () => [],
};
