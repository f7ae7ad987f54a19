import fc from 'fast-check';
import { spread } from './arbitrary-numbers.ts';
import { net, nets } from './random-nets.ts';
import { timers } from './random-timers.ts';
import { between } from './random-values.ts';
import type { FilePart } from './run-board.ts';

/** A random circuit as a file holds it, and how long it is worth running (s). */
export interface RandomCircuit {
  readonly parts: readonly FilePart[];
  readonly until: number;
}

/** What random circuits may contain. */
export interface CircuitOptions {
  /** Least and greatest number of timers. */
  readonly timers: readonly [number, number];
  /** Whether ramps may occur: supplies and signals whose voltage moves in straight lines. */
  readonly ramps: boolean;
  /** Whether contacts without resistance may occur, so that charges jump and sources may be shorted. */
  readonly abrupt: boolean;
  /**
   * Whether every timer has a delay and a discharge switch with resistance, as real ones do. Without, an output that acts
   * on its own timer's inputs may switch endlessly at one instant, or inputs come to stand on limits of 0 V, and nothing
   * can be said of what follows.
   */
  readonly real: boolean;
  /** Least and greatest number of transistors that amplify, beside those that occur anyway; none if not given. */
  readonly amplifiers?: readonly [number, number];
}

const anyNet = fc.constantFrom('rail', 'ground', ...nets);

const presses = fc
  .array(fc.tuple(spread(1e-5, 1e-2), spread(1e-5, 1e-2)), { minLength: 1, maxLength: 3 })
  .map((list) => {
    let time = 0;
    return list.map(([gap, length]) => {
      const at = time + gap;
      time = at + length;
      return { at, for: length };
    });
  });

/** Every inner net hangs on the rail, on ground or on the net before it, so that nothing floats. */
const ties = fc
  .array(fc.tuple(fc.constantFrom('rail', 'ground', 'before'), spread(1e3, 1e6)), { minLength: 5, maxLength: 5 })
  .map((list) =>
    list.map(([to, resistance], k): FilePart => {
      const end = to === 'before' ? (nets[k - 1] ?? 'rail') : to;
      return { name: `R${k}`, kind: 'resistor', a: nets[k], b: end, resistance };
    }),
  );

const capacitors = fc
  .array(
    fc.record({
      a: net,
      b: anyNet,
      capacitance: spread(1e-9, 1e-6),
      leakage: fc.oneof({ arbitrary: fc.constant('none'), weight: 3 }, spread(1e5, 1e8)),
      series: fc.oneof({ arbitrary: fc.constant(0), weight: 3 }, spread(1, 1e3)),
      initial: fc.integer({ min: 0, max: 8 }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((list) =>
    list.filter(({ a, b }) => a !== b).map((fields, k): FilePart => ({ name: `C${k}`, kind: 'capacitor', ...fields })),
  );

const resistors = fc
  .array(fc.record({ a: net, b: anyNet, resistance: spread(1e3, 1e6) }), { maxLength: 3 })
  .map((list) =>
    list.filter(({ a, b }) => a !== b).map((fields, k): FilePart => ({ name: `RX${k}`, kind: 'resistor', ...fields })),
  );

const junctions = fc
  .array(
    fc.record({
      kind: fc.constantFrom('diode', 'led'),
      a: anyNet,
      b: anyNet,
      forward: spread(0.2, 3),
      slope: spread(1, 100),
    }),
    { maxLength: 2 },
  )
  .map((list) => list.filter(({ a, b }) => a !== b).map((fields, k): FilePart => ({ name: `D${k}`, ...fields })));

/** Mains around a body (V, amplitude), and what joins the two; as a sine it is made of ramps. */
const hum = fc.record({
  hum: spread(1, 325),
  frequency: spread(10, 100),
  coupling: spread(1e-12, 1e-11),
  earthed: fc.boolean(),
  stray: spread(1e-12, 1e-10),
});

/** Windings, most of them with a contact; its two ends may lie on one net, and so may its own winding. */
const windings = fc
  .record({
    a: anyNet,
    b: anyNet,
    resistance: spread(50, 1e5),
    pullIn: spread(1e-6, 1e-2),
    share: spread(0.05, 0.9),
    operateTime: spread(1e-5, 5e-3),
    releaseTime: spread(1e-5, 5e-3),
    contactResistance: spread(0.1, 1e3),
    insulation: spread(1e6, 1e10),
    form: fc.constantFrom('none', 'make', 'break', 'changeover'),
    common: anyNet,
    normallyOpen: anyNet,
    normallyClosed: anyNet,
  })
  .map(({ share, form, contactResistance, insulation, common, normallyOpen, normallyClosed, ...winding }) => {
    const fields = { ...winding, voltage: 12, dropOut: share * winding.pullIn };
    if (form === 'none') return { kind: 'solenoid', ...fields };
    const ends = {
      common,
      ...(form === 'break' ? {} : { normallyOpen }),
      ...(form === 'make' ? {} : { normallyClosed }),
    };
    return { kind: 'relay', ...fields, contactResistance, insulation, ...ends };
  });

const gain = fc.record({ gain: spread(5, 500) });

/** A transistor between any nets, with what says when it saturates. */
function transistor(limit: fc.Arbitrary<Record<string, number>>): fc.Arbitrary<{ readonly kind: string }> {
  return fc
    .record({
      kind: fc.constant('transistor'),
      polarity: fc.constantFrom('npn', 'pnp'),
      base: net,
      collector: fc.constantFrom('rail', ...nets, ...nets),
      emitter: fc.constantFrom('ground', 'rail', ...nets),
      limit,
      forward: spread(0.3, 1),
      saturation: spread(0.02, 0.3),
      slope: spread(1, 50),
    })
    .map(({ limit: stated, ...fields }) => ({ ...fields, ...stated }));
}

/** Transistors that amplify. */
function amplifiers([minLength, maxLength]: readonly [number, number]): fc.Arbitrary<FilePart[]> {
  return fc
    .array(transistor(gain), { minLength, maxLength })
    .map((list) => list.filter(joinsNets).map((fields, k) => ({ name: `T${k}`, ...fields })));
}

/** The kinds that nothing else here has, each at most once or twice. */
function others(ramps: boolean): fc.Arbitrary<FilePart[]> {
  return fc
    .array(
      fc.oneof(
        fc.record({ kind: fc.constant('speaker'), a: net, b: anyNet, resistance: spread(8, 100) }),
        fc.record({
          kind: fc.constant('source'),
          a: anyNet,
          b: anyNet,
          current: spread(1e-6, 1e-2),
          headroom: spread(0.1, 2),
        }),
        fc
          .record({ plus: net, minus: anyNet, resistance: spread(50, 1e4), least: spread(0.1, 8) })
          .map((fields) => ({ kind: 'buzzer', ...fields, most: 2 * fields.least })),
        windings,
        windings,
        fc.record({
          kind: fc.constant('probe'),
          a: net,
          resistance: spread(1e6, 1e8),
          capacitance: fc.oneof(fc.constant(0), spread(1e-11, 1e-9)),
        }),
        fc.record({
          kind: fc.constant('pot'),
          a: anyNet,
          wiper: net,
          b: anyNet,
          resistance: spread(1e3, 1e6),
          position: fc.integer({ min: 0, max: 100 }).map((percent) => percent / 100),
          end: spread(1, 100),
        }),
        transistor(fc.oneof(fc.record({ drive: spread(1e-6, 1e-3) }), gain)),
        fc
          .tuple(
            fc.record({
              kind: fc.constant('finger'),
              a: net,
              capacitance: spread(1e-10, 1e-9),
              resistance: spread(1e3, 1e5),
              earth: fc.oneof(fc.constant('none'), spread(1e6, 1e9)),
              touches: presses,
            }),
            ramps ? fc.oneof(fc.constant({}), hum) : fc.constant({}),
          )
          .map(([fields, mains]) => ({ ...fields, ...mains })),
      ),
      { maxLength: 2 },
    )
    .map((list) => list.filter(joinsNets).map((fields, k): FilePart => ({ name: `X${k}`, ...fields })));
}

/** Whether no two terminals of a part lie on one net. */
function joinsNets(part: object): boolean {
  const ends = Object.entries(part).flatMap(([field, value]) =>
    ['a', 'b', 'plus', 'minus', 'wiper', 'base', 'collector', 'emitter'].includes(field) ? [value as string] : [],
  );
  return new Set(ends).size === ends.length;
}

function signals(ramps: boolean): fc.Arbitrary<FilePart[]> {
  // A share of them goes past the rails, so that it meets the junctions at the inputs of timers.
  const tenths = fc.oneof(
    { arbitrary: fc.integer({ min: 0, max: 90 }), weight: 3 },
    fc.integer({ min: -40, max: 150 }),
  );
  const level = tenths.map((number) => number / 10);
  const pulses = fc
    .record({
      period: spread(1e-4, 1e-1),
      share: spread(0.01, 0.9),
      rest: level,
      pulse: level,
      delay: spread(1e-5, 1e-2),
    })
    .map(({ share, period, ...fields }) => ({ shape: 'pulses', period, width: share * period, ...fields }));
  const square = fc
    .record({ frequency: spread(10, 1e4), duty: spread(0.05, 0.95), high: level, low: level })
    .map((fields) => ({ shape: 'square', ...fields }));
  const sine = fc
    .record({ frequency: spread(10, 100), amplitude: spread(0.1, 9), offset: level, phase: between(0, 6) })
    .map((fields) => ({ shape: 'sine', ...fields }));
  const points = fc
    .record({
      steps: fc.array(fc.tuple(spread(1e-4, 1e-2), level), { minLength: 1, maxLength: 6 }),
      between: ramps ? fc.constantFrom('lines', 'steps') : fc.constant('steps'),
    })
    .map(({ steps, between: shape }) => {
      let time = 0;
      return { shape: 'points', between: shape, points: steps.map(([by, value]) => [(time += by), value]) };
    });
  return fc
    .array(
      fc.record({
        plus: net,
        wave: ramps ? fc.oneof(pulses, pulses, square, points, sine) : fc.oneof(pulses, square, points),
        resistance: spread(50, 1e4),
      }),
      {
        maxLength: 2,
      },
    )
    .map((list) => list.map((fields, k): FilePart => ({ name: `G${k}`, kind: 'signal', minus: 'ground', ...fields })));
}

function contacts(abrupt: boolean): fc.Arbitrary<FilePart[]> {
  const resistance = abrupt ? fc.oneof(fc.constant(0), spread(1, 1e4)) : spread(1, 1e4);
  const other = fc.constantFrom('ground', 'ground', 'rail', ...nets);
  return fc
    .array(
      fc.record({
        kind: fc.constantFrom('button', 'switch', 'jumper'),
        a: net,
        b: other,
        closed: fc.boolean(),
        resistance,
        presses,
      }),
      { maxLength: 2 },
    )
    .map((list) => list.filter(({ a, b }) => a !== b).map((fields, k): FilePart => ({ name: `S${k}`, ...fields })));
}

function supplies(ramps: boolean): fc.Arbitrary<FilePart> {
  const changes = fc.oneof(
    { arbitrary: fc.constant([]), weight: 3 },
    fc
      .record({
        at: spread(1e-4, 1e-2),
        voltage: fc.integer({ min: 1, max: 15 }),
        over: ramps ? spread(1e-5, 1e-2) : fc.constant(0),
      })
      .map((change) => [change]),
  );
  return fc
    .record({
      voltage: fc.integer({ min: 5, max: 15 }),
      resistance: fc.oneof(fc.constant(0), spread(0.1, 100)),
      changes,
    })
    .map(
      (fields): FilePart => ({
        name: 'BT1',
        kind: 'supply',
        plus: 'rail',
        minus: 'ground',
        origin: 'isolated',
        ...fields,
      }),
    );
}

/**
 * Circuits of one to six capacitors with timers, signals, contacts, junctions and what other kinds of parts there are, on
 * a supply that may be soft or change, all thrown together: most make no sense, none may make the engine fail.
 */
export function randomCircuits(options: CircuitOptions): fc.Arbitrary<RandomCircuit> {
  return fc
    .record({
      source: supplies(options.ramps),
      groups: fc.tuple(
        ties,
        capacitors,
        resistors,
        junctions,
        others(options.ramps),
        timers(options.timers, options.real),
        signals(options.ramps),
        contacts(options.abrupt),
        amplifiers(options.amplifiers ?? [0, 0]),
      ),
      until: spread(3e-3, 6e-2),
    })
    .map(({ source, groups, until }) => ({ parts: [source, ...groups.flat()], until }));
}
