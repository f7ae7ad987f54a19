import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { Audience } from '#sim/engine/audience.ts';
import { Driver } from '#sim/engine/driver.ts';
import { buildProgram, signalTable } from '#sim/engine/program.ts';
import { Stepper } from '#sim/engine/stepper.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { LookingGraph } from '../../support/looking-graph.ts';
import type { FilePart } from '../../support/run-board.ts';
import { everything } from '../../support/shown-run.ts';
import { capacitor, lowPulses, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

// A step that is foreseen is the one that a look at all guards takes, bit for bit; here where that is not plain, and on
// random circuits as a law (`tests/laws/outlook.test.ts`).

/** The interval of 10 kohm and 1 uF (s). */
const INTERVAL = 0.01 * Math.log(3);
const interval = monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6 });

const pulses = (period: number, width: number, more = {}): FilePart =>
  signal('G1', 'in', lowPulses(9, { period, width, ...more }), { resistance: 0 });

/** An RC beside a square wave, of which each step is short or long beside its time constant of 1 ms. */
const beside = (half: number): FilePart[] => [
  signal('G1', 'in', { shape: 'pulses', rest: 0, pulse: 9, period: 2 * half, width: half }, { resistance: 0 }),
  resistor('R1', 'in', 'x', 1e3),
  capacitor('C1', 'x', 'ground', 1e-6),
];

function expectTheSame(parts: readonly FilePart[], until: number): void {
  const circuit = circuitOf(parts);
  const program = buildProgram(circuit, standardDevices);
  const looked = everything(program, until, 100, new LookingGraph(program, voltScale(program)));
  expect(everything(buildProgram(circuit, standardDevices), until, 100)).toEqual(looked);
}

describe('ForeseenStep.take() is the step by looking', () => {
  test.each([
    ['a hundredth of a time constant', 1e-5],
    ['a tenth of it', 1e-4],
    ['four of it', 4e-3],
    ['a thousand of it', 1],
  ])('where nothing but the clock ends it, after %s', (_, half) => {
    expectTheSame(beside(half), 4.5 * half);
  });

  test('where a limit ends it', () => {
    expectTheSame([...interval, pulses(0.02, 1e-3)], 0.05);
  });

  test.each([1, 2, 3])('where a limit and an edge come at one instant, %i periods after a start', (k) => {
    const period = INTERVAL / k;
    expectTheSame([...interval, pulses(period, period / 10)], 3.5 * INTERVAL);
  });

  test.each([
    ['a little before', -1e-9],
    ['hardly before', -1e-14],
    ['hardly after', 1e-14],
    ['a little after', 1e-9],
  ])('where an edge comes %s a limit', (_, share) => {
    expectTheSame([...interval, pulses(INTERVAL * (1 + share), 1e-3, { count: 3 })], 2 * INTERVAL);
  });

  test.each([
    ['a microfarad', 1e-6],
    ['a millifarad', 1e-3],
  ])(
    'where %s is past a limit that it approaches slowly by less than rounding when an edge comes',
    (_, capacitance) => {
      // A leak lets it tend to 6.001 V: it passes 6 V at a thousandth of a volt per time constant.
      const leakage = (10e3 * 6.001) / 2.999;
      const slow = monostable({ voltage: 9, resistance: 10e3, capacitance, ofCapacitor: { leakage } });
      const passes = ((10e3 * leakage) / (10e3 + leakage)) * capacitance * Math.log(6.001 / 0.001);
      for (const share of [1e-12, 3e-12, 1e-11, 1e-9]) {
        expectTheSame([...slow, pulses(passes * (1 + share), 1e-3, { count: 3 })], 1.5 * passes);
      }
    },
  );

  test('where a limit comes at the end of the run, or an edge', () => {
    expectTheSame([...interval, pulses(1, 1e-3, { count: 1 })], INTERVAL);
    const circuit = circuitOf([...interval, pulses(1, 0.5)]);
    expectTheSame([...interval, pulses(1, 0.5)], 0.5);
    // What is due at the end has happened.
    const times: number[] = [];
    runCircuit(circuit, { until: 0.5, observers: [{ event: ({ part, time }) => part === 'G1' && times.push(time) }] });
    expect(times).toEqual([0.5]);
  });

  test('where the run is asked to go on to a time that is over: it stays, and goes on from there', () => {
    const program = buildProgram(circuitOf(beside(1e-3)), standardDevices);
    const [asked, straight] = [new Driver(program, []), new Driver(program, [])];
    asked.advance(4.5e-3, { maxEvents: 100 });
    const before = asked.checkpoint();
    expect(asked.advance(1.5e-3, { maxEvents: 100 })).toMatchObject({ code: 'reached', time: 4.5e-3 });
    expect(asked.checkpoint()).toEqual(before);
    for (const driver of [asked, straight]) driver.advance(8.5e-3, { maxEvents: 100 });
    expect(asked.checkpoint()).toEqual(straight.checkpoint());
  });
});

describe('ForeseenStep.take() goes no further', () => {
  /** Steps until a step says that there is none after it. */
  function stepped(parts: readonly FilePart[], maxEvents: number): Stepper {
    const program = buildProgram(circuitOf(parts), standardDevices);
    const stepper = new Stepper(program, new Audience([], signalTable(program)));
    let left = 1e4;
    while (stepper.step(1, { maxEvents })) if (left-- === 0) throw new Error('It goes on for ever.');
    return stepper;
  }

  test('where comparators switch each other for ever', () => {
    const ring = [
      supply(9),
      timer('U1', { trigger: 'out', threshold: 'out', output: 'out' }, { with: { delay: 0 } }),
      ...beside(1).slice(1),
      resistor('R2', 'rail', 'in', 1e3),
    ];
    expect(stepped(ring, 1e5).failure).toMatchObject({ code: 'chatter', parts: ['U1'] });
  });

  test('where a contact makes a short', () => {
    const contact = {
      name: 'S1',
      kind: 'button',
      a: 'in',
      b: 'ground',
      resistance: 0,
      presses: [{ at: 0.55, for: 1 }],
    };
    const { failure, time } = stepped([...beside(0.1), contact], 100);
    expect(failure).toMatchObject({ code: 'short' });
    expect(time).toBe(0.55);
  });

  test('where a run has had as many events as it may have', () => {
    const { failure, counter } = stepped(beside(1e-3), 10);
    expect(failure).toMatchObject({ code: 'budget' });
    expect(counter.handled).toBe(11);
  });
});
