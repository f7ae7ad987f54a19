import { RiseMeter, risesOf } from '#notebook/runtime/rise-meter.ts';
import { expect, test } from 'vitest';

test('risesOf() counts the rises among changes, whichever comes first', () => {
  expect(risesOf([1, 2, 3], false)).toEqual({ rises: 2, firstRise: 1, lastRise: 3 });
  expect(risesOf([1, 2, 3], true)).toEqual({ rises: 1, firstRise: 2, lastRise: 2 });
  expect(risesOf([], true).rises).toBe(0);
});

test('RiseMeter tells a frequency from whole periods, across frames, and forgets it when the signal rests', () => {
  const meter = new RiseMeter();
  let frequency: number | undefined;
  // 37 Hz in frames of a sixtieth of a second: some frames hold a rise, some none.
  for (let frame = 0; frame < 60; frame += 1) {
    const from = Math.ceil((frame / 60) * 37);
    const until = Math.ceil(((frame + 1) / 60) * 37);
    frequency = meter.take(frame / 60, { rises: until - from, firstRise: from / 37, lastRise: (until - 1) / 37 });
  }
  expect(frequency).toBeCloseTo(37, 9);
  expect(meter.take(2.5, { rises: 0, firstRise: 0, lastRise: 0 })).toBeUndefined();
});
