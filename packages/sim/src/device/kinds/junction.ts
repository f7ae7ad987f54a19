import type { Field, Terminal } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';

/** `a` is the anode, `b` the cathode: current flows from `a` to `b`. */
export const anodeAndCathode: readonly Terminal[] = [
  { name: 'a', required: true },
  { name: 'b', required: true },
];

/** Resistance of a diode or LED above its forward voltage. */
export const slope: Field = {
  name: 'slope',
  title: 'resistance above the forward voltage',
  unit: 'Ω',
  default: 10,
  source: 'from memory: 10 Ω to 15 Ω at 10 mA to 20 mA',
  // Above zero: without it a conducting diode would be a source without resistance.
  read: quantity('Ω', { above: 0 }),
};
