import type { PartKind } from '../../circuit/description.ts';
import { choice, quantity } from '../../field/value-readers.ts';
import { anodeAndCathode, slope } from './junction.ts';

const TYPICAL = 'typical of 5 mm LEDs; common practice, no source';

/** Forward voltage (V) by colour, with its origin. The first colour is the default. */
export const ledColours: Readonly<Record<string, { readonly forward: number; readonly source: string }>> = {
  red: { forward: 1.7, source: `red, 660 nm, at 10 mA: ${TYPICAL}` },
  bright_red: { forward: 2, source: `bright red, 625 nm, at 10 mA: ${TYPICAL}` },
  yellow: { forward: 2.1, source: `yellow, 590 nm, at 10 mA: ${TYPICAL}` },
  green: { forward: 2.2, source: `green, 565 nm, at 10 mA: ${TYPICAL}` },
  blue: { forward: 3.2, source: 'blue, at 20 mA: from memory, middle of 3.0 V to 3.4 V' },
  white: { forward: 3.2, source: 'white, at 20 mA: from memory, middle of 3.0 V to 3.4 V' },
};

/** A light-emitting diode: a diode whose light is in proportion to its current. */
export const led: PartKind = {
  kind: 'led',
  title: 'LED',
  terminals: anodeAndCathode,
  fields: [
    {
      name: 'colour',
      title: 'colour',
      default: 'red',
      source: 'red until stated',
      read: choice(Object.keys(ledColours)),
    },
    {
      name: 'forward',
      title: 'forward voltage',
      unit: 'V',
      defaultFrom: ({ colour }) => {
        const { forward, source } = ledColours[String(colour)] ?? { forward: 1.7, source: TYPICAL };
        return { value: forward, source };
      },
      read: quantity('V', { atLeast: 0 }),
    },
    slope,
    {
      name: 'limit',
      title: 'largest lasting current',
      unit: 'A',
      default: 20e-3,
      source: 'not stated; 20 mA is the limit used until stated',
      read: quantity('A', { above: 0 }),
    },
  ],
  paths: () => [['a', 'b']],
  sources: () => [],
};
