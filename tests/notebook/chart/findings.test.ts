import { chooseTables, setCells, setColumns, setValues } from '#notebook/chart/choose-words.ts';
import { claimTables, counterexampleWords, isInBox, stretchWords } from '#notebook/chart/claim-words.ts';
import { insideWords, spreadTables } from '#notebook/chart/spread-words.ts';
import { claimDrawing } from '#sim/chart/claim-drawing.ts';
import { claimScene } from '#sim/chart/claim-scene.ts';
import { histogramScene } from '#sim/chart/histogram.ts';
import type { ChooseResult, ClaimResult, SpreadReading, SpreadResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

/* Small results made by hand, of the platform lamp: how long it is lit. */

const width: SpreadReading = {
  name: 'width',
  asked: 'width(out)',
  unit: 's',
  now: 1.1,
  count: 100,
  missing: 0,
  reasons: [],
  mean: 1.1,
  deviation: 0.1,
  least: 0.9,
  greatest: 1.3,
  quantiles: [
    { share: 0.05, value: 0.95 },
    { share: 0.95, value: 1.25 },
  ],
  bins: [
    { from: 0.9, to: 1.1, count: 40 },
    { from: 1.1, to: 1.3, count: 60 },
  ],
  worst: { least: null, greatest: { value: 1.4, at: [105e3, 12e-6], found: 'corner', corner: null } },
  limits: { low: null, high: 1.15, inside: 50, of: 100, share: 0.5, confidence: [0.4, 0.6] },
  variance: { shares: [0.06, 0.93], rest: 0.01 },
};
const spread: SpreadResult = {
  kind: 'spread',
  ok: true,
  board: 'lamp',
  from: 0,
  until: 4,
  law: 'uniform',
  seed: 1,
  samples: 100,
  parts: [
    { value: 'R1', unit: 'Ω', now: 100e3, least: 95e3, greatest: 105e3, source: 'tolerance 5 %' },
    { value: 'C1', unit: 'F', now: 10e-6, least: 8e-6, greatest: 12e-6, source: 'tolerance 20 %' },
  ],
  readings: [width],
  inside: null,
  corners: 4,
  share: 1,
  sentence: 'Made by hand.',
};

describe('histogramScene', () => {
  test('the fullest bin is as high as the plot, the others in proportion', () => {
    const scene = histogramScene(width, 600);
    const heights = scene?.bars.map(({ top }) => scene.foot - top) ?? [];
    expect((heights[0] ?? 0) / (heights[1] ?? 1)).toBeCloseTo(40 / 60, 2);
    expect(heights[1]).toBeCloseTo((scene?.foot ?? 0) - (scene?.top ?? 0), 6);
  });

  test('marks what lies outside the limits, and shows limits, worst case and the board as it stands', () => {
    const scene = histogramScene(width, 600);
    expect(scene?.bars.map(({ isOutside }) => isOutside)).toEqual([false, true]);
    expect(scene?.marks.map(({ label }) => label)).toEqual([
      'at most 1.15\u202fs',
      'greatest 1.4\u202fs',
      'as it stands 1.1\u202fs',
    ]);
    for (const { at } of scene?.marks ?? []) expect(at).toBeLessThanOrEqual(scene?.right ?? 0);
    expect(scene?.axis.title).toBe('width in seconds');
  });

  test('names of two limits stand apart, outward of their lines, on narrow pages too', () => {
    const { limits } = width;
    if (limits === null) throw new Error('there must be limits');
    const between = { ...width, limits: { ...limits, low: 1.1, high: 1.15 } };
    const marks = histogramScene(between, 358)?.marks.filter(({ kind }) => kind === 'limit');
    expect(marks?.map(({ isLeft }) => isLeft)).toEqual([true, false]);
  });

  test('there is none without samples', () => {
    expect(histogramScene({ ...width, bins: [] }, 600)).toBeUndefined();
  });
});

describe('spreadTables', () => {
  test('tell readings, what their variance follows, and what was varied', () => {
    const [readings, variance, parts] = spreadTables(spread);
    expect(readings?.rows[0]).toEqual([
      'width',
      '1.1\u202fs',
      '1.1\u202fs',
      '100\u202fms',
      '–',
      '1.4\u202fs',
      insideWords(width),
    ]);
    expect(insideWords(width)).toBe('50\u202f% (of all boards 40\u202f% to 60\u202f%)');
    expect(variance?.rows).toEqual([
      ['R1', '6\u202f%'],
      ['C1', '93\u202f%'],
      ['no straight line', '1\u202f%'],
    ]);
    expect(parts?.rows[1]).toEqual(['C1', '10\u202fµF', '8\u202fµF', '12\u202fµF', 'tolerance 20 %']);
  });
});

const claim: ClaimResult = {
  kind: 'claim',
  ok: true,
  board: 'lamp',
  from: 0,
  until: 10,
  says: 'width(out) = 1.1 * R1 * C1 within 5 %',
  left: 'width(out)',
  relation: '=',
  right: '1.1 * R1 * C1',
  within: '5 %',
  unit: 's',
  verdict: 'fails',
  trials: 10,
  seed: 1,
  holds: 8,
  fails: 2,
  open: 0,
  reasons: [],
  nominal: null,
  counterexample: { left: 0.2, right: 0.11, error: 0.818, values: { C1: 1e-6, 'U1.family': 'cmos' } },
  over: [
    {
      value: 'C1',
      unit: 'F',
      scale: 'logarithmic',
      now: 10e-6,
      x: [1e-7, 1e-6, 1e-5, 1e-4],
      verdicts: ['open', 'fails', 'holds', 'holds'],
      left: [null, 0.2, 1.1, 11],
      right: [0.011, 0.11, 1.1, 11],
      error: [null, 0.818, 0, 0],
      reasons: { '0': 'out never fell' },
      holds: { from: 2e-6, to: 1e-4, fromIsEnd: false, toIsEnd: true, checked: 20 },
    },
    {
      value: 'U1.family',
      unit: null,
      scale: 'linear',
      now: 'bipolar',
      x: ['bipolar', 'cmos'],
      verdicts: ['holds', 'holds'],
      left: [1.1, 1.1],
      right: [1.1, 1.1],
      error: [0, 0],
      reasons: {},
      holds: null,
    },
  ],
  box: null,
  share: 1,
  sentence: 'Made by hand.',
};

describe('claimScene', () => {
  const [course, words] = claim.over;

  test('shows the error along a value, what every trial came to, and the stretch in which it holds', () => {
    const scene = course === undefined ? undefined : claimScene(course, 600);
    expect(scene?.marks.map(({ verdict }) => verdict)).toEqual(['open', 'fails', 'holds', 'holds']);
    expect(scene?.path.match(/[ML]/g)).toEqual(['M', 'L', 'L']);
    expect(scene?.holds?.[1]).toBeCloseTo(scene?.right ?? 0, 6);
    expect(scene?.marks[2]?.y).toBe(scene?.zero);
    // Without a value it stands on the axis, not on the line of no error.
    expect(scene?.marks[0]?.y).toBe(scene?.foot);
    expect(scene?.now).toBeCloseTo(scene?.x.scale(10e-6) ?? 0, 1);
    expect(scene?.y.title).toBe('error in per cent');
    // A claim that one side is the larger is not in error by how much it is larger.
    const larger = course === undefined ? undefined : claimScene(course, 600, { relation: '>=' });
    expect(larger?.y.title).toBe('left side above the right in per cent');
  });

  test('brackets the stretch in which it holds together with others, and tells both stretches in words', () => {
    if (course === undefined || words === undefined) throw new Error('both are there');
    const box = {
      sides: [
        { value: 'C1', unit: 'F', from: 5e-6, to: 5e-5 },
        { value: 'U1.family', words: ['bipolar'] },
      ],
      checked: 62,
    } as const;
    const scene = claimScene(course, 600, { box });
    expect(scene?.together).toEqual([5e-6, 5e-5].map((at) => expect.closeTo(scene?.x.scale(at) ?? NaN, 0) as number));
    const looks = JSON.stringify(scene && claimDrawing(scene));
    expect(looks).toContain('together with others');
    expect(JSON.stringify(claimDrawing(claimScene(course, 600)!))).not.toContain('together');
    expect(stretchWords(course, box)).toBe(
      'it holds alone from 2\u202fµF to 100\u202fµF, together with others from 5\u202fµF to 50\u202fµF; ',
    );
    expect([isInBox(words, box, 'bipolar'), isInBox(words, box, 'cmos')]).toEqual([true, false]);
    expect(stretchWords(words, null)).toBe('');
  });

  test('there is none along words', () => {
    expect(words === undefined ? 0 : claimScene(words, 600)).toBeUndefined();
  });
});

describe('counterexampleWords', () => {
  test('name the values and both sides', () => {
    expect(counterexampleWords(claim)).toBe(
      'With C1 1\u202fµF, U1 family cmos: 200\u202fms on the left, 110\u202fms on the right, off by 81.8\u202f%.',
    );
    expect(counterexampleWords({ ...claim, counterexample: null })).toBeUndefined();
  });
});

describe('claimTables', () => {
  test('have a table for each value, with the reason where there is no error', () => {
    const [first, second] = claimTables(claim);
    expect(first?.rows[0]).toEqual(['100\u202fnF', '–', '11\u202fms', 'out never fell', 'open']);
    expect(second?.rows[1]).toEqual(['cmos', '1.1\u202fs', '1.1\u202fs', '0\u202f%', 'holds']);
  });
});

const set = {
  values: [39e3, 47e-6],
  readings: [2.008],
  off: [0.00412],
  error: 0.2,
  granted: true,
  inStock: null,
  strained: null,
};
const choose: ChooseResult = {
  kind: 'choose',
  ok: true,
  board: 'lamp',
  from: 0,
  until: 8,
  adjust: [
    { value: 'R1', unit: 'Ω', now: 100e3, count: 12, series: 'E12' },
    { value: 'C1', unit: 'F', now: 10e-6, count: 6, series: 'E6' },
  ],
  want: [{ name: 'width', asked: 'width(out)', unit: 's', target: 2, allowance: 0.04 }],
  sets: [set],
  counts: { there: 72, run: 72, ranked: 70, granted: 1 },
  rules: [],
  surveyed: 0,
  precision: [{ series: 'E24', best: null }],
  harmful: { count: 1, sets: [{ values: [0, 47e-6], why: 'R1 must be more than 0 Ω.' }] },
  without: { count: 0, sets: [] },
  notStated: [],
  share: 1,
  sentence: 'Made by hand.',
};

describe('sets of values that can be built', () => {
  test('setCells tells values, readings and what they are off by, under setColumns', () => {
    expect(setColumns(choose)).toEqual(['R1', 'C1', 'width', 'off by']);
    expect(setCells(choose, set)).toEqual(['39\u202fkΩ', '47\u202fµF', '2.008\u202fs', '0.412\u202f%']);
  });

  test('setValues gives the board every value of a set', () => {
    expect(setValues(choose, set)).toEqual([
      { name: 'R1', unit: 'Ω', value: 39e3 },
      { name: 'C1', unit: 'F', value: 47e-6 },
    ]);
  });

  test('chooseTables says what other series give and what was left out, and why', () => {
    const [precision, harmful] = chooseTables(choose);
    expect(precision?.rows).toEqual([['E24', 'none']]);
    expect(harmful?.rows).toEqual([['R1 0\u202fΩ, C1 47\u202fµF', 'R1 must be more than 0 Ω.']]);
  });
});
