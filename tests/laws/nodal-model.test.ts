import fc from 'fast-check';
import { Solver } from 'odex';
import { describe, expect, test } from 'vitest';
import { circuitOf } from '../support/circuit-issues.ts';
import { equationsOf } from '../support/nodal/equations.ts';
import { dot } from '../support/nodal/linear.ts';
import { type LongRow, unitRow } from '../support/nodal/long-row.ts';
import { line, type NodalModel } from '../support/nodal/model.ts';
import { nodalModelOf } from '../support/nodal/read-circuit.ts';
import { Steps } from '../support/nodal/steps.ts';
import { randomCircuits } from '../support/random-circuit.ts';

const drawn = randomCircuits({ timers: [1, 3], ramps: true, abrupt: false, real: true });

describe('the nodal model beside which random circuits run', () => {
  /** All branches as they are at the start. */
  function beginning(model: NodalModel): ReturnType<typeof equationsOf> {
    return equationsOf(
      model,
      model.branches.map(({ a, b, curves, start, source }) => {
        const corner = source === undefined ? undefined : model.sources[source]!.corners[0]!;
        return { a, b, section: curves[start]![0]!, level: corner?.level ?? 0, slope: corner?.slope ?? 0 };
      }),
    );
  }

  /** F of y' = F y. */
  function rateOf({ rate, size }: ReturnType<typeof equationsOf>): readonly LongRow[] {
    return [...rate, unitRow(size + 2, -1), unitRow(size + 2, size)];
  }

  test('keeps what is slow beside what is faster by up to twelve decades', () => {
    const decades = (from: number, to: number): fc.Arbitrary<number> =>
      fc.double({ min: from, max: to, noNaN: true }).map((exponent) => 10 ** exponent);
    const values = fc.record({
      farads: fc.tuple(decades(-11, -6), decades(-11, -6)),
      tau: decades(-3, 1),
      stiffness: decades(3, 12),
      volts: fc.tuple(fc.double({ min: 1, max: 12, noNaN: true }), fc.double({ min: 1, max: 12, noNaN: true })),
      share: fc.double({ min: 0.01, max: 2, noNaN: true }),
    });
    fc.assert(
      fc.property(values, ({ farads: [c1, c2], tau, stiffness, volts, share }) => {
        // Two capacitors with leaks of one time constant, joined by a resistance: together they keep to that constant.
        const joined = tau / stiffness / ((c1 * c2) / (c1 + c2));
        const branches = [
          { a: 1, b: 0, ohms: tau / c1 },
          { a: 2, b: 0, ohms: tau / c2 },
          { a: 1, b: 2, ohms: joined },
        ].map(({ a, b, ohms }) => ({ a, b, section: line(0, ohms)[0]!, level: 0, slope: 0 }));
        const capacitors = [c1, c2].map((farads, k) => ({ a: k + 1, b: 0, farads, initial: volts[k]! }));
        const none = { sources: [], contacts: [], timers: [], transistors: [], windings: [], buzzers: [] };
        const model = { nodeCount: 3, nodes: new Map(), branches: [], capacitors, ...none };
        const equations = equationsOf(model, branches);
        const time = share * tau;
        const y = new Steps(rateOf(equations), time / 16).after(equations.start(volts), time);
        const mean = ((c1 * volts[0] + c2 * volts[1]) / (c1 + c2)) * Math.exp(-share);
        const apart = (volts[0] - volts[1]) * Math.exp(-share - share * stiffness);
        const known = [mean + (c2 / (c1 + c2)) * apart, mean - (c1 / (c1 + c2)) * apart];
        // Some hundred steps, each rounded to a double of at most 12 V, and the rounding of the values put in.
        known.forEach((value, k) => void expect(Math.abs(y[k]! - value)).toBeLessThanOrEqual(1e-13));
      }),
    );
  });

  test('advances its equations as an ODE package does', () => {
    fc.assert(
      fc.property(drawn, ({ parts, until }) => {
        const model = nodalModelOf(circuitOf(parts), until);
        const equations = beginning(model);
        const { size } = equations;
        fc.pre(size > 0);
        const start = equations.start(model.capacitors.map(({ initial }) => initial));
        const long = rateOf(equations);
        const f = long.map((row) => row.nearest());
        const fastest = Math.max(
          ...f.slice(0, size).map((row) => row.slice(0, size).reduce((sum, value) => sum + Math.abs(value), 0)),
        );
        // Explicit steps cannot be much longer than the fastest time constant, so a thousand of these have to do.
        const length = Math.min(until, 1e3 / fastest);
        const solver = new Solver(size + 2);
        solver.absoluteTolerance = solver.relativeTolerance = 1e-13;
        solver.initialStepSize = length / 1e4;
        solver.maxSteps = 100_000;
        const { y, outcome } = solver.solve((_, state) => f.map((row) => dot(row, state)), 0, start, length);
        expect(outcome).toBe(0);
        const mine = new Steps(long, length / 16).after(start, length);
        // At the edge of stability the package leaves thousands of its step tolerance, 1e-13 of 10 V.
        for (let k = 0; k < size; k++) expect(Math.abs(mine[k]! - y[k]!)).toBeLessThanOrEqual(1e-8);
      }),
      { numRuns: Number(process.env['LAWS_RUNS'] ?? 8) },
    );
  });
});
