import { leastSquares } from '#sim/core/levenberg-marquardt.ts';
import { coverageFactor } from '#sim/core/student.ts';
import { describe, expect, test } from 'vitest';

const steps = { differences: [1e-5, 1e-5], longest: [10, 10] };

describe('leastSquares(problem)', () => {
  test('finds a straight line, with the derivatives there', () => {
    const x = [0, 1, 2, 3, 4];
    const found = leastSquares({
      start: Float64Array.of(0, 0),
      residuals: ([a = 0, b = 0]) => Float64Array.from(x, (at) => a + b * at - (2 + 3 * at)),
      ...steps,
    });
    expect(found?.converged).toBe(true);
    expect(found?.parameters[0]).toBeCloseTo(2, 8);
    expect(found?.parameters[1]).toBeCloseTo(3, 8);
    // Derivatives of a + b x by a and b.
    expect([...(found?.jacobian()?.data ?? [])].map((each) => Math.round(each * 1e6) / 1e6)).toEqual(
      x.flatMap((at) => [1, at]),
    );
  });

  // H. H. Rosenbrock, Comput. J. 3 (1960) 175, from memory: 100 (y - x^2)^2 + (1 - x)^2 is least at (1, 1).
  test('follows a curved valley', () => {
    const found = leastSquares({
      start: Float64Array.of(-1.2, 1),
      residuals: ([x = 0, y = 0]) => Float64Array.of(10 * (y - x * x), 1 - x),
      ...steps,
    });
    expect(found?.parameters[0]).toBeCloseTo(1, 4);
    expect(found?.parameters[1]).toBeCloseTo(1, 4);
  });

  test('takes no step to where there is no model, and keeps to the longest step', () => {
    const seen: number[] = [];
    const found = leastSquares({
      start: Float64Array.of(1),
      residuals: ([x = 0]) => {
        seen.push(x);
        return x > 3 ? undefined : Float64Array.of(x - 2.9);
      },
      differences: [1e-5],
      longest: [0.5],
    });
    expect(found?.parameters[0]).toBeCloseTo(2.9, 6);
    expect(seen[2]).toBeCloseTo(1.5, 6);
  });

  test('leaves a parameter without effect where it is', () => {
    const found = leastSquares({
      start: Float64Array.of(5, 7),
      residuals: ([x = 0]) => Float64Array.of(x - 1, 2 * (x - 1)),
      ...steps,
    });
    expect(found?.parameters[0]).toBeCloseTo(1, 6);
    expect(found?.parameters[1]).toBe(7);
  });

  test('ends when it is stopped, and gives nothing where the start makes no model', () => {
    let evaluations = 0;
    const stopped = leastSquares({
      start: Float64Array.of(-1.2, 1),
      residuals: ([x = 0, y = 0]) => {
        evaluations++;
        return Float64Array.of(10 * (y - x * x), 1 - x);
      },
      stopped: () => evaluations >= 5,
      ...steps,
    });
    expect(stopped).toBeUndefined();
    expect(evaluations).toBe(5);
    expect(leastSquares({ start: Float64Array.of(0, 0), residuals: () => undefined, ...steps })).toBeUndefined();
  });
});

describe('coverageFactor(degrees)', () => {
  // 97.5 % points of Student's t from common statistical tables, from memory.
  test.each([
    [1, 12.706],
    [2, 4.303],
    [5, 2.571],
    [7, 2.365],
    [10, 2.228],
    [30, 2.042],
    [1000, 1.962],
  ])('is %d -> %f', (degrees, factor) => {
    expect(Math.abs(coverageFactor(degrees) / factor - 1)).toBeLessThan(1e-3);
  });
});
