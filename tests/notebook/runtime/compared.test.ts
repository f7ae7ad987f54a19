import { compared, comparisonText } from '#notebook/runtime/compared.ts';
import { whatIfNews } from '#notebook/runtime/what-if-news.ts';
import type { CellResult, ReadingResult } from '#sim/document/index.ts';
import { expect, test } from 'vitest';

function reading(values: ReadingResult['values'], units: ReadingResult['units'] = {}): CellResult {
  return {
    kind: 'reading',
    ok: true,
    board: 'lamp',
    from: 0,
    until: 1,
    values,
    reasons: {},
    units,
    asked: {},
    faults: [],
    cautions: [],
  };
}

function words(now: CellResult, before: CellResult): string | undefined {
  const comparison = compared('numbers', now, before);
  return comparison === undefined ? undefined : comparisonText(comparison);
}

test('changed readings are told with what they were, the others by name', () => {
  const units = { width: 's', ratio: null } as const;
  expect(words(reading({ width: 0.351, ratio: 3 }, units), reading({ width: 0.338, ratio: 3 }, units))).toBe(
    'width 351\u202fms, was 338\u202fms; ratio as before',
  );
  expect(words(reading({ ratio: 3 }, units), reading({ ratio: 3 }, units))).toBe('ratio as before');
});

test('values that differ little get as many digits as tell them apart, and none beyond nine', () => {
  const units = { width: 's' } as const;
  expect(words(reading({ width: 0.35123 }, units), reading({ width: 0.35119 }, units))).toBe(
    'width 351.23\u202fms, was 351.19\u202fms',
  );
  expect(words(reading({ width: 0.35 }, units), reading({ width: 0.35 * (1 + 1e-12) }, units))).toBe('width as before');
});

test('a value that is lost or found is told, and so are lists', () => {
  const units = { width: 's', widths: 's' } as const;
  expect(words(reading({ width: null }, units), reading({ width: 0.338 }, units))).toBe(
    'width no value, was 338\u202fms',
  );
  expect(words(reading({ widths: [1, 2] }, units), reading({ widths: [1, 3] }, units))).toBe(
    'widths (1.00\u202fs, 2.00\u202fs), was (1.00\u202fs, 3.00\u202fs)',
  );
});

test('results of other kinds, and faults, are not compared', () => {
  const fault: CellResult = { kind: 'reading', ok: false, error: { message: 'no', where: 'x' } } as never;
  expect(words(reading({}), fault)).toBeUndefined();
});

test('what is asked of a board gives no result away that waits for a prediction, and says why it is silent', () => {
  const cells = [
    { id: 'board', kind: 'board', index: 0, data: { board: 'lamp' } },
    { id: 'numbers', kind: 'reading', index: 1, data: { board: 'lamp' } },
    { id: 'other', kind: 'reading', index: 2, data: { board: 'bell' } },
  ];
  const comparison = { changed: ['width 1 s, was 2 s'], same: [] };
  const news = (held: boolean, isDone: boolean): unknown =>
    whatIfNews(
      cells,
      'lamp',
      () => held,
      () => (isDone ? comparison : undefined),
    );
  expect(news(false, true)).toMatchObject({ told: ['width 1 s, was 2 s'] });
  expect(news(true, true)).toMatchObject({ told: [], silence: 'held' });
  expect(news(false, false)).toMatchObject({ told: [], silence: 'waiting' });
  expect(
    whatIfNews(
      cells.slice(0, 1),
      'lamp',
      () => false,
      () => comparison,
    ),
  ).toMatchObject({
    silence: 'unread',
    below: 'board',
  });
});
