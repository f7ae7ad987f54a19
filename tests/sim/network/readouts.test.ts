import { expect, test } from 'vitest';
import { Readouts } from '#sim/network/readouts.ts';

interface Entry {
  readonly index: number;
  readonly former: Entry | undefined;
}

const entries = (): Readouts<Entry> => new Readouts(3, (index, former) => ({ index, former }));

test('Readouts.at() makes an entry once, until it is forgotten, and then of the former one', () => {
  const readouts = entries();
  const [first, last] = [readouts.at(0), readouts.at(2)];
  expect(first).toEqual({ index: 0, former: undefined });
  expect(readouts.at(0)).toBe(first);
  readouts.forget([0]);
  expect(readouts.at(0)).not.toBe(first);
  expect(readouts.at(0).former).toBe(first);
  expect(readouts.at(2)).toBe(last);
  readouts.forget();
  expect(readouts.at(2).former).toBe(last);
  expect(readouts.at(0).former!.former).toBe(first);
});

test('Readouts.forget() leaves what has been forgotten as it is', () => {
  const readouts = entries();
  const first = readouts.at(0);
  readouts.forget();
  readouts.forget([0]);
  readouts.forget();
  expect(readouts.version(0)).toBe(1);
  expect(readouts.at(0).former).toBe(first);
});

test('Readouts.version() grows when an entry that has been made is forgotten', () => {
  const readouts = entries();
  const versions = (): number[] => [0, 1, 2].map((index) => readouts.version(index));
  readouts.at(0);
  readouts.at(2);
  expect(versions()).toEqual([0, 0, 0]);
  readouts.forget([0, 1]);
  expect(versions()).toEqual([1, 0, 0]);
  readouts.at(0);
  readouts.forget();
  expect(versions()).toEqual([2, 0, 1]);
});

test('Readouts.all() has every entry in its order, those that were made as they are', () => {
  const readouts = entries();
  const middle = readouts.at(1);
  expect(readouts.all().map(({ index }) => index)).toEqual([0, 1, 2]);
  expect(readouts.all()[1]).toBe(middle);
});
