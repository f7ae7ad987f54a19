import { expect, test } from 'vitest';
import { Powers } from '#sim/engine/powers.ts';
import { WaysBack } from '#sim/engine/ways-back.ts';

test('Powers.at() gives exp(-rate t) of all rates but the idle ones', () => {
  const powers = new Powers(4);
  const rates = Float64Array.of(0, 2, 30);
  const values = powers.at(0.25, rates, 1);
  expect([...values]).toEqual([0, Math.exp(-0.5), Math.exp(-7.5), 0]);
  expect([...powers.at(0, rates, 0)]).toEqual([1, 1, 1, 0]);
});

test('Powers.at() works out anew for another time and for other rates, and only then', () => {
  const powers = new Powers(1);
  const rates = Float64Array.of(2);
  powers.at(1, rates, 0);
  // Marked, to see whether it is worked out.
  powers.values[0] = 42;
  expect(powers.at(1, rates, 0)[0]).toBe(42);
  expect(powers.at(3, rates, 0)[0]).toBe(Math.exp(-6));
  expect(powers.at(3, Float64Array.of(5), 0)[0]).toBe(Math.exp(-15));
  powers.values[0] = 42;
  expect(powers.at(3, rates, 0)[0]).toBe(Math.exp(-6));
});

test('Powers.know() takes over a value for its time and rates', () => {
  const powers = new Powers(2);
  const rates = Float64Array.of(0, 2);
  powers.know(0.125, 1, 7, rates);
  expect(powers.at(7, rates, 1)[1]).toBe(0.125);
  expect(powers.at(8, rates, 1)[1]).toBe(Math.exp(-16));
});

test('WaysBack knows the events of the branches that have moved since it was cleared', () => {
  const back = new WaysBack();
  expect(back.has(5)).toBe(false);
  expect(back.latest).toBe(-1);
  for (const event of [5, 9, 5, 8, 9]) back.add(event);
  expect(back.latest).toBe(9);
  expect([back.has(5), back.has(9), back.has(7)]).toEqual([true, true, false]);
  expect(back.list()).toEqual([5, 9, 5, 8, 9]);
  back.clear();
  expect([back.count, back.has(5), back.has(9)]).toEqual([0, false, false]);
  expect(back.list()).toEqual([]);
  expect(back.latest).toBe(-1);
  back.add(7);
  expect(back.latest).toBe(7);
  expect([back.has(7), back.has(9)]).toEqual([true, false]);
  expect(back.list()).toEqual([7]);
});
