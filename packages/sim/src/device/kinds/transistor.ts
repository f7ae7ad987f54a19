import type { PartKind } from '../../circuit/description.ts';
import { fault } from '../../field/field-reader.ts';
import { choice, quantity, ratio } from '../../field/value-readers.ts';
import { formatQuantity } from '../../quantity/index.ts';

/** From memory: two transistors in one case come to some ten thousand; a single one never does. */
const MOST_GAIN = 100_000;

/**
 * A bipolar transistor: a base junction, and a path from collector to emitter. With a gain the collector carries that many
 * times the base current until it is saturated; without, it is a switch that is either open or saturated.
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
      name: 'gain',
      title: 'current gain from base to collector; without it a switch',
      read: ratio(MOST_GAIN),
    },
    {
      name: 'drive',
      title: 'base current from which a switch is saturated, until it falls to half of that',
      unit: 'A',
      defaultFrom: ({ gain }) =>
        gain === undefined
          ? { value: 100e-6, source: 'assumed, no source: a load of 10 mA at a current gain of 100' }
          : { value: undefined, source: 'none: a gain is stated' },
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
  derive: ({ gain, drive }) =>
    gain === undefined || drive === undefined
      ? { ok: true, values: {} }
      : {
          ...fault(
            `must be left out where gain is stated; got ${formatQuantity(drive as number, 'A', { exact: true })}. State one of the two: gain for an active region, drive for a switch.`,
          ),
          field: 'drive',
        },
  paths: () => [
    ['base', 'emitter'],
    ['collector', 'emitter'],
  ],
  steadyPaths: () => [['base', 'emitter']],
  sources: () => [],
};
