import fc from 'fast-check';
import { Solver } from 'odex';
import { describe, expect, test } from 'vitest';
import { circuitOf } from '../support/circuit-issues.ts';
import { equationsOf } from '../support/nodal/equations.ts';
import { dot } from '../support/nodal/linear.ts';
import type { NodalModel } from '../support/nodal/model.ts';
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

  test('advances its equations as an ODE package does', () => {
    fc.assert(
      fc.property(drawn, ({ parts, until }) => {
        const model = nodalModelOf(circuitOf(parts), until);
        const equations = beginning(model);
        const { rate, size } = equations;
        fc.pre(size > 0);
        const start = equations.start(model.capacitors.map(({ initial }) => initial));
        const still = new Array<number>(size + 2).fill(0);
        const f = [...rate, still, still.map((_, k) => (k === size ? 1 : 0))];
        const fastest = Math.max(
          ...rate.map((row) => row.slice(0, size).reduce((sum, value) => sum + Math.abs(value), 0)),
        );
        // Explicit steps cannot be much longer than the fastest time constant, so a thousand of these have to do.
        const length = Math.min(until, 1e3 / fastest);
        const solver = new Solver(size + 2);
        solver.absoluteTolerance = solver.relativeTolerance = 1e-13;
        solver.initialStepSize = length / 1e4;
        solver.maxSteps = 100_000;
        const { y, outcome } = solver.solve((_, state) => f.map((row) => dot(row, state)), 0, start, length);
        expect(outcome).toBe(0);
        const mine = new Steps(f, length / 16).after(start, length);
        // At the edge of stability the package leaves thousands of its step tolerance, 1e-13 of 10 V.
        for (let k = 0; k < size; k++) expect(Math.abs(mine[k]! - y[k]!)).toBeLessThanOrEqual(1e-8);
      }),
      { numRuns: Number(process.env['LAWS_RUNS'] ?? 8) },
    );
  });
});
