import { describe, expect, test } from 'vitest';
import { type Matrix, multiply } from '#sim/core/dense.ts';
import { feedbackSpectrum, type Summed } from '#sim/network/feedback-spectrum.ts';

// What it gives is right if (diag(own) + out in) basis = basis diag(rates) and basis inverse = 1: that is all that is asked.

const matrixOf = (rows: readonly (readonly number[])[]): Matrix => ({
  rows: rows.length,
  columns: rows[0]!.length,
  data: Float64Array.from(rows.flat()),
});
/** Exact entries: each is the sum of nothing but itself. */
const exact = (rows: readonly (readonly number[])[]): Summed => {
  const value = matrixOf(rows);
  return { value, size: { ...value, data: value.data.map(Math.abs) } };
};
const transposed = (rows: readonly (readonly number[])[]): number[][] =>
  rows[0]!.map((_, j) => rows.map((row) => row[j]!));

function spectrumOf(own: readonly number[], idle: number, out: readonly number[][], into: readonly number[][]) {
  const found = feedbackSpectrum(Float64Array.from(own), idle, exact(out), exact(into));
  if (typeof found === 'string') throw new Error(found);
  const n = own.length;
  const { basis, inverse, rates } = found;
  const whole = multiply(matrixOf(out), matrixOf(into));
  own.forEach((rate, k) => (whole.data[k * n + k]! += rate));
  const turned = multiply(whole, basis);
  const unit = multiply(basis, inverse);
  const backwards = multiply(inverse, basis);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      expect(turned.data[i * n + k]).toBeCloseTo(basis.data[i * n + k]! * rates[k]!, 12);
      expect(unit.data[i * n + k]).toBeCloseTo(i === k ? 1 : 0, 12);
      expect(backwards.data[i * n + k]).toBeCloseTo(i === k ? 1 : 0, 12);
    }
    expect(rates[i]).toBeGreaterThanOrEqual(i === 0 ? 0 : rates[i - 1]!);
  }
  return found;
}

describe('feedbackSpectrum()', () => {
  // What is seen is what is fed: a symmetric matrix, with real values above those without feedback.
  const fed = [
    [0.3, 0.1],
    [0.5, 0.2],
    [0.4, 0.6],
    [0.1, 0.3],
    [0.2, 0.9],
  ];
  /** Of some parts the controls see nothing. */
  const seenBut = (...unseen: number[]): number[][] =>
    transposed(fed.map((row, k) => (unseen.includes(k) ? row.map(() => 0) : row)));

  test('turns parts that feed back on each other', () => {
    spectrumOf([0.5, 1, 2, 4, 7], 0, fed, seenBut());
    spectrumOf([7, 4, 2, 1, 0.5], 0, fed, seenBut());
    // One part and one control: 3 + 0.5 times 0.25.
    expect([...spectrumOf([3], 0, [[0.5]], [[0.25]]).rates]).toEqual([3.125]);
  });

  test.each([[[2]], [[0]], [[1, 3]], [[0, 4]], [[3, 4]]])(
    'keeps the rates of parts %j that no control sees',
    (unseen) => {
      const own = [1.5, 1, 2.5, 4, 7];
      const { rates } = spectrumOf(own, 0, fed, seenBut(...unseen));
      for (const k of unseen) expect([...rates]).toContain(own[k]);
    },
  );

  test('keeps idle parts at a rate of zero', () => {
    const { rates } = spectrumOf([0, 0, 2, 4, 7], 2, fed, seenBut(0, 1));
    expect([...rates.subarray(0, 2)]).toEqual([0, 0]);
    expect(rates[2]).toBeGreaterThan(2);
  });

  test('keeps parts of equal rates in their order', () => {
    const { rates, basis } = spectrumOf([3, 1, 3], 0, [[0], [0], [0]], [[0, 0, 0]]);
    expect([...rates]).toEqual([1, 3, 3]);
    expect([...basis.data]).toEqual([0, 1, 0, 1, 0, 0, 0, 0, 1]);
  });

  test('has a rate below zero where parts grow', () => {
    const reason = (own: readonly number[], out: readonly number[][], into: readonly number[][]) =>
      feedbackSpectrum(Float64Array.from(own), 0, exact(out), exact(into));
    expect(reason([3], [[4]], [[-1]])).toMatchObject({ rates: Float64Array.of(-1) });
    // [[2, 1], [-1, 2]]: 2 + i and 2 - i.
    const swing = [
      [0, 1],
      [-1, 0],
    ];
    const one = [
      [1, 0],
      [0, 1],
    ];
    expect(reason([2, 2], swing, one)).toBe('rings');
    // 3 - 3 is zero to rounding.
    expect(reason([3], [[1.5]], [[-2]])).toBe('alike');
    for (const [out, into] of [
      [Number.NaN, 1],
      [1, Number.NaN],
      [Infinity, 1],
    ] as const) {
      expect(reason([3], [[out]], [[into]])).toBe('forks');
    }
  });
});
