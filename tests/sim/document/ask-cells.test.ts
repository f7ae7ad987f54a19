import { type AskResult, computeDocument, loadDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, resultOf } from '../../support/documents.ts';

const boards = { counter: { ready: 'frequency divider', values: { R1: '100 kΩ', C1: '4.7 µF' } } };
const window = { board: 'counter', until: '3 s' };
const page = [
  {
    id: 'numbers',
    kind: 'reading',
    ...window,
    take: {
      width: 'width(out)',
      top: 'peak(timing)',
      ratio: 'ratio(out, in)',
      never: 'width(out, 30 V)',
      duty: 'duty(out)',
    },
  },
  { id: 'why', kind: 'fates', ...window },
  { id: 'rule', kind: 'formula', text: '1.1 * counter.R1 * counter.C1' },
  { id: 'slope', kind: 'formula', text: 'counter.BT1 / 500 ms' },
];

async function asked(answer: string, more: object = {}): Promise<AskResult> {
  const quiz = { id: 'quiz', kind: 'ask', question: 'How much?', answer, ...more };
  const { document, formulas, issues } = await loadDocument(JSON.stringify(documentOf(boards, [quiz, ...page])));
  expect(issues).toEqual([]);
  return resultOf(computeDocument(document!, { only: ['quiz'], formulas }).results, 'quiz', 'ask');
}

describe('an ask cell', () => {
  test('gives the answer with its unit, and how far off one may be: 5 % if nothing is said', async () => {
    const result = await asked('numbers.width');
    expect(result).toMatchObject({
      kind: 'ask',
      question: 'How much?',
      answer: 'numbers.width',
      unit: 's',
      within: '5 %',
    });
    expect(result.allowance).toBe(0.05 * result.value!);
  });

  test('takes a formula, a count, a rule of a board or a value for an answer', async () => {
    expect((await asked('rule')).value).toBe(0.517);
    expect((await asked('rule.value')).value).toBe(0.517);
    expect(await asked('why.started')).toMatchObject({ unit: null, unitText: '' });
    expect((await asked('counter.R1')).value).toBe(100e3);
    expect(await asked('slope')).toMatchObject({ value: 24, unit: null, unitText: 'V/s' });
  });

  test('takes a tolerance in the unit of the answer, or as a number in SI units', async () => {
    expect((await asked('numbers.width', { within: '20 ms' })).allowance).toBe(0.02);
    expect((await asked('numbers.ratio', { within: 0 })).allowance).toBe(0);
    expect((await asked('numbers.ratio', { within: '0.5' })).allowance).toBe(0.5);
    const { value, allowance } = await asked('numbers.duty', { within: '10 %' });
    expect(allowance).toBe(0.1 * value!);
  });

  test('explains an answer about a timer by what its pulses met in the same run', async () => {
    const explained = (await asked('numbers.width')).explanation;
    expect(explained).toBe((await asked('why.ignored')).explanation);
    expect(explained).toMatch(/^20 input pulses came before .* started an interval/);
    // A level at another net has no such story.
    expect((await asked('numbers.top')).explanation).toBeUndefined();
    expect((await asked('rule')).explanation).toBeUndefined();
  });

  test('says why there is no answer', async () => {
    const { value, allowance, reason } = await asked('numbers.never');
    expect([value, allowance, reason]).toEqual([null, null, 'out never rose above 30\u202fV before 3\u202fs']);
  });

  test('gives nothing that a note could quote, which would give the answer away', async () => {
    const note = { id: 'note', kind: 'note', text: 'See [it](#quiz.answer).' };
    const quiz = { id: 'quiz', kind: 'ask', question: 'How much?', answer: 'rule' };
    const { issues } = await loadDocument(JSON.stringify(documentOf(boards, [note, quiz, ...page])));
    expect(issues.map(({ code }) => code)).toEqual(['missing-target']);
  });
});
