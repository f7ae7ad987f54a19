import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { GraphStore } from '#sim/engine/graph-store.ts';
import { OneStateRun } from '#sim/engine/one-state-run.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { edgeFeed } from '#sim/measure/edge-feed.ts';
import { highLevel, runCircuit } from '#sim/run/simulate.ts';
import { beatOf } from '#sim/signal/beat.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { astable, capacitor, lowPulses, monostable, resistor, signal } from '../../support/timer-circuits.ts';

interface Edge {
  readonly which: number;
  readonly high: boolean;
  readonly at: number;
}

/** The edges of some nets up to a time, by the general engine. */
function inFull(circuit: Circuit, nets: readonly string[], until: number): Edge[] {
  const level = highLevel(circuit);
  const edges: Edge[] = [];
  const feed = edgeFeed(
    nets.map((net) => ({ net, level })),
    { from: 0, until },
    ({ which, high, at }) => edges.push({ which, high, at: at.high }),
  );
  expect(runCircuit(circuit, { until, observers: [feed] }).ok).toBe(true);
  return edges;
}

/** The same by the short way; undefined where it gives up. */
function shortly(circuit: Circuit, nets: readonly string[], until: number): Edge[] | undefined {
  const prepared = new GraphStore(standardDevices).prepare(circuit);
  const { inputs, nodeNames } = prepared.program;
  const index = inputs.findIndex(({ wave }) => beatOf(wave) !== undefined);
  const beat = index < 0 ? undefined : beatOf(inputs[index]!.wave);
  const watched = nets.map((net) => ({ signal: nodeNames.indexOf(net), level: highLevel(circuit) }));
  const run = new OneStateRun(prepared, watched, beat && { index, rest: beat.rest, raised: beat.raised });
  const edges: Edge[] = [];
  const done = run.run(beat, until, 1e6, (which, high, at) => edges.push({ which, high, at }));
  return done ? edges : undefined;
}

function expectSame(short: readonly Edge[] | undefined, full: readonly Edge[]): void {
  expect(short?.map(({ which, high }) => [which, high])).toEqual(full.map(({ which, high }) => [which, high]));
  // Both are exact to rounding; a capacitor that has hardly emptied makes the next interval worse conditioned.
  short?.forEach(({ at }, i) => expect(Math.abs(at - full[i]!.at)).toBeLessThanOrEqual(1e-12 * full[i]!.at));
}

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
  const run = new OneStateRun(prepared, [{ signal: prepared.program.nodeNames.indexOf('out'), level: 4.5 }], undefined);
  // The closed form of the timer trade for an ideal discharge; the first high time lasts (R1 + R2) C ln 3 instead.
  const period = 104e3 * 1e-7 * Math.log(2);
  const late = 57e3 * 1e-7 * (Math.log(3) - Math.log(2));
  let rises = 0;
  let latest = 0;
  const done = run.run(undefined, 1e6 * period, 1e8, (_, high, at) => {
    if (!high) return;
    rises++;
    latest = at;
  });
  expect(done).toBe(true);
  expect(rises).toBe(1e6);
  // Dates are sums of two parts, so a million periods lose no more than the last bits of one date.
  expect(Math.abs(latest - (late + (1e6 - 1) * period))).toBeLessThan(1e-12 * latest);
});

test('OneStateRun.run() tells the same edges as the general engine for any divider', () => {
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
  fc.assert(
    fc.property(dividers, (values) => {
      const { family, voltage, resistance, leakage, discharge, period, share, delay, count, square } = values;
      const wave = square
        ? { shape: 'square', frequency: 1 / period, duty: share / 100, high: 0, low: voltage, delay }
        : lowPulses(voltage, {
            period,
            width: (period * share) / 100,
            delay,
            ...(count === undefined ? {} : { count }),
          });
      const circuit = circuitOf([
        ...monostable({
          voltage,
          resistance,
          capacitance: 1e-8,
          ofCapacitor: leakage === undefined ? {} : { leakage },
          ofTimer: { family, with: discharge === undefined ? {} : { dischargeResistance: discharge } },
        }),
        signal('G1', 'in', wave),
      ]);
      expectSame(shortly(circuit, ['in', 'out'], 60.005 * period), inFull(circuit, ['in', 'out'], 60.005 * period));
    }),
  );
});

test('OneStateRun.run() leaves what does not fit to the general engine', () => {
  const board = monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7 });
  const pulses = signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 }));
  // A second state.
  const more = [resistor('R9', 'out', 'far', 1e3), capacitor('C9', 'far', 'ground', 1e-7)];
  expect(shortly(circuitOf([...board, pulses, ...more]), ['out'], 0.01)).toBeUndefined();
  // A signal that passes its level on a curve.
  expect(shortly(circuitOf([...board, pulses]), ['timing'], 0.01)).toBeUndefined();
  // A contact that moves.
  const press = { name: 'S1', kind: 'button', a: 'timing', b: 'ground', presses: [{ at: 1e-3, for: 1e-3 }] };
  expect(shortly(circuitOf([...board, pulses, press]), ['out'], 0.01)).toBeUndefined();
  // More events than allowed.
  const prepared = new GraphStore(standardDevices).prepare(circuitOf([...board, pulses]));
  const index = prepared.program.inputs.findIndex(({ wave }) => beatOf(wave) !== undefined);
  const beat = beatOf(prepared.program.inputs[index]!.wave)!;
  const run = new OneStateRun(prepared, [], { index, rest: beat.rest, raised: beat.raised });
  expect(run.run(beat, 0.1, 10, () => {})).toBe(false);
  expect(run.run(beat, 0.1, 1e4, () => {})).toBe(true);
});
