import { following, isWhole, keptInside, panned, pinched, spanning, timeDigits, zoomed } from '#notebook/chart/view.ts';
import { describe, expect, test } from 'vitest';

const whole = { from: 0, until: 100 };

describe('zoomed', () => {
  test('the time it is zoomed about keeps its place', () => {
    const view = zoomed({ from: 20, until: 60 }, whole, 30, 2);
    expect(view).toEqual({ from: 25, until: 45 });
  });

  test('wider than the whole is the whole, and told to be', () => {
    const view = zoomed({ from: 20, until: 60 }, whole, 30, 0.1);
    expect(view).toEqual(whole);
    expect(isWhole(view, whole)).toBe(true);
  });

  test('comes to an end long before times can no longer be told apart', () => {
    let view = whole;
    for (let step = 0; step < 200; step += 1) view = zoomed(view, whole, 70, 2);
    expect(view.until - view.from).toBeGreaterThan(1e-9);
    expect(view.until - view.from).toBeLessThan(1e-7);
    expect(view.from).toBeLessThanOrEqual(70);
    expect(view.until).toBeGreaterThanOrEqual(70);
  });
});

test('panned stops at both ends without changing how much is looked at', () => {
  expect(panned({ from: 20, until: 60 }, whole, 30)).toEqual({ from: 50, until: 90 });
  expect(panned({ from: 20, until: 60 }, whole, 90)).toEqual({ from: 60, until: 100 });
  expect(panned({ from: 20, until: 60 }, whole, -90)).toEqual({ from: 0, until: 40 });
});

test('spanning takes two times in either order and stays inside', () => {
  expect(spanning(whole, 70, 30)).toEqual({ from: 30, until: 70 });
  expect(spanning(whole, -5, 30)).toEqual({ from: 0, until: 30 });
});

test('following moves no further than needed', () => {
  const view = { from: 20, until: 60 };
  expect(following(view, whole, 40)).toBe(view);
  expect(following(view, whole, 70)).toEqual({ from: 34, until: 74 });
  expect(following(view, whole, 10)).toEqual({ from: 6, until: 46 });
});

test('pinched puts two times under two fingers', () => {
  const view = pinched(whole, { time: 40, share: 0.25 }, { time: 50, share: 0.75 });
  expect(view).toEqual({ from: 35, until: 55 });
  expect(pinched(whole, { time: 40, share: 0.5 }, { time: 50, share: 0.5 })).toBeUndefined();
});

test('keptInside cuts a view down to a whole that became shorter, or drops it', () => {
  expect(keptInside({ from: 20, until: 60 }, { from: 0, until: 50 })).toEqual({ from: 20, until: 50 });
  expect(keptInside({ from: 20, until: 60 }, { from: 0, until: 10 })).toBeUndefined();
});

test('timeDigits tells the steps of a view apart', () => {
  expect(timeDigits(whole, 400)).toBe(4);
  // 100 s in steps of a 400th of 1 ms: 2.5 µs, eight digits.
  expect(timeDigits({ from: 99.999, until: 100 }, 400)).toBe(8);
});
