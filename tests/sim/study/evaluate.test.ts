import { boardSubject, boardValue } from '#sim/document/board-subject.ts';
import { checkBoards } from '#sim/document/board-table.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { evaluate, type Question } from '#sim/study/evaluate.ts';
import type { Subject } from '#sim/study/subject.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';

/** The axle counter with a timer of the `ideal` family, its resistor open to change. */
function axleCounter(): Subject {
  const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } } };
  const board = checkBoards(usable(documentOf(boards, []))).boards.get('counter');
  const value = board?.ok === true ? boardValue('R1', board) : undefined;
  if (board?.ok !== true || value?.ok !== true) throw new Error('the board must be good');
  return boardSubject(board, [value.value]);
}

const question: Question = {
  readings: [parseReading('width(out)'), parseReading('ratio(out, in)'), parseReading('widths(out)')],
  window: { from: 0, until: 6 },
  maxEvents: 1e6,
};
const resistance = new Map([['R1', 68e3]]);

describe('evaluate(subject, values, question)', () => {
  test('gives numbers, units, and the reason where there is none', () => {
    const { measured, units } = evaluate(axleCounter(), resistance, question)!;
    // T = R C ln 3 = 2.34 spacings of 150 ms, so every third pulse starts (closed form, ideal family).
    expect(Math.abs(Number(measured[0]?.value) / (68e3 * 4.7e-6 * Math.log(3)) - 1)).toBeLessThan(1e-12);
    expect(measured.slice(1)).toEqual([{ value: 3 }, { value: null, reason: 'the reading gives a list' }]);
    expect(units).toEqual(['s', null, 's']);
  });

  test('gives no values of a run that ended before its time, only why it did', () => {
    const { measured } = evaluate(axleCounter(), resistance, { ...question, maxEvents: 5 })!;
    expect(measured.map(({ value }) => value)).toEqual([null, null, null]);
    expect(measured[0]?.reason).toContain('used up its 5 events');
  });

  test('gives nothing when it is stopped, before or on its way', () => {
    expect(evaluate(axleCounter(), resistance, question, { aborted: true })).toBeUndefined();
    let looks = 0;
    const stopped = {
      get aborted(): boolean {
        return ++looks > 1;
      },
    };
    const long = { ...question, window: { from: 0, until: 6000 } };
    expect(evaluate(axleCounter(), resistance, long, stopped)).toBeUndefined();
  });
});
