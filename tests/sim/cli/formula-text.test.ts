import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { captured } from '../../support/captured-output.ts';
import { documentOf } from '../../support/documents.ts';

const boards = { counter: { ready: 'frequency divider', values: { R1: '100 kΩ', C1: '4.7 µF' } } };
const page = [
  { id: 'numbers', kind: 'reading', board: 'counter', until: '3 s', take: { never: 'width(out, 30 V)' } },
  { id: 'rule', kind: 'formula', text: '1.1 * counter.R1 * counter.C1' },
  { id: 'none', kind: 'formula', text: 'numbers.never / 2' },
  { id: 'quiz', kind: 'ask', question: 'How long is a tick by the rule?', answer: 'rule' },
  { id: 'exact', kind: 'ask', question: 'How many ohms?', answer: 'counter.R1', within: 0 },
];

let folder = '';
let file = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'formula-'));
  file = join(folder, 'page.tt.json');
  writeFileSync(file, JSON.stringify(documentOf(boards, page)));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('two-thirds compute FILE', () => {
  test('prints a formula with its value, or why there is none, and what its names stood for', async () => {
    const { out, status } = await captured(['compute', file, '--only', 'rule,none']);
    expect(status).toBe(0);
    expect(out).toContain(
      ['rule: formula', '  1.1 * counter.R1 * counter.C1 = 517\u202fms', '    counter.R1  100\u202fkΩ'].join('\n'),
    );
    expect(out.replace(/\s+/g, ' ')).toContain(
      'numbers.never / 2 = no value, because numbers.never has none: out never rose',
    );
  });

  test('prints a question, its answer, and what would still be right', async () => {
    const { out, status } = await captured(['compute', file, '--only', 'quiz,exact']);
    expect(status).toBe(0);
    expect(out).toContain(
      ['quiz: question', '  How long is a tick by the rule?', '  answer: rule = 517\u202fms (right within 5 %)'].join(
        '\n',
      ),
    );
    expect(out).toContain('answer: counter.R1 = 100\u202fkΩ (right only exactly)');
  });

  test('writes one row of CSV for each', async () => {
    const { out } = await captured(['compute', file, '--only', 'rule,quiz', '--csv', folder]);
    expect(out).toContain('rule.csv');
    expect(out).toContain('quiz.csv');
  });
});
