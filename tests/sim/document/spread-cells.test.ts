import { type CellResult, documentStudies, parseDocument, type SpreadResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, issuesOf, resultOf, usable } from '../../support/documents.ts';

const values = { 'U1.family': 'ideal', 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' };
const boards = { lamp: { ready: 'monostable', values } };
const spread = {
  id: 'kits',
  kind: 'spread',
  board: 'lamp',
  until: '10 s',
  take: { width: 'width(out)' },
  limits: { width: ['3.5 s', '5 s'] },
  samples: 200,
};
/** R1 C1 ln 3 (closed form, ideal family). */
const interval = 390e3 * 10e-6 * Math.log(3);

function spreadOf(cell: object = {}, on: object = boards): SpreadResult {
  return resultOf(computed(documentOf(on, [{ ...spread, ...cell }])), 'kits', 'spread');
}

describe('computeDocument(document): spreads', () => {
  test('gives distribution, worst case, share inside limits, shares of the variance and a sentence', () => {
    const { parts, readings, inside, corners, samples, share, sentence } = spreadOf();
    expect([samples, corners, share]).toEqual([200, 4, 1]);
    expect(parts.map(({ value, now, source }) => [value, now, plain(source)])).toEqual([
      ['R1', 390e3, 'tolerance of R1, 5 %'],
      ['C1', 10e-6, 'tolerance of C1, 20 %'],
    ]);
    expect(parts[0]?.least).toBeCloseTo(390e3 * 0.95, 6);
    const [width] = readings;
    expect(width).toMatchObject({ name: 'width', asked: 'width(out)', unit: 's', count: 200, missing: 0 });
    expect(width?.now).toBeCloseTo(interval, 9);
    // All parts at their limits (closed form).
    expect(width?.worst.least?.value).toBeCloseTo(interval * 0.95 * 0.8, 9);
    expect(width?.worst.greatest?.value).toBeCloseTo(interval * 1.05 * 1.2, 9);
    expect(width?.bins.reduce((sum, { count }) => sum + count, 0)).toBe(200);
    const median = width?.quantiles.find((each) => each.share === 0.5)?.value ?? NaN;
    expect(Math.abs(median / interval - 1)).toBeLessThan(0.05);
    expect(width?.limits).toMatchObject({ low: 3.5, high: 5, of: 200 });
    expect(inside).toEqual({
      inside: width?.limits?.inside,
      of: 200,
      share: width?.limits?.share,
      confidence: width?.limits?.confidence,
    });
    // 0.05^2 : 0.2^2 (closed form): nearly all is the capacitor's.
    expect(width?.variance?.shares[1]).toBeGreaterThan(0.9);
    const words = plain(sentence);
    expect(words).toContain('200 samples with R1 and C1 drawn by chance');
    expect(words).toContain('(4.28 s as the board stands)');
    expect(words).toContain('of them width is from 3.50 s to 5.00 s; of all such boards it is ');
    expect(words).toContain('Worst case: width from 3.26 s to 5.40 s.');
    expect(words).toMatch(
      /Of the variance of width, 9\d % comes from C1 and \d % comes from R1 \(by linear regression\)/,
    );
  });

  test('takes the published ranges of a family, and values with ranges of their own', () => {
    const on = { lamp: { ready: 'monostable', values: { ...values, 'U1.family': 'bipolar' } } };
    const { parts } = spreadOf({ samples: 1, parts: ['R1', 'U1'] }, on);
    const threshold = parts.find(({ value }) => value === 'U1.with.thresholdCurrent');
    // TI SLFS022A p. 4: 30 nA, at most 250 nA.
    expect(threshold).toMatchObject({ unit: 'A', now: 30e-9, least: 30e-9, greatest: 250e-9, source: 'TI-A p. 4' });
    expect(parts[0]?.value).toBe('R1');
    const own = spreadOf({
      samples: 1,
      parts: { BT1: ['10 V', '14 V'], R1: 'own', C1: '1 %', 'C1.leakage': ['2 MΩ', 'none'] },
    });
    expect(own.parts.map(({ value, least, greatest }) => [value, least, greatest])).toEqual([
      ['BT1', 10, 14],
      ['R1', 370500, 409500],
      ['C1', 9.9e-6, 10.1e-6],
      ['C1.leakage', 2e6, null],
    ]);
  });

  test('gives the same for the same seed, another spread for another, and plain data', () => {
    const first = spreadOf({ samples: 30 });
    expect(spreadOf({ samples: 30, seed: 1 })).toEqual(first);
    expect(spreadOf({ samples: 30, seed: 2 }).readings[0]?.mean).not.toBe(first.readings[0]?.mean);
    expect(JSON.parse(JSON.stringify(first))).toEqual(first);
  });

  test('keeps what is there when it is stopped', () => {
    const result = computed(documentOf(boards, [spread]), { signal: { aborted: true } })['kits'] as CellResult;
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.partial).toMatchObject({
      kind: 'spread',
      samples: 0,
      share: 0,
      sentence: 'Nothing is computed yet.',
    });
  });

  test('says of a worst case only how far it has come as long as the search is not over', () => {
    // Eleven ranges have too many corners to run them all; the first runs of the search stand nowhere near an end.
    const cell = { ...spread, parts: ['R1', 'C1', 'U1'], samples: 200 };
    const bipolar = { lamp: { ready: 'monostable', values: { ...values, 'U1.family': 'bipolar' } } };
    const { study } = documentStudies(usable(documentOf(bipolar, [cell])))[0]!;
    const jobs = new Map([0, 1].map((index) => [index, study.run(index)]));
    const { share, sentence } = study.collect(jobs) as SpreadResult;
    expect(share).toBeLessThan(1);
    expect(plain(sentence)).toMatch(/samples so far with R1, .* Furthest so far: width from [\d.]+ s to [\d.]+ s\.$/);
    expect(sentence).not.toContain('at a limit');
  });
});

describe('parseDocument(text): spreads', () => {
  const issues = (cell: object, on: object = boards): string[] => issuesOf(documentOf(on, [{ ...spread, ...cell }]));

  test('takes what is right', () => {
    expect(issues({})).toEqual([]);
    expect(
      issues({ parts: { R1: ['380 kΩ', '400 kΩ'] }, limits: { width: [null, 5] }, law: 'normal', seed: 0 }),
    ).toEqual([]);
  });

  test('refuses parts without a range, and ranges that are none', () => {
    expect(issues({ parts: ['R2'] })).toEqual(['page[0].parts[0]: bad-range']);
    expect(issues({ parts: ['R7'] })).toEqual(['page[0].parts[0]: bad-range']);
    // An ideal timer has no published ranges.
    expect(issues({ parts: ['U1'] })).toEqual(['page[0].parts[0]: bad-range']);
    expect(issues({ parts: { R1: ['2 kΩ', '1 kΩ'] } })).toEqual(['page[0].parts.R1: bad-range']);
    expect(issues({ parts: { R1: ['2 kΩ'] } })).toEqual(['page[0].parts.R1: bad-range']);
    expect(issues({ parts: { R1: '120 %' } })).toEqual(['page[0].parts.R1: bad-range']);
    expect(issues({ parts: { R1: ['1 V', '2 V'] } })).toEqual(['page[0].parts.R1: bad-range']);
    expect(issues({ parts: { R1: '5 %', 'R1.resistance': '5 %' } })).toEqual(['page[0].parts: bad-range']);
    expect(issues({}, { lamp: { ready: 'monostable' } })).toEqual(['page[0].parts: bad-range']);
    expect(issues({ parts: 'R1' })).toEqual(['page[0].parts: wrong-type']);
    expect(issues({ parts: [1] })).toEqual(['page[0].parts: wrong-type']);
  });

  test('says of a range without extent, and of one of a single value, what it is', () => {
    const said = (range: unknown): string[] =>
      parseDocument(JSON.stringify(documentOf(boards, [{ ...spread, parts: { R1: range } }]))).issues.map(
        ({ message }) => message.replace(/^.*(?=must )/u, ''),
      );
    expect(said(['1 kΩ', '1 kΩ'])).toEqual(['must have two ends; got "1 kΩ" twice. Leave out what does not change.']);
    expect(said(['1 kΩ'])).toEqual(['must have two ends; got a list of 1. Write the least and the greatest.']);
  });

  test('refuses limits, numbers of samples and laws that are none', () => {
    expect(issues({ limits: { height: [1, 2] } })).toEqual(['page[0].limits.height: bad-limits']);
    expect(issues({ limits: { width: [5, 4] } })).toEqual(['page[0].limits.width: bad-limits']);
    expect(issues({ limits: { width: [null, null] } })).toEqual(['page[0].limits.width: bad-limits']);
    expect(issues({ limits: { width: ['4 V', '5 V'] } })).toEqual(['page[0].limits.width: bad-limits']);
    expect(issues({ samples: 0 })).toEqual(['page[0].samples: out-of-range']);
    expect(issues({ seed: -1 })).toEqual(['page[0].seed: out-of-range']);
    expect(issues({ law: 'flat' })).toEqual(['page[0].law: wrong-type']);
    expect(issues({ take: { all: 'widths(out)' }, limits: {} })).toEqual(['page[0].take.all: list-reading']);
  });
});
