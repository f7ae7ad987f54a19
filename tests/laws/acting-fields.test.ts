import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit, Part } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { timerFamilies, timerParameters } from '#sim/device/families.ts';
import { circuitOf } from '../support/circuit-issues.ts';
import { nodalModelOf } from '../support/nodal/read-circuit.ts';
import { randomCircuits } from '../support/random-circuit.ts';

/**
 * Random circuits prove nothing about a field that never differs, or that the independent model passes over: both then
 * tell the same story without it. Here stands what has no say in voltages and currents; everything else must be drawn,
 * and read by the model.
 */
const WITHOUT_EFFECT: Readonly<Record<string, readonly string[]>> = {
  supply: ['origin'],
  resistor: ['tolerance', 'rating'],
  capacitor: ['tolerance', 'polarised', 'rating'],
  // The colour only proposes a forward voltage; the limit is only watched.
  led: ['colour', 'limit'],
  // The rated voltage only proposes currents; the others are only watched.
  relay: ['voltage', 'most', 'longest'],
  solenoid: ['voltage', 'most', 'longest'],
  // Watched, and heard.
  buzzer: ['most', 'frequency'],
  // Both become parameters, which are looked at one by one.
  timer: ['family', 'with'],
};
/** Only watched as well. */
const PARAMETERS_WITHOUT_EFFECT = ['supplyMinimum', 'supplyMaximum', 'outputMaximum', 'outputSinkMaximum'];
/** Fields that random circuits leave alone, and why. */
const NOT_DRAWN = [
  // Random returns at random times: the model knows no bouncing contact, and refuses it.
  'button.bounce',
  'switch.bounce',
  'jumper.bounce',
  'relay.bounce',
];

/** Circuits looked at, by a seed of their own; the rarest field is drawn in more than one of a hundred. */
const CIRCUITS = 1500;

const drawn = randomCircuits({ timers: [1, 3], ramps: true, abrupt: false, real: true });
const circuits: readonly { circuit: Circuit; until: number }[] = fc
  .sample(drawn, { numRuns: CIRCUITS, seed: 1 })
  .map(({ parts, until }) => ({ circuit: circuitOf(parts), until }));

/** Every field that acts, as kind.field; of timers every parameter. */
const acting = [...standardKinds].flatMap(([kind, { fields }]) => {
  const without = WITHOUT_EFFECT[kind] ?? [];
  return fields.filter(({ name }) => !without.includes(name)).map(({ name }) => `${kind}.${name}`);
});
const parameters = Object.keys(timerParameters('ideal'))
  .filter((name) => !PARAMETERS_WITHOUT_EFFECT.includes(name))
  .map((name) => `parameter ${name}`);

/** The part, telling what is read of its values. */
function overheard(part: Part, hear: (name: string) => void): Part {
  const listen = (values: object, name: (field: string) => string): object =>
    new Proxy(values, {
      get(target, field, receiver): unknown {
        const value: unknown = Reflect.get(target, field, receiver);
        if (field === 'parameters') return listen(value as object, (inner) => `parameter ${inner}`);
        hear(name(String(field)));
        return value;
      },
    });
  return { ...part, values: listen(part.values, (field) => `${part.kind}.${field}`) as Part['values'] };
}

describe('random circuits and the independent model', () => {
  test('the model reads every field that acts', () => {
    const heard = new Set<string>();
    for (const { circuit, until } of circuits) {
      const parts = circuit.parts.map((part) => overheard(part, (name) => heard.add(name)));
      nodalModelOf({ ...circuit, parts }, until);
    }
    expect([...acting, ...parameters].filter((name) => !heard.has(name))).toEqual([]);
  });

  test('every field that acts is drawn with more than one value', () => {
    const seen = new Map<string, Set<string>>();
    const see = (name: string, value: unknown): void => {
      seen.set(name, (seen.get(name) ?? new Set()).add(JSON.stringify(value) ?? 'absent'));
    };
    for (const part of circuits.flatMap(({ circuit }) => circuit.parts)) {
      for (const [field, value] of Object.entries(part.values)) {
        if (field !== 'parameters') see(`${part.kind}.${field}`, value);
        else for (const [name, one] of Object.entries(value as object)) see(`parameter ${name}`, one);
      }
    }
    const expected = acting.filter((name) => !NOT_DRAWN.includes(name));
    expect([...expected].filter((name) => (seen.get(name)?.size ?? 0) < 2)).toEqual([]);
    // The families differ in some parameters; what is drawn must be more than these.
    const few = timerFamilies.length + 1;
    const drawnParameters = parameters.filter((name) => name !== 'parameter outputOneWay');
    expect(drawnParameters.filter((name) => (seen.get(name)?.size ?? 0) < few)).toEqual([]);
  });
});
