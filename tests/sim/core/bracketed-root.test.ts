import { bracketedRoot } from '#sim/core/bracketed-root.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

function solve(value: (at: number) => number, from: number, to: number): { root: number; evaluations: number } {
  let evaluations = 0;
  const counted = (at: number): number => {
    evaluations++;
    return value(at);
  };
  const root = bracketedRoot(counted, from, value(from), to, value(to));
  return { root, evaluations };
}

describe('bracketedRoot', () => {
  test('finds the fixed point of the cosine to neighbouring doubles', () => {
    // 0.7390851332151607 (Dottie number, OEIS A003957).
    const { root } = solve((x) => x - Math.cos(x), 0, 1);
    expect(Math.abs(root - 0.7390851332151607)).toBeLessThanOrEqual(2 * 2 ** -53);
  });

  test('returns the far side of a jump: the first double at which the value has the sign of the far end', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1, noNaN: true, minExcluded: true }), fc.boolean(), (edge, falls) => {
        const step = (x: number): number => (x >= edge === falls ? -1 : 1);
        expect(solve(step, 0, 2).root).toBe(edge);
      }),
    );
  });

  test('a value of exactly zero is the root', () => {
    expect(solve((x) => x - 0.25, 0, 1).root).toBe(0.25);
    expect(solve((x) => 0.25 - x, 0, 1).root).toBe(0.25);
  });

  test('keeps the digits of a root that lies far nearer to one end than to the other', () => {
    // Closed form: 1 - exp(-x) = a at x = -log1p(-a), relative error of the value itself 2^-53 or so over slope 1.
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 14 }), (power) => {
        const a = 10 ** -power;
        const { root } = solve((x) => -Math.expm1(-x) - a, 0, 40);
        expect(Math.abs(root / -Math.log1p(-a) - 1)).toBeLessThanOrEqual(4 * Number.EPSILON);
      }),
    );
  });

  test('closes on a root of high order, where regula falsi alone would creep', () => {
    // (x - 1/3)^21 underflows to 0 within about 1e-15 of its root.
    const { root, evaluations } = solve((x) => (x - 1 / 3) ** 21, 0, 1);
    expect(Math.abs(root - 1 / 3)).toBeLessThan(1e-14);
    expect(evaluations).toBeLessThanOrEqual(200);
  });

  test('needs few evaluations on a smooth function', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 0.95, noNaN: true }), (level) => {
        // Superlinear convergence: about as many rounds as bits double, and a bisection in every third.
        expect(solve((x) => 1 - Math.exp(-x) - level, 0, 50).evaluations).toBeLessThanOrEqual(40);
      }),
    );
  });

  test('ends between neighbouring doubles', () => {
    const from = 1;
    const to = 1 + Number.EPSILON;
    expect(bracketedRoot(() => 0.5, from, -1, to, 1)).toBe(to);
  });
});
