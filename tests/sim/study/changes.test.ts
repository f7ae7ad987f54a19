import { BoundaryPoints } from '#sim/study/boundary-points.ts';
import { BoundaryTrack } from '#sim/study/boundary-track.ts';
import { findChanges } from '#sim/study/changes.ts';
import { describe, expect, test } from 'vitest';

/** Whole part of a place: it changes at 1, 2, 3, ... */
function search(from: number, to: number, guess?: (seen: number) => number | undefined, most = 32) {
  let looks = 0;
  const look = (at: number): number => {
    looks++;
    return Math.floor(at);
  };
  const end = (at: number) => ({ at, seen: Math.floor(at) });
  const found = findChanges(end(from), end(to), look, String, {
    precision: 1e-9,
    most,
    ...(guess === undefined ? {} : { guess }),
  });
  return { found, looks };
}

describe('findChanges(from, to, look, key, search)', () => {
  test('brackets every change on the way, in order', () => {
    const { found } = search(0.3, 3.7);
    expect(found?.map(({ seenBelow, seenAbove }) => [seenBelow, seenAbove])).toEqual([
      [0, 1],
      [1, 2],
      [2, 3],
    ]);
    for (const [index, { below, above }] of found!.entries()) {
      expect(below).toBeLessThan(index + 1);
      expect(above).toBeGreaterThanOrEqual(index + 1);
      expect(above - below).toBeLessThanOrEqual(1e-9 * above);
    }
  });

  test('finds nothing where both ends are alike, and stops at the most it may find', () => {
    expect(search(1.2, 1.8)).toEqual({ found: [], looks: 0 });
    expect(search(0.3, 9.7, undefined, 2).found).toHaveLength(2);
  });

  test('needs no more than the halving takes: log2(width / precision) looks', () => {
    // ceil(log2(0.9 / 1e-9)) = 30 (closed form).
    expect(search(0.5, 1.4).looks).toBeLessThanOrEqual(30);
  });

  test('finds the same with a guess, in fewer looks when it is good, and is not misled when it is bad', () => {
    for (const guess of [1 - 1e-10, 1 + 1e-8, 1 - 1e-5, 0.5 + 1e-12, 0.6, 1.39, 7]) {
      const { found, looks } = search(0.5, 1.4, () => guess);
      expect(found).toHaveLength(1);
      expect(found![0]!.below).toBeLessThan(1);
      expect(found![0]!.above).toBeGreaterThanOrEqual(1);
      expect(found![0]!.above - found![0]!.below).toBeLessThanOrEqual(1e-9 * 1.4);
      expect(looks).toBeLessThan(Math.abs(guess - 1) < 1e-7 ? 12 : 45);
    }
  });

  test('needs two looks where the guess is better than the precision', () => {
    expect(search(0.5, 1.4, () => 1 + 2e-10).looks).toBe(2);
    expect(search(0.5, 1.4, () => 1 - 2e-10).looks).toBe(2);
  });

  test('comes to an end with a guess at 0', () => {
    const { found } = search(-0.4, 0.6, () => 0);
    expect(found).toHaveLength(1);
    expect(found![0]!.above).toBeGreaterThanOrEqual(0);
  });

  test('ends between neighbouring numbers, whatever the precision asked', () => {
    const look = (at: number): boolean => at >= 0;
    const ends = [-1, 1].map((at) => ({ at, seen: look(at) }));
    const found = findChanges(ends[0]!, ends[1]!, look, String, { precision: 0, most: 1 });
    expect(found?.[0]?.above).toBe(0);
    expect(found?.[0]?.below).toBe(-Number.MIN_VALUE);
  });

  test('does not halve for ever where the change is at 0', () => {
    // To 1e-9 of a millionth of the stretch: log2(1e15) = 50 looks (closed form).
    expect(search(-0.4, 0.6).looks).toBeLessThanOrEqual(50);
  });

  test('gives nothing when it is stopped', () => {
    const stopped = findChanges({ at: 0, seen: 0 }, { at: 1, seen: 1 }, () => undefined, String, {
      precision: 1e-9,
      most: 1,
    });
    expect(stopped).toBeUndefined();
  });
});

describe('BoundaryTrack', () => {
  test('goes on in a straight line', () => {
    const track = new BoundaryTrack();
    track.nextLine(1);
    expect(track.guess('2')).toBeUndefined();
    track.add('2', 10);
    track.nextLine(2);
    expect(track.guess('2')).toBe(10);
    track.add('2', 12);
    track.nextLine(4);
    expect(track.guess('2')).toBe(16);
    expect(track.guess('3')).toBeUndefined();
  });
});

describe('BoundaryPoints', () => {
  test('guesses between two places by the parabola through the three nearest points of one boundary', () => {
    const points = new BoundaryPoints();
    // at = 2 + line², between a and b; other points lie far off or belong to another boundary.
    for (const line of [1, 2, 3]) points.add(line, 2 + line * line, 'a', 'b');
    points.add(40, 0, 'a', 'b');
    points.add(2, 100, 'b', 'c');
    points.add(3, 101, 'b', 'c');
    expect(points.guess('a', 2.5, 0, 20)).toBeCloseTo(8.25, 12);
    expect(points.guess('b', 2.5, 0, 20)).toBeCloseTo(8.25, 12);
    // The other boundary of b: a straight line through two points.
    expect(points.guess('b', 2.5, 50, 200)).toBeCloseTo(100.5, 12);
  });

  test('guesses nothing from one point, from two on one line, or where the boundary is elsewhere', () => {
    const points = new BoundaryPoints();
    expect(points.guess('a', 1, 0, 20)).toBeUndefined();
    points.add(1, 3, 'a', 'b');
    expect(points.guess('a', 1, 0, 20)).toBeUndefined();
    points.add(1, 5, 'a', 'b');
    expect(points.guess('a', 1.5, 0, 20)).toBeUndefined();
    points.add(0, 3, 'c', 'd');
    points.add(1, 4, 'c', 'd');
    expect(points.guess('c', 2, 6, 20)).toBeUndefined();
    expect(points.guess('c', 2, 4, 20)).toBeCloseTo(5, 12);
  });
});
