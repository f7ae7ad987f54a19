import { dangers } from '#sim/circuit/dangers.ts';
import { circuitOf, plain } from './circuit-issues.ts';

/** A battery `BT1` on the rail, 12 V unless stated. */
export const battery = (voltage: unknown = '12 V', more: object = {}) => {
  return { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage, origin: 'battery', ...more };
};
/** Rated so that nothing happens to it, unless a test is about just that. */
export const resistor = (name: string, a: string, b: string, resistance: unknown, rating: unknown = '2 kW') => {
  return { name, kind: 'resistor', a, b, resistance, rating };
};
/** What keeps a rail from being loose. */
export const load = resistor('RL', 'rail', 'ground', '10 kΩ');
/** An electrolytic capacitor `C1` of 47 µF and 25 V. */
export const electrolytic = (a: string, b: string, more: object = {}) => {
  return { name: 'C1', kind: 'capacitor', a, b, capacitance: '47 µF', polarised: true, rating: '25 V', ...more };
};
/** An LED `D1`. */
export const led = (a: string, b: string, more: object = {}) => ({ name: 'D1', kind: 'led', a, b, ...more });
/** A timer `U1` on the rail, quiet unless its pins say otherwise. */
export const timer = (family: string, pins: object = {}, more: object = {}) => {
  const usual = { supply: 'rail', ground: 'ground', trigger: 'rail', threshold: 'rail', output: 'out' };
  return { name: 'U1', kind: 'timer', family, pins: { ...usual, ...pins }, ...more };
};
/** Pulses `G1` on a net. */
export const signal = (net: string, rest: unknown, pulse: unknown) => {
  const wave = { shape: 'pulses', period: 1, width: 0.1, rest, pulse };
  return { name: 'G1', kind: 'signal', plus: net, minus: 'ground', wave };
};

/** The dangers of a board of these parts, in plain spaces. */
export function dangersOf(...parts: unknown[]): string[] {
  return dangers(circuitOf(parts)).map(plain);
}
