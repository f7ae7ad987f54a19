import { type CellResult, type MapResult, type SweepResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, issuesOf, resultOf } from '../../support/documents.ts';

const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } } };
const take = { ratio: 'ratio(out, in)', width: 'width(out)' };
const sweep = {
  id: 'over',
  kind: 'sweep',
  board: 'counter',
  until: '3 s',
  vary: { value: 'R1', from: '20 kΩ', to: '40 kΩ', steps: 4 },
  take,
};
const map = {
  id: 'regions',
  kind: 'map',
  board: 'counter',
  until: '3 s',
  x: { value: 'R1', values: ['20 kΩ', '40 kΩ', '30 kΩ'] },
  y: { value: 'G1.wave.period', from: '100 ms', to: '200 ms', steps: 2 },
  take: { ratio: 'ratio(out, in)' },
};

function swept(cell: object): SweepResult {
  return resultOf(computed(documentOf(boards, [{ ...sweep, ...cell }])), 'over', 'sweep');
}

function mapped(cell: object): MapResult {
  return resultOf(computed(documentOf(boards, [{ ...map, ...cell }])), 'regions', 'map');
}

describe('computeDocument(document): sweeps', () => {
  test('gives a value of every reading for every point, marks, fates and a sentence', () => {
    const { vary, x, series, fates, marks, share, sentence } = swept({});
    expect(vary).toEqual({ value: 'R1', unit: 'Ω', scale: 'linear', now: 68e3 });
    expect(x).toEqual([20e3, 25e3, 30e3, 35e3, 40e3]);
    // Ideal family: T = R C ln 3 is below one spacing of 150 ms up to 29.05 kΩ (closed form), then one pulse more.
    expect(series[0]).toEqual({ name: 'ratio', asked: take.ratio, unit: null, values: [1, 1, 2, 2, 2], reasons: {} });
    expect(series[1]?.unit).toBe('s');
    expect(fates?.timer).toBe('U1');
    expect(fates?.patterns).toEqual([
      'started',
      'started',
      'started, 1 held',
      'started, 1 ignored',
      'started, 1 ignored',
    ]);
    expect(marks[0]?.changes).toEqual([
      { what: 'ratio', name: 'ratio', below: '1', above: '2' },
      { what: 'fates', name: 'U1', below: 'started', above: 'started, 1 held' },
    ]);
    expect([marks[0]?.valuesBelow[0], marks[0]?.valuesAbove[0]]).toEqual([1, 2]);
    expect(share).toBe(1);
    const words = plain(sentence);
    expect(words).toContain('Over R1 from 20.0 kΩ to 40.0 kΩ (5 points): ratio rises from 1 to 2;');
    expect(words).toContain('ratio changes at 29.05 kΩ (1 to 2)');
    expect(words).toContain('from "started" to "started, 1 held"');
  });

  test('goes through ranges of equal ratio, preferred values and lists', () => {
    const points = (vary: object): readonly number[] => swept({ vary: { value: 'R1', ...vary } }).x;
    const even = points({ from: '10 kΩ', to: '40 kΩ', steps: 2, scale: 'logarithmic' });
    expect(even.map((value) => Math.round(value * 1e6) / 1e6)).toEqual([10e3, 20e3, 40e3]);
    // Preferred values of E6 (IEC 60063:2015, common practice, no source): 10, 15, 22, 33, 47, 68.
    expect(points({ from: '10 kΩ', to: '33 kΩ', series: 'E6' })).toEqual([10e3, 15e3, 22e3, 33e3]);
    expect(points({ values: ['47K', '22 kΩ', 33000] })).toEqual([22e3, 33e3, 47e3]);
  });

  test('says why there is no value, in the series and in words', () => {
    const { series, sentence } = swept({ until: '300 ms', vary: { value: 'R1', values: ['30 kΩ', '60 kΩ'] } });
    expect(series[1]?.values[1]).toBe(null);
    expect(series[1]?.reasons['1']).toContain('out');
    expect(sentence).toContain('width has no value at 1 of them');
  });

  test('keeps what is there when it is stopped', () => {
    const result = computed(documentOf(boards, [sweep]), { signal: { aborted: true } })['over'] as CellResult;
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.error.message).toContain('stopped after 0 of its 1 jobs');
    expect(result.partial).toMatchObject({ kind: 'sweep', x: [], share: 0, sentence: 'Nothing is computed yet.' });
  });

  test('tells its progress among other cells', () => {
    const shares: number[] = [];
    const reading = { id: 'numbers', kind: 'reading', board: 'counter', until: '3 s', take };
    const long = { ...sweep, vary: { ...sweep.vary, steps: 12 } };
    computed(documentOf(boards, [reading, long, map]), { onProgress: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.filter((share) => share > 0.3 && share < 1).length).toBeGreaterThan(1);
  });

  test('gives plain data', () => {
    const result = swept({});
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });
});

describe('computeDocument(document): maps', () => {
  test('gives x, y and z, a row for each y, and boundaries between ratios', () => {
    const result = mapped({});
    expect(result.x).toEqual([20e3, 30e3, 40e3]);
    expect(result.y).toEqual([0.1, 0.15, 0.2]);
    // Ideal family: T = R C ln 3 = 103, 155, 207 ms; ratio floor(T / Tin) + 1 (closed form).
    expect(result.z).toEqual([
      [2, 2, 3],
      [1, 2, 2],
      [1, 1, 2],
    ]);
    expect(result.uneven).toEqual([
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
    ]);
    expect(result.contours.map(({ between }) => between)).toEqual([
      ['1', '2'],
      ['2', '3'],
    ]);
    expect(result.unit).toBe(null);
    expect(result.sample).toBe(null);
    expect(result.vary.y).toEqual({ value: 'G1.wave.period', unit: 's', scale: 'linear', now: 0.15 });
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });

  test('follows levels in the unit of the reading', () => {
    const { contours, uneven, unit } = mapped({ take: { width: take.width }, levels: ['140 ms', 0.17] });
    expect(contours.map(({ level }) => level)).toEqual([0.14, 0.17]);
    expect([uneven, unit]).toEqual([null, 's']);
  });
});

describe('parseDocument(text): sweeps and maps', () => {
  const issues = (cell: object): string[] => issuesOf(documentOf(boards, [cell]));
  const ranged = (vary: object): string[] => issues({ ...sweep, vary: { value: 'R1', ...vary } });

  test('takes what is right', () => {
    expect(issues(sweep)).toEqual([]);
    expect(issues(map)).toEqual([]);
  });

  test('refuses ranges that are none, with the place', () => {
    expect(ranged({ from: '40 kΩ', to: '20 kΩ' })).toEqual(['page[0].vary.to: bad-range']);
    expect(ranged({ from: '0 Ω', to: '20 kΩ', scale: 'logarithmic' })).toEqual(['page[0].vary.from: bad-range']);
    expect(ranged({ from: '0 Ω' })).toEqual(['page[0].vary.to: bad-range']);
    expect(ranged({ from: '1 s', to: '2 s' })).toEqual(['page[0].vary.from: bad-range']);
    expect(ranged({ from: 1, to: 2, steps: 0 })).toEqual(['page[0].vary.steps: out-of-range']);
    expect(ranged({ from: 1, to: 2, steps: 4, series: 'E6' })).toEqual(['page[0].vary.steps: bad-range']);
    expect(ranged({ from: 1.1e4, to: 1.2e4, series: 'E6' })).toEqual(['page[0].vary.to: bad-range']);
    expect(ranged({ values: [1, 2], from: 1 })).toEqual(['page[0].vary.from: bad-range']);
    expect(ranged({ values: [1, 1] })).toEqual(['page[0].vary.values: bad-range']);
    expect(ranged({ values: [1, '2 V'] })).toEqual(['page[0].vary.values[1]: bad-range']);
  });

  test('refuses values, readings and timers that do not fit', () => {
    expect(issues({ ...sweep, vary: { ...sweep.vary, value: 'R7' } })).toEqual(['page[0].vary.value: unknown-value']);
    expect(issues({ ...sweep, vary: { ...sweep.vary, value: 'G1.wave' } })).toEqual([
      'page[0].vary.value: unknown-value',
    ]);
    expect(issues({ ...sweep, take: { all: 'widths(out)' } })).toEqual(['page[0].take.all: list-reading']);
    expect(issues({ ...sweep, timer: 'U7' })).toEqual(['page[0].timer: unknown-timer']);
    expect(issues({ ...map, y: map.x })).toEqual(['page[0].y.value: same-value']);
    expect(issues({ ...map, take })).toEqual(['page[0].take: out-of-range']);
    expect(issues({ ...map, levels: ['2 V'] })).toEqual(['page[0].levels[0]: bad-level']);
    const many = { value: 'G1.wave.period', from: 0.1, to: 1, steps: 10_000 };
    expect(issues({ ...map, y: many, x: { value: 'R1', from: 1, to: 2 } })).toEqual(['page[0].y: too-many-points']);
  });
});
