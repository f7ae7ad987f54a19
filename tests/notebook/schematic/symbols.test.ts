import { strokesOf } from '#notebook/schematic/symbols.ts';
import { expect, test } from 'vitest';

const paths = (...about: Parameters<typeof strokesOf>): string =>
  strokesOf(...about)
    .map(({ path, fill }) => `${fill} ${path}`)
    .join(' ');

/** Kinds whose symbols differ between IEC 60617 and IEEE Std 315-1975 (from memory of both). */
const differing = ['resistor', 'pot', 'capacitor', 'diode', 'led', 'button', 'switch', 'source'];
/** The contact of a relay, drawn apart from its winding. */
const contacts = ['relay make', 'relay break', 'relay changeover'];
const alike = [
  'supply',
  'signal',
  'jumper',
  'probe',
  'speaker',
  'transistor',
  'transistor pnp',
  'finger',
  'relay',
  'solenoid',
  'buzzer',
  ...contacts,
];

test.each(differing)('a %s has a symbol of its own in either standard', (kind) => {
  expect(paths(kind, 'IEEE 315')).not.toBe(paths(kind, 'IEC 60617'));
});

test.each(alike)('a %s is drawn alike in both standards', (kind) => {
  expect(paths(kind, 'IEEE 315')).toBe(paths(kind, 'IEC 60617'));
});

test.each(['IEC 60617', 'IEEE 315'] as const)('contacts after %s are drawn open and closed', (standard) => {
  for (const kind of ['button', 'switch', 'jumper', 'finger', ...contacts]) {
    expect(paths(kind, standard, true), kind).not.toBe(paths(kind, standard, false));
  }
  expect(paths('resistor', standard, true)).toBe(paths('resistor', standard, false));
});

test.each(['IEC 60617', 'IEEE 315'] as const)('after %s the wires of every part reach its ends', (standard) => {
  for (const kind of [...differing, ...alike]) {
    expect(paths(kind, standard), kind).toMatch(/-20(?!\d)/);
    // The other end of a finger is the body.
    if (kind !== 'finger') expect(paths(kind, standard), kind).toMatch(/V20(?!\d)/);
  }
});
