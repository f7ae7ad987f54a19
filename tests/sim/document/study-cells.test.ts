import {
  cellCsv,
  type CellResult,
  computeDocument,
  type ComputeDocumentOptions,
  loadDocument,
  type MapResult,
  type SweepResult,
} from '#sim/document/index.ts';
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

describe('a sweep against a rule of thumb', () => {
  async function against(cell: object, options: ComputeDocumentOptions = {}): Promise<CellResult | undefined> {
    const text = JSON.stringify(documentOf(boards, [{ ...sweep, ...cell }]));
    const { document, formulas, issues } = await loadDocument(text);
    if (document === undefined) throw new Error('cannot be used');
    expect(issues.map(({ message }) => message)).toEqual([]);
    return computeDocument(document, { formulas, ...options }).results['over'];
  }
  async function found(cell: object): Promise<SweepResult> {
    return resultOf({ over: (await against(cell))! }, 'over', 'sweep');
  }

  test('gives the rule and the error of the reading at every point, the greatest of them in the sentence', async () => {
    const { against: rules, series, sentence } = await found({ against: '1.1 * R1 * C1' });
    const [rule] = rules;
    expect(rules).toHaveLength(1);
    expect([rule?.reading, rule?.text]).toEqual(['width', '1.1 * R1 * C1']);
    // C1 of the ready board is 4.7 µF: 1.1 · 20 kΩ · 4.7 µF = 103.4 ms, and so on (closed form).
    const points = [20e3, 25e3, 30e3, 35e3, 40e3];
    expect(rule?.values.map((value) => Math.round((value ?? NaN) * 1e6))).toEqual(
      points.map((r) => Math.round(r * 5.17)),
    );
    // Ideal family: T = R C ln 3 (closed form), but for 30 kΩ, where the pulse at 150 ms holds the output on for 8 ms.
    const ideal = Math.log(3) / 1.1 - 1;
    for (const index of [0, 1, 3, 4]) expect(rule?.error[index]).toBeCloseTo(ideal, 9);
    expect(rule?.error[2]).toBeCloseTo(((series[1]?.values[2] ?? NaN) - 0.1551) / 0.1551, 9);
    // Just above T = 150 ms the output is held until the pulse ends, 158 ms after its start (closed form): 158 / 150.19.
    expect(rule?.greatest?.x).toBeCloseTo(29050.188, 1);
    expect(rule?.greatest?.error).toBeCloseTo(0.158 / (1.1 * 29050.188 * 4.7e-6) - 1, 5);
    expect(plain(sentence)).toContain(
      'width is furthest from 1.1 * R1 * C1 at R1 of 29.05 kΩ: 158.0 ms against 150.2 ms, an error of +5.2 %.',
    );
  });

  test('goes by the names of readings where it is told, and knows the value that varies by all its names', async () => {
    const rules = { ratio: 'floor(1.1 * R1.resistance * C1 / G1.wave.period) + 1', width: 'ln(3) * R1 * C1' };
    const { against: found_ } = await found({ against: rules });
    expect(found_.map(({ reading }) => reading)).toEqual(['ratio', 'width']);
    // floor(103.4 / 150) + 1 = 1 ... floor(155.1 / 150) + 1 = 2 (derived).
    expect(found_[0]?.values).toEqual([1, 1, 2, 2, 2]);
    expect(found_[0]?.error).toEqual([0, 0, 0, 0, 0]);
  });

  test('says that a reading is what the rule gives where it is', async () => {
    const vary = { value: 'R1', values: ['20 kΩ', '25 kΩ'] };
    expect((await found({ vary, against: 'ln(3) * R1 * C1' })).sentence).toContain(
      'width is what ln(3) * R1 * C1 gives throughout.',
    );
  });

  test('has no error where the reading has no value or the rule gives none', async () => {
    const short = { until: '300 ms', vary: { value: 'R1', values: ['30 kΩ', '60 kΩ'] } };
    const [rule] = (await found({ ...short, against: 'sqrt(45 kΩ / R1 - 1) * 1 s' })).against;
    expect(rule?.error[1]).toBe(null);
    expect(rule?.values[1]).toBe(null);
    const [none] = (await found({ ...short, vary: { value: 'R1', values: ['60 kΩ', '70 kΩ'] }, against: 'R1 * C1' }))
      .against;
    expect(none).toMatchObject({ error: [null, null], greatest: null });
  });

  test('writes the rule and the error beside the readings as CSV, and gives plain data', async () => {
    const result = await found({ against: '1.1 * R1 * C1' });
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
    const lines = cellCsv('over', result)[0]?.text.split(/\r?\n/) ?? [];
    expect(lines[0]).toBe('R1_Ω,ratio,width_s,width_rule_s,width_error,fates_U1');
    expect(lines[1]).toMatch(/^20000,1,0\.10\d+,0\.103(4|39{6})\d*,-0\.001\d+,started$/);
  });

  test('is faulty with nothing to read the rule with', async () => {
    const result = await against({ against: '1.1 * R1 * C1' }, { formulas: undefined });
    expect(result?.ok === false && result.error.message).toContain('by the option formulas');
  });

  test('refuses what is no rule for a reading', async () => {
    const message = async (rule: unknown): Promise<string> => {
      const text = JSON.stringify(documentOf(boards, [{ ...sweep, against: rule }]));
      return plain((await loadDocument(text)).issues[0]?.message ?? '');
    };
    expect(await message('1.1 * R9 * C1')).toContain('against must name a part of the board');
    expect(await message('1.1 * R1 +')).toContain('against must');
    expect(await message({})).toContain('against must hold at least one rule; got an empty object.');
    expect(await message({ ratio: 'R1 * C1' })).toContain('against.ratio must have the unit of ratio; got seconds.');
    expect(await message({ width: 'R1 + C1' })).toContain('must add only what has the same unit');
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
