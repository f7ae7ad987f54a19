import { type ExpressionLanguage, markedWords } from '#notebook/edit/expression-words.ts';
import { describe, expect, test } from 'vitest';

const known = new Set(['coaches.R1', 'rule', 'width', 'out', 'numbers.width']);

function marked(text: string, language: ExpressionLanguage = 'expression'): [string, string][] {
  return markedWords(text, known, language).map(({ start, end, kind }) => [text.slice(start, end), kind]);
}

describe('markedWords(text, names, language)', () => {
  test('marks known names, and numbers with their units', () => {
    expect(marked('1.1 * coaches.R1 * 4.7 µF / .5e3 + rule')).toEqual([
      ['1.1', 'number'],
      ['coaches.R1', 'name'],
      ['4.7 µF', 'number'],
      ['.5e3', 'number'],
      ['rule', 'name'],
    ]);
    expect(marked('width(out) = 1.1 within 1 %')).toEqual([
      ['width', 'name'],
      ['out', 'name'],
      ['1.1', 'number'],
      ['1 %', 'number'],
    ]);
  });

  test('leaves alone what is not known, also where a name of the page is a part of it', () => {
    expect(marked('rules + my.rule + R1')).toEqual([]);
    expect(marked('coaches.R1.tolerance')).toEqual([['coaches.R1.tolerance', 'name']]);
  });

  test('marks in a note the targets of links into the page, and nothing else', () => {
    expect(marked('A width of [ticks](#numbers.width), see [why](#nowhere) and [rule](https://rule)', 'note')).toEqual([
      ['numbers.width', 'name'],
    ]);
  });

  test('takes time in proportion to the text, and shows longer ones plain', () => {
    expect(markedWords('1 '.repeat(9_000), known, 'expression')).toHaveLength(9_000);
    expect(markedWords('rule '.repeat(9_000), known, 'expression')).toEqual([]);
  });
});
