import type { PartKind } from '../../circuit/description.ts';
import { choice, quantity } from '../../field/value-readers.ts';

/**
 * A bipolar transistor as a saturating switch: a base junction, and a path from collector to emitter that is either open
 * or saturated. There is no active region: an emitter follower or an amplifier is not for this part.
 */
export const transistor: PartKind = {
  kind: 'transistor',
  title: 'transistor',
  terminals: [
    { name: 'base', required: true },
    { name: 'collector', required: true },
    { name: 'emitter', required: true },
  ],
  fields: [
    {
      name: 'polarity',
      title: 'polarity',
      default: 'npn',
      source: 'npn until stated',
      read: choice(['npn', 'pnp']),
    },
    {
      name: 'drive',
      title: 'base current from which it is saturated, until it falls to half of that',
      unit: 'A',
      default: 100e-6,
      source: 'assumed, no source: a load of 10 mA at a current gain of 100',
      read: quantity('A', { above: 0 }),
    },
    {
      name: 'forward',
      title: 'voltage of base and emitter when conducting',
      unit: 'V',
      default: 0.65,
      source: 'silicon; common practice, no source',
      read: quantity('V', { atLeast: 0 }),
    },
    {
      name: 'saturation',
      title: 'voltage left between collector and emitter without current',
      unit: 'V',
      default: 0.1,
      source: 'from memory: 0.1 V to 0.2 V at small currents',
      read: quantity('V', { atLeast: 0 }),
    },
    {
      name: 'slope',
      title: 'resistance of either path above its voltage',
      unit: 'Ω',
      default: 5,
      source: 'from memory: a few ohms',
      // Above zero: without it a saturated transistor would be a source without resistance.
      read: quantity('Ω', { above: 0 }),
    },
  ],
  paths: () => [
    ['base', 'emitter'],
    ['collector', 'emitter'],
  ],
  steadyPaths: () => [['base', 'emitter']],
  sources: () => [],
};
