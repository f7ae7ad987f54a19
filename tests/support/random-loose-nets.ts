import fc from 'fast-check';
import { spread } from './arbitrary-numbers.ts';
import type { RandomCircuit } from './random-circuit.ts';
import type { FilePart } from './run-board.ts';

/** Nets that nothing holds in every mode. */
const looseNets: readonly string[] = ['z1', 'z2', 'z3'];
const loose = fc.constantFrom(...looseNets);
const any = fc.constantFrom('rail', 'ground', 'n1', ...looseNets);

function named(
  letter: string,
  list: readonly { readonly kind: string; readonly a: string; readonly b: string }[],
): FilePart[] {
  return list.filter(({ a, b }) => a !== b).map((fields, k) => ({ name: `${letter}${k}`, ...fields }));
}

/** A supply that moves, so that what hangs on it does. */
const moving = fc
  .array(fc.tuple(spread(1e-5, 1e-3), spread(1e-5, 1e-3), fc.integer({ min: 0, max: 15 })), { maxLength: 3 })
  .map((list) => {
    let time = 0;
    return list.map(([gap, over, voltage]) => {
      const at = time + gap;
      time = at + over;
      return { at, voltage, over };
    });
  });

const switches = fc.array(
  fc.record({
    kind: fc.constant('switch'),
    a: loose,
    b: any,
    closed: fc.boolean(),
    resistance: spread(1, 1e4),
    presses: fc.tuple(spread(1e-5, 1e-3), spread(1e-5, 1e-3)).map(([at, length]) => [{ at, for: length }]),
  }),
  { minLength: 1, maxLength: 3 },
);

const junctions = fc.array(
  fc.record({
    kind: fc.constantFrom('diode', 'led'),
    a: any,
    b: any,
    forward: spread(0.2, 2),
    slope: spread(1, 100),
  }),
  { minLength: 1, maxLength: 4 },
);

const sources = fc.array(
  fc.record({ kind: fc.constant('source'), a: any, b: any, current: spread(1e-10, 1e-5), headroom: spread(0.1, 2) }),
  { minLength: 1, maxLength: 3 },
);

/**
 * A timer that leaks into loose nets: through its inputs, or through its discharge with the inputs elsewhere, so that it
 * cannot rightly switch itself without end. Its output leads to a lamp alone.
 */
const leaking = fc
  .oneof(
    fc.record({ trigger: loose, threshold: loose }),
    fc.record({ trigger: fc.constant('rail'), threshold: fc.constant('ground'), discharge: loose }),
  )
  .chain((pins) =>
    fc.record({
      family: fc.constantFrom('cmos', 'bipolar'),
      start: fc.constantFrom('set', 'cleared'),
      pins: fc.constant(pins),
    }),
  )
  .map(({ family, start, pins }): FilePart[] => [
    {
      name: 'U1',
      kind: 'timer',
      family,
      start,
      pins: { supply: 'rail', ground: 'ground', reset: 'rail', output: 'out', ...pins },
    },
    { name: 'RL', kind: 'resistor', a: 'out', b: 'lit', resistance: 1e3 },
    { name: 'LL', kind: 'led', a: 'lit', b: 'ground' },
  ]);

/**
 * Circuits around nets that are held by nothing but switches and diodes, moved by constant currents, on a supply that
 * ramps. Some are refused, where a net cannot be reached at all.
 */
export const looseCircuits: fc.Arbitrary<RandomCircuit> = fc
  .record({
    voltage: fc.integer({ min: 0, max: 15 }),
    changes: moving,
    groups: fc.tuple(
      fc.oneof(fc.constant<FilePart[]>([]), leaking),
      switches.map((list) => named('S', list)),
      junctions.map((list) => named('D', list)),
      sources.map((list) => named('I', list)),
    ),
    until: spread(1e-4, 5e-3),
  })
  .map(({ voltage, changes, groups, until }) => ({
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', origin: 'isolated', voltage, changes },
      { name: 'RN', kind: 'resistor', a: 'rail', b: 'n1', resistance: 1e4 },
      { name: 'CN', kind: 'capacitor', a: 'n1', b: 'ground', capacitance: 1e-8 },
      ...groups.flat(),
    ],
    until,
  }));
