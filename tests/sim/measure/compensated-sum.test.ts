import { describe, expect, test } from 'vitest';
import { CompensatedSum } from '#sim/measure/compensated-sum.ts';
import { Range } from '#sim/measure/range.ts';
import type { PeriodVisitor } from '#sim/trace/period-visitor.ts';

function sumOf(terms: readonly number[]): CompensatedSum {
  const sum = new CompensatedSum();
  for (const term of terms) sum.add(term);
  return sum;
}

/** Goes over what is kept: sums grow by `growth`, and what must stay the same is listed. */
function visitor(growth: number, same: unknown[] = []): PeriodVisitor {
  return {
    sum: (value) => value + growth,
    date: (value) => value,
    same: (value) => void same.push(value),
    again: () => {},
    isNew: () => true,
  };
}

describe('CompensatedSum', () => {
  test('keeps what rounding drops of the sum and of the term: 1 + 1e100 + 1 - 1e100 is 2', () => {
    // By arithmetic; a plain sum gives 0, and one that only looks at the smaller term's side 1.
    expect(sumOf([1, 1e100, 1, -1e100]).value).toBe(2);
    expect(sumOf([-1, -1e100, -1, 1e100]).value).toBe(-2);
  });

  test('adds a tenth a million times: a hundred thousand, to the last bit', () => {
    const sum = new CompensatedSum();
    for (let i = 0; i < 1e6; i++) sum.add(0.1);
    // 1e6 times the double nearest to 0.1 is 1e5 + 5.6e-12, which rounds to 1e5.
    expect(sum.value).toBe(1e5);
  });

  test('takes what a visitor makes of it, and keeps what rounding dropped where that is nothing new', () => {
    const sum = sumOf([1, 1e100, 1]);
    sum.visit(visitor(0));
    sum.add(-1e100);
    expect(sum.value).toBe(2);
    sum.visit(visitor(5));
    expect(sum.value).toBe(7);
    sum.add(3);
    expect(sum.value).toBe(10);
  });
});

describe('Range', () => {
  test('tells count, least, greatest and total', () => {
    const range = new Range();
    for (const value of [3, -2, 7, 7, -2]) range.add(value);
    expect([range.count, range.low, range.high, range.total]).toEqual([5, -2, 7, 13]);
  });

  test('within() compares the spread with a share of the larger end, that share included', () => {
    const range = new Range();
    expect(range.within(1)).toBe(false);
    range.add(-8);
    expect(range.within(0)).toBe(true);
    range.add(-6);
    // 2 of 8: a quarter.
    expect(range.within(0.25)).toBe(true);
    expect(range.within(0.2499)).toBe(false);
    range.add(10);
    // 18 of 10.
    expect(range.within(1.8)).toBe(true);
    expect(range.within(1.79)).toBe(false);
  });

  test('visit() lets count and total grow, and shows the ends as what must stay', () => {
    const range = new Range();
    range.add(2);
    range.add(5);
    const same: unknown[] = [];
    range.visit(visitor(10, same));
    expect([range.count, range.total]).toEqual([12, 17]);
    expect(same).toEqual([2, 5]);
  });
});
