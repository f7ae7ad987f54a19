import { boardSubject, boardValue } from '#sim/document/board-subject.ts';
import { checkBoards } from '#sim/document/board-table.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { linearPoints } from '#sim/study/axis.ts';
import type { Subject } from '#sim/study/subject.ts';
import { runStudy } from '#sim/study/study.ts';
import { stepsText } from '#sim/study/ratio-steps.ts';
import { type SweepJob, type SweepMark, type SweepPlan, sweepStudy } from '#sim/study/sweep.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';
import { processorTime } from '../../support/processor-time.ts';

function counter(name: string, family = 'ideal'): Subject {
  const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': family } } };
  const board = checkBoards(usable(documentOf(boards, []))).boards.get('counter');
  const value = board?.ok === true ? boardValue(name, board) : undefined;
  if (board?.ok !== true || value?.ok !== true) throw new Error('the board must be good');
  return boardSubject(board, [value.value]);
}

function planOf(name: string, points: readonly number[], until = 4): SweepPlan {
  return {
    axis: { name, unit: 'Ω', points, scale: 'linear' },
    readings: [parseReading('ratio(out, in)'), parseReading('width(out)')],
    window: { from: 0, until },
    maxEvents: 1e6,
    timer: 'U1',
  };
}

/** Whether the ratio is another one at either side. */
function ratioJumps({ below, above }: SweepMark): boolean {
  return stepsText(below.steps[0] ?? null) !== stepsText(above.steps[0] ?? null);
}

// Spacing of the pulses of the ready board, and its capacitor.
const spacing = 0.15;
const capacitance = 4.7e-6;

// Times are for a machine that does other things as well.
describe('sweepStudy(plan, subject)', () => {
  test('finds where the ratio changes, to 1e-9, wherever the points of the range lie', () => {
    // Ideal family: T = R C ln 3, and the ratio changes from k to k + 1 where T = k Tin (closed form, model.md).
    const expected = [1, 2, 3, 4].map((k) => (k * spacing) / (capacitance * Math.log(3)));
    for (const points of [linearPoints(20e3, 130e3, 7), [20e3, 130e3]]) {
      const all = runStudy(sweepStudy(planOf('R1', points), counter('R1'))).marks;
      const marks = all.filter(ratioJumps);
      expect(marks).toHaveLength(4);
      for (const [index, { below, above }] of marks.entries()) {
        const place = expected[index]!;
        expect(above.x - below.x).toBeLessThanOrEqual(1e-9 * above.x);
        // 1e-12: what the engine rounds.
        expect(below.x).toBeLessThanOrEqual(place * (1 + 1e-12));
        expect(above.x).toBeGreaterThanOrEqual(place * (1 - 1e-12));
        expect([below.measured[0]?.value, above.measured[0]?.value]).toEqual([index + 1, index + 2]);
        expect(below.steps[0]).toEqual({ least: index + 1, most: index + 1 });
      }
      expect(marks.map(({ above }) => above.fates)).toEqual([
        'started, 1 held',
        'started, 1 held, 1 ignored',
        'started, 1 held, 2 ignored',
        'started, 1 held, 3 ignored',
      ]);
      // The last pulse holds the output on while the interval ends within its width: until T = k Tin + 8 ms (closed form).
      const released = all.filter((mark) => !ratioJumps(mark));
      expect(released).toHaveLength(4);
      for (const [index, { above }] of released.entries()) {
        const place = ((index + 1) * spacing + 0.008) / (capacitance * Math.log(3));
        expect(Math.abs(above.x / place - 1)).toBeLessThan(2e-9);
      }
      expect(released.at(-1)?.above.fates).toBe('started, 4 ignored');
    }
  });

  test('finds the same boundaries when the spacing of the pulses is varied', () => {
    const { marks: all } = runStudy(
      sweepStudy(planOf('G1.wave.period', linearPoints(0.1, 0.4, 6)), counter('G1.wave.period')),
    );
    const marks = all.filter(ratioJumps);
    const interval = 68e3 * capacitance * Math.log(3);
    // T = k Tin again, from many pulses in an interval to few: k = 3, 2, 1.
    const expected = [3, 2, 1].map((k) => interval / k);
    expect(marks).toHaveLength(3);
    for (const [index, place] of expected.entries()) {
      expect(Math.abs(marks[index]!.above.x / place - 1)).toBeLessThan(2e-9);
    }
  });

  test('tells a region between two ratios in which the capacitor has no time to empty', () => {
    // A discharge pin of 1 kΩ and 4.7 µF: what is left of the charge after 1 ms makes the next interval shorter.
    const boards = {
      counter: {
        ready: 'frequency divider',
        values: { 'U1.family': 'ideal', 'U1.with': { dischargeResistance: 1e3 } },
      },
    };
    const board = checkBoards(usable(documentOf(boards, []))).boards.get('counter');
    const value = board?.ok === true ? boardValue('R1', board) : undefined;
    if (board?.ok !== true || value?.ok !== true) throw new Error('the board must be good');
    const plan = planOf('R1', linearPoints(56e3, 60e3, 40));
    const { points } = runStudy(sweepStudy(plan, boardSubject(board, [value.value])));
    const uneven = points.filter(({ steps }) => steps[0] !== null && steps[0]!.least !== steps[0]!.most);
    expect(uneven.length).toBeGreaterThan(0);
    // An interval that begins with the charge left is over before the next pulse: the one after it starts at once.
    expect(uneven[0]?.fates).toBe('started, 0 to 1 ignored');
    // Far from the boundary T = 2 Tin (58.1 kΩ) on the low side nothing of it is left.
    expect(points[0]?.steps[0]).toEqual({ least: 2, most: 2 });
  });

  test('gives the same whatever the order of its jobs, and survives JSON', () => {
    const study = sweepStudy(planOf('R1', linearPoints(20e3, 130e3, 18), 4), counter('R1'));
    expect(study.jobCount).toBe(5);
    const forward = runStudy(study);
    const backward = new Map<number, SweepJob>();
    for (let index = study.jobCount - 1; index >= 0; index--) {
      backward.set(index, JSON.parse(JSON.stringify(study.run(index))) as SweepJob);
    }
    expect(study.collect(backward)).toEqual(forward);
    expect(forward.points.map(({ x }) => x)).toEqual(linearPoints(20e3, 130e3, 18));
    expect(forward.share).toBe(1);
  });

  test('keeps what is done when it is stopped, within a tenth of a second', () => {
    const plan = planOf('R1', linearPoints(20e3, 130e3, 2000), 600);
    const study = sweepStudy(plan, counter('R1', 'bipolar'));
    // Time of a processor, which hardly depends on what else runs beside this (ms); the best of a few counts.
    let least = Infinity;
    for (let attempt = 0; attempt < 3 && least >= 100; attempt++) {
      const stopAt = processorTime() + 200;
      const signal = {
        get aborted(): boolean {
          return processorTime() > stopAt;
        },
      };
      const { points, share } = runStudy(study, { signal });
      least = Math.min(least, processorTime() - stopAt);
      expect(share).toBeLessThan(1);
      expect(points.length).toBeLessThan(2001);
    }
    expect(least).toBeLessThan(100);
    expect(study.collect(new Map())).toEqual({ points: [], marks: [], share: 0 });
  });

  test('marks where there is no run any more, and says why', () => {
    // A pulse longer than its period makes no wave.
    const plan = planOf('G1.wave.width', [0.1, 0.2], 2);
    const { points, marks } = runStudy(sweepStudy(plan, counter('G1.wave.width')));
    expect(points[1]?.measured[0]?.reason).toContain('width');
    expect(points[1]?.failed).toContain('G1');
    const last = marks.at(-1)!;
    expect([last.below.failed, last.above.failed === null]).toEqual([null, false]);
    expect(Math.abs(last.above.x / 0.15 - 1)).toBeLessThan(2e-9);
  });
});
