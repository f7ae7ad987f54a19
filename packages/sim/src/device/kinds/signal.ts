import type { PartKind } from '../../circuit/description.ts';
import { anyResistance } from '../../field/value-readers.ts';
import { readWave } from '../../signal/read-wave.ts';
import { polesPlusAndMinus } from './terminals.ts';

/** A signal source: a voltage that follows a wave, behind a resistance. */
export const signal: PartKind = {
  kind: 'signal',
  title: 'signal',
  terminals: polesPlusAndMinus,
  fields: [
    { name: 'wave', title: 'voltage of plus above minus over time', required: true, read: readWave },
    {
      name: 'resistance',
      title: 'resistance inside',
      unit: 'Ω',
      default: 50,
      source: 'usual for signal generators; common practice, no source',
      read: anyResistance(),
    },
  ],
  paths: () => [['plus', 'minus']],
  sources: (part) => (part.values.resistance === 0 ? [['plus', 'minus']] : []),
};
