import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { GraphStore } from '#sim/engine/graph-store.ts';
import { OneStateRun } from '#sim/engine/one-state-run.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { beatOf } from '#sim/signal/beat.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { edgeSums, expectSame, inFull, prepareShort, shortly } from '../../support/short-way.ts';
import {
  astable,
  capacitor,
  lowPulses,
  monostable,
  resistor,
  signal,
  supply,
  timer,
} from '../../support/timer-circuits.ts';

test.each(['ideal', 'bipolar', 'cmos'])('OneStateRun.run() tells the edges of a divider: %s', (family) => {
  const circuit = circuitOf([
    ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7, ofTimer: { family } }),
    signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
  ]);
  const full = inFull(circuit, ['in', 'out'], 0.2);
  expect(full.length).toBeGreaterThan(400);
  expectSame(shortly(circuit, ['in', 'out'], 0.2), full);
});

test.each(['ideal', 'bipolar', 'cmos'])('OneStateRun.run() tells the edges of a free-running timer: %s', (family) => {
  const circuit = circuitOf(astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-7, ofTimer: { family } }));
  const full = inFull(circuit, ['out'], 1);
  expect(full.length).toBeGreaterThan(200);
  expectSame(shortly(circuit, ['out'], 1), full);
});

test('OneStateRun.run() counts a free-running timer for a million periods: (R1 + 2 R2) C ln 2 each', () => {
  const circuit = circuitOf(astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-7 }));
  const prepared = new GraphStore(standardDevices).prepare(circuit);
  const watched = ['rail', 'out'].map((net) => ({ signal: prepared.program.nodeNames.indexOf(net), level: 4.5 }));
  const run = new OneStateRun(prepared, watched, undefined);
  // The closed form of the timer trade for an ideal discharge; the first high time lasts (R1 + R2) C ln 3 instead.
  const period = 104e3 * 1e-7 * Math.log(2);
  const late = 57e3 * 1e-7 * (Math.log(3) - Math.log(2));
  let rises = 0;
  let latest = 0;
  const done = run.run(undefined, { from: 0, until: 1e6 * period }, 1e8, (_, high) => {
    if (!high) return;
    rises++;
    latest = run.edges.at;
  });
  expect(done).toBe(true);
  expect(rises).toBe(1e6);
  // Dates are sums of two parts, so a million periods lose no more than the last bits of one date.
  expect(Math.abs(latest - (late + (1e6 - 1) * period))).toBeLessThan(1e-12 * latest);
});

const dividers = fc.record({
  family: fc.constantFrom('ideal', 'bipolar', 'cmos'),
  voltage: fc.integer({ min: 5, max: 15 }),
  resistance: fc.integer({ min: 2, max: 300 }).map((kilohms) => kilohms * 1e3),
  leakage: fc.constantFrom(undefined, 1e6, 3e5),
  discharge: fc.constantFrom(undefined, 40, 900),
  period: fc.integer({ min: 50, max: 5000 }).map((microseconds) => microseconds / 1e6),
  share: fc.integer({ min: 1, max: 99 }),
  delay: fc.constantFrom(0, 1e-6, 3e-4, 1e-2),
  count: fc.constantFrom(undefined, 1, 20),
  square: fc.boolean(),
});

function dividerOf(values: typeof dividers extends fc.Arbitrary<infer Values> ? Values : never): Circuit {
  const { family, voltage, resistance, leakage, discharge, period, share, delay, count, square } = values;
  const wave = square
    ? { shape: 'square', frequency: 1 / period, duty: share / 100, high: 0, low: voltage, delay }
    : lowPulses(voltage, { period, width: (period * share) / 100, delay, ...(count === undefined ? {} : { count }) });
  return circuitOf([
    ...monostable({
      voltage,
      resistance,
      capacitance: 1e-8,
      ofCapacitor: leakage === undefined ? {} : { leakage },
      ofTimer: { family, with: discharge === undefined ? {} : { dischargeResistance: discharge } },
    }),
    signal('G1', 'in', wave),
  ]);
}

test('OneStateRun.run() tells the same edges as the general engine for any divider', () => {
  fc.assert(
    fc.property(dividers, (values) => {
      const circuit = dividerOf(values);
      const until = 60.005 * values.period;
      expectSame(shortly(circuit, ['in', 'out'], until), inFull(circuit, ['in', 'out'], until));
    }),
  );
});

test('OneStateRun.run() counts the same edges of an input as the general engine for any divider', () => {
  // Between edges of the input, so that rounding of dates cannot put one on the other side of a bound.
  fc.assert(
    fc.property(
      dividers,
      fc.constantFrom(0, 0.0037, 5.0037, 30.0037),
      fc.integer({ min: 2, max: 200 }),
      (values, first, pulses) => {
        const circuit = dividerOf(values);
        const window = { from: first * values.period, until: (pulses + 0.0051) * values.period };
        fc.pre(window.until > window.from);
        const expected: [boolean, number, number][] = [];
        let [rises, falls] = [0, 0];
        for (const { which, high, at } of inFull(circuit, ['in', 'out'], window.until)) {
          if (at < window.from) continue;
          if (which === 1) {
            expected.push([high, rises, falls]);
            [rises, falls] = [0, 0];
          } else if (high) rises++;
          else falls++;
        }
        const { run, beat } = prepareShort(circuit);
        const seen: [boolean, number, number][] = [];
        const told = run.run(beat, window, 1e6, (_, high) => seen.push([high, run.edges.rises, run.edges.falls]));
        expect(told).toBe(true);
        expect(seen).toEqual(expected);
        expect([run.edges.rises, run.edges.falls]).toEqual([rises, falls]);
      },
    ),
  );
});

test('OneStateRun.run() gives whole cycles to whoever counts them, and so the same sums for any divider', () => {
  let cycles = 0;
  fc.assert(
    fc.property(dividers, fc.constantFrom(0, 3.0037), fc.integer({ min: 20, max: 400 }), (values, first, pulses) => {
      const circuit = dividerOf(values);
      const window = { from: first * values.period, until: (pulses + 0.0051) * values.period };
      const short = prepareShort(circuit);
      const { sums: all } = edgeSums(short, window, 'edges');
      const { sums, cycles: more } = edgeSums(short, window, 'cycles');
      cycles += more;
      expect(sums).toEqual(all);
    }),
  );
  expect(cycles).toBeGreaterThan(100);
});

// As many stretches an interval as turns are remembered, and one and two more: the room of each turn is taken by another one.
test.each([16, 17, 18])('OneStateRun.run() tells the same edges where %d stretches follow each other', (ratio) => {
  const circuit = circuitOf([
    ...monostable({ voltage: 8, resistance: 247e3, capacitance: 1e-8 }),
    signal('G1', 'in', lowPulses(8, { period: (247e3 * 1e-8 * Math.log(3)) / (ratio - 0.25), width: 8e-5 })),
  ]);
  const until = 0.0271;
  const full = inFull(circuit, ['in', 'out'], until);
  // Ten intervals of 247 kΩ 10 nF ln 3 = 2.714 ms.
  expect(full.filter(({ which, high }) => which === 1 && high)).toHaveLength(10);
  expectSame(shortly(circuit, ['in', 'out'], until), full);
});

test('OneStateRun.run() counts the edges of the first signal between those of the others, within a stretch', () => {
  const circuit = circuitOf([
    ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7 }),
    signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4, delay: 5e-4 })),
  ]);
  const prepared = new GraphStore(standardDevices).prepare(circuit);
  const { wave } = prepared.program.inputs.find(({ part }) => part === 'G1')!;
  const watched = ['in', 'out'].map((net) => ({ signal: prepared.program.nodeNames.indexOf(net), level: 4.5 }));
  const run = OneStateRun.of(prepared, watched, 'G1')!;
  const seen: (readonly [boolean, number, number])[] = [];
  const told = run.run(beatOf(wave), { from: 1e-3, until: 8e-3 }, 1e6, (_, high) =>
    seen.push([high, run.edges.rises, run.edges.falls]),
  );
  expect(told).toBe(true);
  // An interval of 22 kΩ 100 nF ln 3 = 2.42 ms from each third pulse: out rises at 0.5, 3.5 and 6.5 ms and falls 2.42 ms later.
  // Pulses begin (falls of in) at 1.5, 2.5 ms, 3.5 ms and so on, and end 0.1 ms later.
  expect(seen).toEqual([
    [false, 2, 2],
    [true, 0, 1],
    [false, 3, 2],
    [true, 0, 1],
  ]);
});

describe('OneStateRun.run() leaves to the general engine', () => {
  const board = monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7 });
  const pulses = signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 }));
  const withoutCapacitor = board.filter(({ name }) => name !== 'C1');
  // A loose net that a current moves, with the stray that it always has.
  const loose = [
    { name: 'I1', kind: 'source', a: 'z', b: 'ground', current: 5e-8, headroom: 0.5 },
    { name: 'D1', kind: 'diode', a: 'z', b: 'rail' },
    { name: 'S2', kind: 'switch', a: 'rail', b: 'z' },
  ];
  const justReached = monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7, ofCapacitor: { leakage: 44e3 } });
  const chattering = [
    supply(9),
    timer('U1', { trigger: 'x', threshold: 'x', discharge: 'x', output: 'out' }),
    resistor('R1', 'rail', 'x', 1e3),
    resistor('R2', 'in', 'ground', 1e3),
  ];
  // Transistors that drive each other on, one of them through the only capacitor: a mode that cannot be told.
  const half = (one: string) => [
    resistor(`RC${one}`, 'rail', `c${one}`, 1e3),
    resistor(`RB${one}`, 'rail', `b${one}`, 300e3),
    { name: `T${one}`, kind: 'transistor', gain: 100, base: `b${one}`, collector: `c${one}`, emitter: 'ground' },
  ];
  const link = [capacitor('C9', 'c2', 'b1', 1e-7), resistor('R9', 'c1', 'b2', 100e3)];
  const pair = [...withoutCapacitor, pulses, ...half('1'), ...half('2'), ...link];
  const press = { name: 'S1', kind: 'button', a: 'timing', b: 'ground', presses: [{ at: 1e-3, for: 1e-3 }] };
  const ramp = signal('G2', 'aside', {
    shape: 'points',
    between: 'lines',
    points: [
      [0, 0],
      [1, 5],
    ],
  });
  const beside = signal('G2', 'aside', lowPulses(9, { period: 2e-3, width: 1e-4 }));
  const filling = { name: 'I1', kind: 'source', a: 'rail', b: 'far', current: 1e-6, headroom: 0.5 };

  test.each([
    [
      'a second state',
      [...board, pulses, resistor('R9', 'out', 'far', 1e3), capacitor('C9', 'far', 'ground', 1e-7)],
      'out',
    ],
    ['a signal that passes its level on a curve', [...board, pulses], 'timing'],
    ['a contact that moves', [...board, pulses, press], 'out'],
    ['a loose net that a current moves', [...withoutCapacitor, pulses, ...loose], 'out'],
    ['transistors that drive each other', pair, 'out'],
    // At 44 kohm of leakage 9 V behind 22 kohm come up to 6 V, the limit, and no further.
    ['a limit that is only just reached', [...justReached, pulses], 'out'],
    ['comparators that switch each other without end', [...chattering, pulses], 'out'],
    ['an input that ramps beside the beat', [...board, pulses, ramp], 'out'],
    ['a second input that moves', [...board, pulses, beside], 'out'],
    [
      'a capacitor that a constant current fills',
      [...withoutCapacitor, pulses, filling, capacitor('C9', 'far', 'ground', 1e-7)],
      'out',
    ],
  ] as const)('%s', (_, parts, net) => {
    expect(shortly(circuitOf([...parts]), [net], 0.01)).toBeUndefined();
  });

  test('none of a board that has nothing of it', () => {
    expect(shortly(circuitOf([...board, pulses]), ['out'], 0.01)).toBeDefined();
  });

  test('more events than allowed', () => {
    const prepared = new GraphStore(standardDevices).prepare(circuitOf([...board, pulses]));
    const index = prepared.program.inputs.findIndex(({ wave }) => beatOf(wave) !== undefined);
    const beat = beatOf(prepared.program.inputs[index]!.wave)!;
    const run = new OneStateRun(prepared, [], { index, rest: beat.rest, raised: beat.raised });
    expect(run.run(beat, { from: 0, until: 0.1 }, 10, () => {})).toBe(false);
    expect(run.run(beat, { from: 0, until: 0.1 }, 1e4, () => {})).toBe(true);
  });

  test('what its caller stops, looked at after every 1024 instants with edges', () => {
    // At 900 Ω of discharge the capacitor has no time to empty, so that no turn comes again and every edge is told by itself.
    const [period, width] = [47e-6, 5e-6];
    const uneven = circuitOf([
      ...monostable({
        voltage: 9,
        resistance: 22e3,
        capacitance: 1e-8,
        ofTimer: { family: 'ideal', with: { dischargeResistance: 900 } },
      }),
      signal('G1', 'in', lowPulses(9, { period, width })),
    ]);
    const prepared = new GraphStore(standardDevices).prepare(uneven);
    const watched = ['in', 'out'].map((net) => ({ signal: prepared.program.nodeNames.indexOf(net), level: 4.5 }));
    const beat = beatOf(prepared.program.inputs.find(({ part }) => part === 'G1')!.wave);
    const run = OneStateRun.of(prepared, watched, 'G1')!;
    const toldUntil = (periods: number, aborted: boolean): [boolean, number] => {
      const done = run.run(beat, { from: 0, until: periods * period }, 1e6, () => {}, undefined, { aborted });
      return [done, run.edges.told];
    };
    expect(toldUntil(100, true)[0]).toBe(true);
    expect(toldUntil(5000, true)).toEqual([false, 1024]);
    const [done, told] = toldUntil(5000, false);
    expect(done).toBe(true);
    expect(told).toBeGreaterThan(1024);
  });

  test('parts that follow no beat', () => {
    const prepared = new GraphStore(standardDevices).prepare(circuitOf([...board, pulses, ramp]));
    expect(OneStateRun.of(prepared, [], 'G1')).toBeDefined();
    for (const part of ['G2', 'G9']) expect(OneStateRun.of(prepared, [], part)).toBe(undefined);
  });
});
