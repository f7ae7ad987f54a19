import { readCapture } from '#sim/capture/capture-reader.ts';
import type { Capture } from '#sim/capture/capture.ts';
import type { CircuitData } from '#sim/circuit/index.ts';
import { circuitSubject } from '#sim/document/circuit-subject.ts';
import type { AlignBy } from '#sim/study/capture-align.ts';
import { type CaptureFit, type CaptureTask, fitCapture, type FreeValue } from '#sim/study/capture-fit.ts';
import { describe, expect, test } from 'vitest';
import { madeCapture, type MadeCapture } from '../../support/made-capture.ts';

/** A square wave that charges and empties a capacitor through a resistor: 10 kΩ and 1 µF by what is marked. */
function charger(values: ReadonlyMap<string, number>): CircuitData {
  const wave = { shape: 'square', frequency: 20, high: 10, low: 0, delay: 0.005 };
  const leakage = values.get('leakage');
  return {
    parts: [
      { name: 'G1', kind: 'signal', plus: 'in', minus: 'ground', resistance: 0, wave },
      { name: 'R1', kind: 'resistor', a: 'in', b: 'timing', resistance: values.get('R1') ?? 10e3 },
      {
        name: 'C1',
        kind: 'capacitor',
        a: 'timing',
        b: 'ground',
        capacitance: values.get('C1') ?? 1e-6,
        ...(leakage === undefined ? {} : { leakage }),
      },
    ],
  };
}

const subject = circuitSubject(charger);
const level = 5;
const C1: FreeValue = { name: 'C1', marked: 1e-6, tries: [] };
const R1: FreeValue = { name: 'R1', marked: 10e3, tries: [] };
const leakage: FreeValue = { name: 'leakage', marked: null, tries: [1e4, 1e5, 1e6, 1e7] };

/** A measurement of the circuit with other values than those marked. */
function measured(truth: readonly (readonly [string, number])[], more: Partial<MadeCapture> = {}): Capture {
  const made = { nets: ['timing', 'in'], from: 0, until: 0.12, step: 0.0005, noise: 0.05, seed: 1, ...more };
  const known = ['timing', 'in'];
  const outcome = readCapture(madeCapture(charger(new Map(truth)), made), { known, level, hysteresis: 0.5 });
  if (!outcome.ok) throw new Error(outcome.fault.rule);
  return outcome.capture;
}

function taskOf(capture: Capture, align: AlignBy): CaptureTask {
  const nets = capture.channels.map(({ net }) => net);
  return { capture, align, nets, level, from: 0, until: 0.15, maxEvents: 1e5 };
}

function fitted(capture: Capture, free: readonly FreeValue[], align: AlignBy = 'first edge'): CaptureFit {
  const fit = fitCapture(taskOf(capture, align), subject, subject, free, { rescale: true });
  if (fit === undefined || 'failed' in fit) throw new Error(fit?.failed ?? 'stopped');
  return fit;
}

describe('fitCapture(task, nominal, subject, free)', () => {
  test('finds the values that a measurement was made with', () => {
    const fit = fitted(measured([['C1', 1.23e-6]], { noise: 0.001 }), [C1]);
    expect(Math.abs(fit.values[0]! / 1.23e-6 - 1)).toBeLessThan(1e-3);
    expect(fit.converged).toBe(true);
    expect(fit.sampleResidual).toBeLessThan(0.0015);
  });

  test('finds them wherever the time of the file begins', () => {
    const early = fitted(measured([['C1', 0.81e-6]], { noise: 0.01, from: 0.003, begins: -7 }), [C1]);
    expect(Math.abs(early.values[0]! / 0.81e-6 - 1)).toBeLessThan(0.005);
    // The first sample is taken 3 ms after the run begins; the file calls that -7 s.
    expect(Math.abs(early.offset - 7.003)).toBeLessThan(0.0005);
  });

  test('finds a leak beside a capacitance', () => {
    const truth = [
      ['C1', 1.1e-6],
      ['leakage', 60e3],
    ] as const;
    const { values, identified } = fitted(measured(truth, { noise: 0.02 }), [C1, leakage]);
    for (const [index, { low, high }] of identified.estimates.entries()) {
      expect(low).toBeLessThan(truth[index]![1]);
      expect(high).toBeGreaterThan(truth[index]![1]);
      expect(Math.abs(values[index]! / truth[index]![1] - 1)).toBeLessThan(0.03);
    }
  });

  // 60 measurements: the share of intervals that hold the true value is binomial. Outside these bounds with a probability
  // below 1e-3 each, worked out from the binomial distribution for 0.95 and 0.683.
  test.each<[string, AlignBy]>([
    ['with the time of the run', 'as it is'],
    ['laid over it by an edge', { channel: 1, to: 'high' }],
  ])('states its uncertainty as it is, %s', { timeout: 120_000 }, (_, align) => {
    const truth = 1.15e-6;
    let inside95 = 0;
    let inside68 = 0;
    for (let seed = 1; seed <= 60; seed++) {
      // Samples begin anywhere between two of those of another measurement.
      const from = 0.0005 * ((seed * 0.618) % 1);
      const { identified } = fitted(measured([['C1', truth]], { seed, from }), [C1], align);
      const { low, high, value, relative } = identified.estimates[0]!;
      if (low! <= truth && truth <= high!) inside95++;
      if (Math.abs(Math.log(value / truth)) <= relative!) inside68++;
    }
    expect(inside95).toBeGreaterThanOrEqual(50);
    expect(inside68).toBeGreaterThanOrEqual(29);
    expect(inside68).toBeLessThanOrEqual(52);
  });

  test('says that a resistance and a capacitance are known only by their product', () => {
    const { identified } = fitted(measured([['C1', 1.2e-6]]), [R1, C1]);
    expect(identified.estimates.map(({ relative }) => relative)).toEqual([null, null]);
    const [product, ...more] = identified.combinations;
    expect(more).toEqual([]);
    expect(product).toMatchObject({ names: ['R1', 'C1'], as: 'product' });
    expect(Math.abs(product!.factor! - 1.2)).toBeLessThan(4 * 1.2 * product!.relative!);
    expect(product!.relative).toBeLessThan(0.01);
  });

  test('says where nothing depends on a value', () => {
    const { identified } = fitted(measured([]), [C1, { name: 'elsewhere', marked: 5, tries: [] }]);
    expect(identified.combinations).toEqual([{ names: ['elsewhere'], as: 'nothing', factor: null, relative: null }]);
    expect(identified.estimates[0]?.relative).toBeLessThan(0.01);
    expect(identified.estimates[1]?.relative).toBeNull();
  });

  test('gives the same again, bit for bit', () => {
    const capture = measured([['C1', 1.3e-6]]);
    expect(fitted(capture, [C1, leakage])).toEqual(fitted(capture, [C1, leakage]));
  });

  test('ends when it is stopped, wherever it is', () => {
    const capture = measured([['C1', 1.3e-6]]);
    for (const runs of [0, 1, 2, 5, 9]) {
      let left = runs;
      const signal = {
        get aborted() {
          return left <= 0;
        },
      };
      const counted = (values: ReadonlyMap<string, number>) => {
        left--;
        return subject(values);
      };
      const task = taskOf(capture, 'as it is');
      expect(fitCapture(task, counted, counted, [C1, leakage], { rescale: true, signal })).toBeUndefined();
    }
  });

  test('says why there is no fit', () => {
    const capture = measured([]);
    const failed = (task: CaptureTask, built = subject): unknown => {
      const fit = fitCapture(task, built, built, [C1], { rescale: false });
      return fit !== undefined && 'failed' in fit ? fit.failed : fit;
    };
    const none = circuitSubject(() => ({ parts: [] }));
    expect(failed(taskOf(capture, 'as it is'), none)).toContain('must');
    const still = { ...capture, channels: capture.channels.map((channel) => ({ ...channel, edges: [] })) };
    expect(failed(taskOf(still, { channel: 1, to: 'high' }))).toBe(
      'the capture has no rise of in to lay the two over each other by',
    );
  });
});
