import { describe, expect, it } from 'vitest';
import { valueAt } from '#sim/core/exponential-sum.ts';
import type { Frame } from '#sim/trace/frame.ts';
import { Stretch } from '#sim/trace/stretch.ts';

/** Made numbers: 3 V, 1 V with a part at rest, 2 + exp(-t) V, and 4 + t V. */
const frame: Frame = {
  rates: Float64Array.of(0, 1),
  rows: Float64Array.of(0, 0, 1, 0, 0, 1, 0, 0),
  constants: Float64Array.of(3, 0, 2, 4),
  slopes: Float64Array.of(0, 0, 0, 1),
};

function stretch(amplitudes: readonly number[]): Stretch {
  const made = new Stretch();
  made.frame = frame;
  made.amplitudes = Float64Array.from(amplitudes);
  made.length = 2;
  made.next();
  return made;
}

describe('Stretch.signal', () => {
  it('writes a signal out as a function of local time', () => {
    const moving = stretch([1, 1]).signal(2);
    // 2 + exp(-t), the closed form itself.
    expect([valueAt(moving, 0), valueAt(moving, 1)]).toEqual([3, 2 + Math.exp(-1)]);
  });

  it('tells the value of one that stands still, parts at rest included, and none of one that decays or drifts', () => {
    const made = stretch([1, 1]);
    expect([0, 1, 2, 3].map((index) => made.signal(index).steady)).toEqual([3, 1, Number.NaN, Number.NaN]);
  });

  it('tells that one stands still whose terms have died out', () => {
    expect(stretch([1, 0]).signal(2).steady).toBe(2);
  });

  it('tells the values at both ends of the segment, and whether a signal may turn in between', () => {
    const made = stretch([1, 1]);
    const ends = [0, 1, 2, 3].map((index) => [made.signal(index).atStart, made.signal(index).atEnd]);
    // The closed forms after 2 s; a drift goes on by its slope.
    expect(ends).toEqual([
      [3, 3],
      [1, 1],
      [3, 2 + Math.exp(-2)],
      [4, 6],
    ]);
    made.frame = { ...frame, rates: Float64Array.of(1, 2), rows: Float64Array.of(1, 1, 1, -1, 0, 0, 1, 0) };
    made.next();
    // Two that fall; one that falls beside one that rises; none; a fall beside a drift upwards.
    expect([0, 1, 2, 3].map((index) => made.signal(index).mayTurn)).toEqual([false, true, false, true]);
  });

  it('gives 0 for the ground, which a table leaves out', () => {
    const ground = stretch([1, 1]).signal(-1);
    expect([ground.steady, valueAt(ground, 1)]).toEqual([0, 0]);
  });

  it('writes a signal out once for all who ask, and anew for the next segment', () => {
    let asked = 0;
    const made = stretch([1, 1]);
    made.frame = { ...frame, need: () => asked++ };
    made.next();
    made.signal(2);
    expect([made.signal(2).coefficients[1], asked]).toEqual([1, 1]);
    made.amplitudes = Float64Array.of(1, 5);
    made.next();
    expect([made.signal(2).coefficients[1], asked]).toEqual([5, 2]);
  });
});
