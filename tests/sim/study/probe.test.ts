import { boardSubject, boardValue } from '#sim/document/board-subject.ts';
import { checkBoards } from '#sim/document/board-table.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { linearPoints } from '#sim/study/axis.ts';
import { probe } from '#sim/study/probe.ts';
import { isUneven } from '#sim/study/ratio-steps.ts';
import type { Subject } from '#sim/study/subject.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';

function counter(values: object): Subject {
  const boards = { counter: { ready: 'frequency divider', values } };
  const board = checkBoards(usable(documentOf(boards, []))).boards.get('counter');
  const value = board?.ok === true ? boardValue('R1', board) : undefined;
  if (board?.ok !== true || value?.ok !== true) throw new Error('the board must be good');
  return boardSubject(board, [value.value]);
}

function probed(values: object, resistance: number, until: number, list = false) {
  // A list that is not full yet has to be shown everything: such a run is gone through to its end.
  const readings = [parseReading('ratio(out, in)'), ...(list ? [parseReading('widths(out)')] : [])];
  const question = { readings, window: { from: 0, until }, maxEvents: 1e7, timer: 'U1' };
  return probe(counter(values), new Map([['R1', resistance]]), question)!;
}

describe('probe(subject, values, question)', () => {
  test('tells steps and fates of a long run as of a short one', () => {
    for (const [resistance, fates] of [
      [20e3, 'started'],
      [68e3, 'started, 2 ignored'],
      [88e3, 'started, 1 held, 2 ignored'],
    ] as const) {
      const short = probed({ 'U1.family': 'ideal' }, resistance, 6);
      const long = probed({ 'U1.family': 'ideal' }, resistance, 60_000);
      expect([long.steps[0], long.fates]).toEqual([short.steps[0], short.fates]);
      expect(long.fates).toBe(fates);
    }
  });

  test('tells the range of uneven steps whether periods are counted or gone through', () => {
    const values = { 'U1.family': 'ideal', 'U1.with': { dischargeResistance: 1e3 } };
    let uneven = 0;
    for (const resistance of linearPoints(56e3, 60e3, 20)) {
      const counted = probed(values, resistance, 60);
      const through = probed(values, resistance, 60, true);
      expect(counted.steps[0]).toEqual(through.steps[0]);
      expect(counted.fates).toBe(through.fates);
      if (isUneven(counted.steps[0] ?? null)) uneven++;
      expect(Math.abs(Number(counted.measured[0]?.value) - Number(through.measured[0]?.value))).toBeLessThan(1e-9);
    }
    expect(uneven).toBeGreaterThan(0);
  });
});
