import { findQuotes, replaceQuotes, splitTarget } from '#sim/document/quotes.ts';
import { describe, expect, test } from 'vitest';
import { processorTime } from '../../support/processor-time.ts';

describe('findQuotes(text)', () => {
  test('finds links into the page with their place in the text', () => {
    const text = 'It lasts [width](#numbers.width), see [above](#look).';
    const quotes = findQuotes(text);
    expect(quotes.map(({ words, target }) => [words, target])).toEqual([
      ['width', 'numbers.width'],
      ['above', 'look'],
    ]);
    expect(quotes.map(({ start, end }) => text.slice(start, end))).toEqual([
      '[width](#numbers.width)',
      '[above](#look)',
    ]);
  });

  test('passes over other links and brackets', () => {
    expect(findQuotes('[out](https://example.org/#a) ](#a) [a] (#b) [c](# d)')).toEqual([]);
  });

  test('takes the innermost bracket as the beginning of the words', () => {
    expect(findQuotes('[one [two](#a.b)').map(({ words }) => words)).toEqual(['two']);
  });

  // A careless pattern takes time with the square of the length here: minutes instead of milliseconds.
  test.each(['[', '](#', '[a](#', '[a](#b.c) '])('takes a megabyte of %s in its stride', (piece) => {
    const text = piece.repeat(Math.ceil(1e6 / piece.length));
    const start = processorTime();
    findQuotes(text);
    expect(processorTime() - start).toBeLessThan(5000);
  });
});

describe('splitTarget(target)', () => {
  test('takes a cell and its number apart at the first dot', () => {
    expect(splitTarget('numbers.width')).toEqual({ cell: 'numbers', name: 'width' });
    expect(splitTarget('look')).toEqual({ cell: 'look' });
  });
});

describe('replaceQuotes(text, show)', () => {
  test('puts numbers in the place of links, and words where there is no number', () => {
    const show = (target: string): string | undefined => (target === 'a.b' ? '4' : undefined);
    expect(replaceQuotes('n = [n](#a.b), see [above](#a).', show)).toBe('n = 4, see above.');
  });
});
