import type { AskResult } from '#sim/document/index.ts';
import { answerHint, compareAnswer, readAnswer } from '#notebook/runtime/answers.ts';
import { describe, expect, test } from 'vitest';

const width: AskResult = {
  kind: 'ask',
  ok: true,
  question: 'How long does a tick last?',
  answer: 'numbers.width',
  value: 0.5,
  unit: 's',
  unitText: 's',
  within: '5 %',
  allowance: 0.025,
};
const ratio: AskResult = { ...width, value: 4, unit: null, unitText: '', within: '0', allowance: 0 };
const slope: AskResult = { ...ratio, unitText: 'V/s' };

describe('readAnswer(text, asked)', () => {
  test.each([
    ['480 ms', width, 0.48],
    ['0.48', width, 0.48],
    [' 4 ', ratio, 4],
    ['-2.5e1', ratio, -25],
    ['24 V/s', slope, 24],
    ['24', slope, 24],
    ['50 %', { unit: 'share', unitText: '' } as const, 0.5],
  ])('reads %j', (text, asked, value) => {
    expect(readAnswer(text, asked)).toEqual({ ok: true, value });
  });

  test.each([
    ['', width],
    ['5 V', width],
    ['', ratio],
    ['four', ratio],
    ['Infinity', ratio],
    ['24 V', slope],
  ])('refuses %j and says what would be right', (text, asked) => {
    const read = readAnswer(text, asked);
    expect(read.ok ? '' : read.message).toMatch(/^must be .+; got .+\. .*Write for example /);
  });
});

describe('compareAnswer(typed, result)', () => {
  test('puts both side by side, with the difference as a share of what was computed', () => {
    expect(compareAnswer(0.48, width)).toEqual({
      typed: '480\u202fms',
      computed: '500\u202fms',
      difference: '4.00\u202f% too low',
      isInside: true,
    });
  });

  test('the edge of the tolerance is inside, what lies beyond is not', () => {
    expect(compareAnswer(0.525, width)?.isInside).toBe(true);
    expect(compareAnswer(0.5251, width)?.isInside).toBe(false);
    expect(compareAnswer(0.4749, width)?.isInside).toBe(false);
  });

  test('an exact value is asked for with a tolerance of 0', () => {
    expect(compareAnswer(4, ratio)).toMatchObject({ difference: 'exactly it', isInside: true });
    expect(compareAnswer(5, ratio)).toMatchObject({ difference: '25.0\u202f% too high', isInside: false });
  });

  test('beside a computed 0 the difference is in its unit, and -1 is below 0', () => {
    const zero = { ...width, value: 0, unit: 'V' as const, unitText: 'V', allowance: 0 };
    expect(compareAnswer(-1, zero)?.difference).toBe('1.00\u202fV too low');
    expect(compareAnswer(-3, { ...zero, value: -2 })?.difference).toBe('50.0\u202f% too low');
  });

  test('there is nothing to compare with where there is no value', () => {
    expect(compareAnswer(1, { ...width, value: null, allowance: null })).toBeUndefined();
  });
});

test('answerHint(asked) names the unit', () => {
  expect(answerHint(width)).toBe('with its unit, s');
  expect(answerHint(ratio)).toBe('a plain number');
  expect(answerHint(slope)).toBe('in V/s');
});
