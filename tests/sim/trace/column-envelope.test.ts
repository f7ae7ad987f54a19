import { describe, expect, it } from 'vitest';
import { ColumnEnvelope } from '#sim/trace/column-envelope.ts';
import { Stretch } from '#sim/trace/stretch.ts';

/** One signal as it is shown: constant + the sum of row exp(-rates t), from `start` on for `length` seconds. */
function shown(start: number, length: number, constant: number, rates: number[], row: number[]): Stretch {
  const stretch = new Stretch();
  const [constants, slopes] = [Float64Array.of(constant), Float64Array.of(0)];
  stretch.frame = { rates: Float64Array.from(rates), rows: Float64Array.from(row), constants, slopes };
  stretch.amplitudes = new Float64Array(rates.length).fill(1);
  Object.assign(stretch, { start, length });
  stretch.next();
  return stretch;
}

/** A voltage that stands still, with a term at rest and one of no size, as circuits with several states have them. */
function still(value: number, start: number, length: number): Stretch {
  return shown(start, length, value - 1, [0, 50], [1, 0]);
}

/** exp(-t) from a voltage down to 0. */
function decay(from: number, start: number, length: number): Stretch {
  return shown(start, length, 0, [1], [from]);
}

function add(envelope: ColumnEnvelope, stretch: Stretch): void {
  envelope.add(stretch.signal(0), stretch);
}

describe('ColumnEnvelope.add', () => {
  it('gives of a signal that stands still the same columns, however many stretches it comes in', () => {
    const [whole, cut] = [new ColumnEnvelope(0, 8, 4), new ColumnEnvelope(0, 8, 4)];
    add(whole, still(5, 0, 3));
    add(whole, still(2, 3, 5));
    // Lengths that binary numbers hold exactly, so that the ends are the same instants.
    for (let piece = 0; piece < 12; piece += 1) add(cut, still(5, piece / 4, 0.25));
    for (let piece = 0; piece < 20; piece += 1) add(cut, still(2, 3 + piece / 4, 0.25));
    // Columns of 2 s each; the step at 3 s lies in the second.
    const expected = { first: [5, 5, 2, 2], last: [5, 2, 2, 2], low: [5, 2, 2, 2], high: [5, 5, 2, 2] };
    expect(cut.result()).toEqual(expected);
    expect(whole.result()).toEqual(expected);
  });

  it('has what stood still before a signal that moves, and after it', () => {
    const envelope = new ColumnEnvelope(0, 4, 4);
    add(envelope, still(1, 0, 0.5));
    add(envelope, still(1, 0.5, 0.5));
    add(envelope, decay(1, 1, 1));
    add(envelope, still(3, 2, 1.5));
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
    add(envelope, still(1, 0, 1));
    add(envelope, still(1, 3, 1));
    // Columns between stay as they are made: zeros, which no signal gave.
    expect(envelope.result().high).toEqual([1, 0, 0, 1]);
  });
});
