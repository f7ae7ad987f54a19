import { describe, expect, it } from 'vitest';
import { ColumnEnvelope } from '#sim/trace/column-envelope.ts';
import type { SegmentSignal } from '#sim/trace/frame.ts';

/** A voltage that stands still, with a term at rest and one of no size, as circuits with several states have them. */
function still(value: number): SegmentSignal {
  const [coefficients, rates] = [Float64Array.of(1, 0), Float64Array.of(0, 50)];
  return { constant: value - 1, slope: 0, coefficients, rates, steady: value };
}

/** exp(-t) from a voltage down to 0. */
function decay(from: number): SegmentSignal {
  return { constant: 0, slope: 0, coefficients: Float64Array.of(from), rates: Float64Array.of(1), steady: Number.NaN };
}

/** From `start` on, for `length` seconds. */
function stretch(start: number, length: number): { start: number; startLow: number; length: number } {
  return { start, startLow: 0, length };
}

describe('ColumnEnvelope.add', () => {
  it('gives of a signal that stands still the same columns, however many stretches it comes in', () => {
    const [whole, cut] = [new ColumnEnvelope(0, 8, 4), new ColumnEnvelope(0, 8, 4)];
    whole.add(still(5), stretch(0, 3));
    whole.add(still(2), stretch(3, 5));
    // Lengths that binary numbers hold exactly, so that the ends are the same instants.
    for (let piece = 0; piece < 12; piece += 1) cut.add(still(5), stretch(piece / 4, 0.25));
    for (let piece = 0; piece < 20; piece += 1) cut.add(still(2), stretch(3 + piece / 4, 0.25));
    // Columns of 2 s each; the step at 3 s lies in the second.
    const expected = { first: [5, 5, 2, 2], last: [5, 2, 2, 2], low: [5, 2, 2, 2], high: [5, 5, 2, 2] };
    expect(cut.result()).toEqual(expected);
    expect(whole.result()).toEqual(expected);
  });

  it('has what stood still before a signal that moves, and after it', () => {
    const envelope = new ColumnEnvelope(0, 4, 4);
    envelope.add(still(1), stretch(0, 0.5));
    envelope.add(still(1), stretch(0.5, 0.5));
    envelope.add(decay(1), stretch(1, 1));
    envelope.add(still(3), stretch(2, 1.5));
    const { first, last, low, high } = envelope.result();
    // A closed form: exp(-1) after 1 s, good to the rounding of one exponential.
    expect(last[1]).toBeCloseTo(Math.exp(-1), 15);
    expect([first, high]).toEqual([
      [1, 1, 3, 3],
      [1, 1, 3, 3],
    ]);
    expect(low).toEqual([1, last[1], 3, 3]);
    expect([last[0], last[2], last[3]]).toEqual([1, 3, 3]);
  });

  it('leaves a gap between two stretches empty of the value that stood before it', () => {
    const envelope = new ColumnEnvelope(0, 4, 4);
    envelope.add(still(1), stretch(0, 1));
    envelope.add(still(1), stretch(3, 1));
    // Columns between stay as they are made: zeros, which no signal gave.
    expect(envelope.result().high).toEqual([1, 0, 0, 1]);
  });
});
