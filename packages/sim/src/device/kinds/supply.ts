import type { PartKind } from '../../circuit/description.ts';
import { changes } from '../../circuit/schedule-fields.ts';
import { anyResistance, choice, quantity } from '../../field/value-readers.ts';
import { polesPlusAndMinus } from './terminals.ts';

/** A battery or other supply: a voltage behind a resistance, which may step or ramp at stated times. */
export const supply: PartKind = {
  kind: 'supply',
  title: 'supply',
  terminals: polesPlusAndMinus,
  fields: [
    { name: 'voltage', title: 'voltage of plus above minus', unit: 'V', required: true, read: quantity('V') },
    {
      name: 'resistance',
      title: 'resistance inside',
      unit: 'Ω',
      default: 0,
      source: 'ideal until stated',
      read: anyResistance(),
    },
    {
      name: 'origin',
      title: 'where the power comes from',
      default: 'unknown',
      source: 'nothing is assumed until stated',
      read: choice(['unknown', 'battery', 'isolated']),
    },
    {
      name: 'changes',
      title: 'steps and ramps of the voltage',
      default: [],
      source: 'steady until stated',
      read: changes(),
    },
  ],
  paths: () => [['plus', 'minus']],
  sources: (part) => (part.values.resistance === 0 ? [['plus', 'minus']] : []),
};
