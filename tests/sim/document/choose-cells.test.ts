import { checkBoards } from '#sim/document/board-table.ts';
import { type ChooseResult, documentStudies } from '#sim/document/index.ts';
import type { ChooseCell } from '#sim/document/notebook-document.ts';
import { planChoose } from '#sim/document/plan-choose.ts';
import { readCell } from '#sim/document/read-cell.ts';
import { preferredBetween } from '#sim/quantity/index.ts';
import { runJobs, type Study } from '#sim/study/study.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { astable } from '../../support/timer-circuits.ts';
import { computed, documentOf, issuesOf, resultOf, usable } from '../../support/documents.ts';

const boards = { lamp: { ready: 'monostable', values: { 'U1.family': 'ideal' } } };
const choose = {
  id: 'values',
  kind: 'choose',
  board: 'lamp',
  until: '12 s',
  want: { width: { reading: 'width(out)', value: '4.5 s', within: '5 %' } },
  adjust: { R1: { series: 'E6', from: '100 kΩ', to: '1 MΩ' }, C1: ['4.7 µF', '10 µF', '22 µF'] },
};

function chosen(cell: object = {}, on: object = boards): ChooseResult {
  return resultOf(computed(documentOf(on, [{ ...choose, ...cell }])), 'values', 'choose');
}

/** All sets by how near R C ln 3 comes to a time (closed form, ideal family). */
function byError(resistances: readonly number[], capacitances: readonly number[], time: number): [number, number][] {
  // To 1e-9, so that sets of one product, 470 kΩ · 10 µF and 1 MΩ · 4.7 µF, stay in their order.
  const error = ([r, c]: [number, number]): number => Math.round(Math.abs(r * c * Math.log(3) - time) * 1e9);
  return resistances
    .flatMap((r) => capacitances.map((c): [number, number] => [r, c]))
    .sort((a, b) => error(a) - error(b));
}

describe('computeDocument(document): choices', () => {
  test('finds the best of all sets, and ranks the others behind it', () => {
    const { sets, counts, want, adjust, rules, sentence } = chosen();
    const capacitances = [4.7e-6, 10e-6, 22e-6];
    const expected = byError(preferredBetween(100e3, 1e6, 'E6'), capacitances, 4.5)
      // Those longer than the run is have no value.
      .filter(([r, c]) => r * c * Math.log(3) < 11);
    expect(counts).toMatchObject({ there: 21, run: 21, ranked: expected.length });
    expect(sets.map(({ values }) => values)).toEqual(expected.slice(0, 20));
    expect(sets[0]?.readings[0]).toBeCloseTo(expected[0]![0] * expected[0]![1] * Math.log(3), 9);
    expect(sets[0]?.off[0]).toBeCloseTo((expected[0]![0] * expected[0]![1] * Math.log(3)) / 4.5 - 1, 9);
    expect(want).toEqual([
      { name: 'width', asked: 'width(out)', unit: 's', target: 4.5, allowance: expect.closeTo(0.225, 12) as number },
    ]);
    expect(adjust.map(({ value, count, series }) => [value, count, series])).toEqual([
      ['R1', 7, 'E6'],
      ['C1', 3, null],
    ]);
    expect(rules).toEqual([]);
    expect(counts.granted).toBe(expected.filter(([r, c]) => Math.abs((r * c * Math.log(3)) / 4.5 - 1) <= 0.05).length);
    expect(plain(sentence)).toContain('All 21 sets were run');
  });

  test('tells what finer series are worth, each as good as its own exhaustive search', () => {
    const { precision } = chosen();
    expect(precision.map(({ series }) => series)).toEqual(['E6', 'E12', 'E24']);
    for (const { series, best } of precision) {
      const name = series as 'E6' | 'E12' | 'E24';
      const [nearest] = byError(preferredBetween(100e3, 1e6, name), [4.7e-6, 10e-6, 22e-6], 4.5);
      expect(best?.values).toEqual(nearest);
    }
    const errors = precision.map(({ best }) => best?.error ?? NaN);
    // E6 is part of E12, E12 of E24 (IEC 60063): finer is never worse.
    expect(errors).toEqual([...errors].sort((a, b) => b - a));
  });

  test('looks for the nearest of many sets by the rule of the board, and finds the best of all', () => {
    const adjust = { R1: 'E24', C1: { series: 'E12', from: '1 µF', to: '100 µF' } };
    const { sets, counts, rules, sentence } = chosen({ adjust, until: '6 s' });
    const resistances = preferredBetween(1e3, 1e6, 'E24');
    const capacitances = preferredBetween(1e-6, 100e-6, 'E12');
    expect(counts.there).toBe(resistances.length * capacitances.length);
    expect(counts.run).toBe(300);
    expect(rules).toEqual(['T = 1.1 · R1 · C1']);
    const [r, c] = sets[0]!.values as [number, number];
    const [[bestR, bestC] = [NaN, NaN]] = byError(resistances, capacitances, 4.5);
    expect(Math.abs(r * c * Math.log(3) - 4.5)).toBeCloseTo(Math.abs(bestR * bestC * Math.log(3) - 4.5), 9);
    expect(plain(sentence)).toContain(`Of ${counts.there} sets, those were run that T = 1.1 · R1 · C1 puts nearest`);
  });

  test('looks for the nearest by a survey where the board has no rule, and finds the best of all', () => {
    const parts = astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-6 });
    const capacitances = preferredBetween(100e-9, 10e-6, 'E12');
    const adjust = { R2: 'E24', C1: { series: 'E12', from: '100 nF', to: '10 µF' } };
    const want = { blinks: { reading: 'frequency(out)', value: '1.3 Hz', within: '2 %' } };
    const { sets, counts, rules, surveyed, sentence } = chosen(
      { want, adjust, from: '8 s', until: '30 s' },
      { lamp: { parts } },
    );
    const resistances = preferredBetween(1e3, 1e6, 'E24');
    expect(counts).toMatchObject({ there: resistances.length * capacitances.length, run: 300 });
    expect(rules).toEqual([]);
    expect(surveyed).toBe(14 * 14);
    // f = 1 / (ln 2 (R1 + 2 R2) C), closed form of the ideal family, once the first charge from 0 V is over.
    const off = (r: number, c: number): number => Math.abs(1 / (Math.LN2 * (10e3 + 2 * r) * c) - 1.3);
    const best = Math.min(...resistances.flatMap((r) => capacitances.map((c) => off(r, c))));
    const [r, c] = sets[0]!.values as [number, number];
    expect(off(r, c)).toBeCloseTo(best, 9);
    expect(plain(sentence)).toContain(`Of ${counts.there} sets, those were run that a survey of 196 runs puts nearest`);
  });

  test('a survey is jobs like others: the same result wherever they run and whatever is handed on', () => {
    const parts = astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-6 });
    const adjust = { R2: 'E12', C1: { series: 'E12', from: '1 µF', to: '10 µF' }, R1: ['10 kΩ', '12 kΩ'] };
    const cell = {
      ...{ id: 'values', kind: 'choose', board: 'lamp', from: '2 s', until: '8 s', adjust },
      want: { blinks: { reading: 'frequency(out)', value: '3 Hz' } },
    };
    const study = (): Study<unknown, unknown> =>
      documentStudies(usable(documentOf({ lamp: { parts } }, [cell])))[0]!.study;
    const one = study();
    const { first = 0, jobCount } = one;
    expect(first).toBeGreaterThan(1);
    const jobs = runJobs(one);
    const whole = JSON.stringify(one.collect(jobs));
    expect(jobs.size).toBe(jobCount);
    // Elsewhere: a later job that was handed nothing runs the survey itself, one that was handed all of it runs none of it.
    const [alone, given] = [study(), study()];
    const carried = new Map([...jobs].map(([index, job]) => [index, JSON.parse(JSON.stringify(job)) as unknown]));
    expect(JSON.stringify(alone.run(first))).toBe(JSON.stringify(jobs.get(first)));
    given.given?.(carried);
    expect(JSON.stringify(given.run(jobCount - 1))).toBe(JSON.stringify(jobs.get(jobCount - 1)));
    expect(JSON.stringify(study().collect(carried))).toBe(whole);
    // What is stopped during the survey has nothing to show, and is no whole result.
    const part = study().collect(new Map([[0, carried.get(0)]])) as ChooseResult;
    expect([part.sets.length, part.share]).toEqual([0, 1 / jobCount]);
    // Planning runs nothing at all, and an interrupt ends a survey.
    expect(study().run(0, { aborted: true })).toBeUndefined();
    expect(study().run(first, { aborted: true })).toBeUndefined();
  });

  test('never ranks a set beyond a rating, however near it comes', () => {
    // 47 Ω from 12 V into DISCHARGE: 12 V / 47 Ω = 255 mA is more than the 150 mA it takes, and 3 W more than 0.25 W.
    const on = { lamp: { ready: 'monostable', values: { 'U1.family': 'bipolar' } } };
    const adjust = { R1: ['47 Ω', '390 kΩ'], C1: ['10 µF', '82 mF'] };
    const { sets, harmful, counts, sentence } = chosen({ adjust }, on);
    // 47 Ω · 82 mF · ln 3 = 4.23 s would be as near as 390 kΩ · 10 µF = 4.28 s, nearly (closed form).
    expect(sets.every(({ values }) => values[0] !== 47)).toBe(true);
    expect(harmful.count).toBe(2);
    expect(harmful.sets.map(({ values }) => values[0])).toEqual([47, 47]);
    expect(harmful.sets[0]?.why).toContain('R1');
    expect(counts.ranked + harmful.count).toBeLessThanOrEqual(4);
    expect(plain(sentence)).toContain('2 sets are left out, outside of what a part is made for: with R1 47 Ω');
  });

  test('runs sets that do with the largest leakages, and leaves out those that then have no value', () => {
    // 2/3 of 12 V through 10 MΩ: 0.4 µA at the limit, of which THRESHOLD and DISCHARGE take up to 350 nA (TI SLFS022A p. 4).
    const on = { lamp: { ready: 'monostable', values: { 'U1.family': 'bipolar', C1: '390 nF' } } };
    const near = chosen({ adjust: { R1: ['10 MΩ'] }, until: '30 s' }, on);
    expect(near.sets[0]?.strained?.[0]).toBeGreaterThan(near.sets[0]!.readings[0]! * 1.1);
    expect(plain(near.sentence)).toContain('With the largest input and leakage currents published for the timer');
    // From a 4.5 V supply it is 0.15 µA: the interval would never end, so the set is not ranked at all.
    const never = {
      lamp: { ready: 'monostable', values: { 'U1.family': 'bipolar', C1: '330 nF', BT1: 4.5, R3: '150 Ω' } },
    };
    const value = { width: { reading: 'width(out)', value: '5.5 s', within: '30 %' } };
    const { sets, without } = chosen({ want: value, adjust: { R1: ['10 MΩ'] }, until: '30 s' }, never);
    expect(sets).toEqual([]);
    expect(without.count).toBe(1);
  });

  test('says which ratings are not stated, and what was used', () => {
    const { notStated, sentence } = chosen();
    expect(notStated.map(({ part, what, used }) => [part, what, used === null ? null : plain(used)])).toEqual([
      ['R1', 'power rating', '0.25 W'],
      ['R2', 'power rating', '0.25 W'],
      ['R3', 'power rating', '0.25 W'],
      ['D1', 'largest current', '20 mA'],
    ]);
    expect(plain(sentence)).toContain('Not stated: power rating of R1 (0.25 W used)');
  });

  test('chooses from the stock, and marks what is in it', () => {
    const stock = ['100 kΩ', '220K', '470 kΩ', '10 µF', '22 µF'];
    const { adjust, sets } = chosen({ adjust: { R1: 'stock', C1: ['10 µF', '15 µF'] }, stock });
    expect(adjust[0]).toMatchObject({ value: 'R1', count: 3, series: null });
    expect(sets.every(({ values, inStock }) => inStock === (values[1] === 10e-6))).toBe(true);
  });

  test('says so where finer values gain nothing', () => {
    const boardsOf = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } } };
    const want = { ratio: { reading: 'ratio(out, in)', value: 3, within: 0.5 } };
    const adjust = { R1: { series: 'E6', from: '47 kΩ', to: '100 kΩ' } };
    const { sentence, precision } = chosen({ board: 'counter', until: '3 s', want, adjust }, boardsOf);
    // Ratio 3 from 58.1 kΩ to 87.2 kΩ: 2 to 3 spacings of 150 ms over 4.7 µF · ln 3 (closed form); 68 kΩ is in E6.
    expect(precision.map(({ best }) => best?.off)).toEqual([[0], [0], [0]]);
    expect(plain(sentence)).toContain('The nearest is R1 68 kΩ: ratio 3 (0 %).');
    expect(plain(sentence)).toContain(
      'Finer values gain nothing: the best set is as near with each of E6, E12 and E24.',
    );
  });

  test('weighs several wishes by what each is allowed', () => {
    const want = {
      width: { reading: 'width(out)', value: '4.5 s', within: '1 %' },
      lamp: { reading: 'peak_current(R3)', value: '10 mA', within: '2 mA' },
    };
    const { sets } = chosen({ want, adjust: { R1: ['390 kΩ', '470 kΩ'], R3: ['680 Ω', '1 kΩ'] } });
    // The lamp current is (12 V - 2 V) / R3 (ideal output, yellow LED): 14.7 mA or 10 mA; the width does not depend on R3.
    expect(sets[0]?.values[1]).toBe(1000);
    expect(sets[0]?.error).toBe(
      Math.max(
        ...sets[0]!.readings.map((value, index) => Math.abs(value - [4.5, 0.01][index]!) / [0.045, 0.002][index]!),
      ),
    );
  });

  test('gives the same whatever the order of its jobs, plain data, and parts of it when stopped', () => {
    const board = checkBoards(usable(documentOf(boards, []))).boards.get('lamp');
    const read = readCell(choose, 0);
    if (board?.ok !== true || !read.ok) throw new Error('the cell must be good');
    const at = { place: 'page[0]', label: 'page[0]' };
    const study = planChoose(read.cell as ChooseCell, board, at, 1e6);
    const jobs = new Map<number, unknown>();
    for (let index = study.jobCount - 1; index >= 0; index--) {
      jobs.set(index, JSON.parse(JSON.stringify(study.run(index))));
    }
    expect(study.jobCount).toBeGreaterThan(2);
    expect(study.collect(jobs)).toEqual(chosen());
    expect(JSON.parse(JSON.stringify(chosen()))).toEqual(chosen());
    expect(study.collect(new Map())).toMatchObject({ sets: [], share: 0, sentence: 'Nothing is computed yet.' });
    expect(study.run(0, { aborted: true })).toBe(undefined);
  });
});

describe('parseDocument(text): choices', () => {
  const issues = (cell: object): string[] => issuesOf(documentOf(boards, [{ ...choose, ...cell }]));
  const wish = (change: object): string[] => issues({ want: { width: { ...choose.want.width, ...change } } });

  test('takes what is right', () => {
    expect(issues({})).toEqual([]);
    expect(wish({ value: 4.5, within: '100 ms' })).toEqual([]);
  });

  test('refuses wishes that are none', () => {
    expect(wish({ value: '4 V' })).toEqual(['page[0].want.width.value: bad-wish']);
    expect(wish({ within: '0 %' })).toEqual(['page[0].want.width.within: bad-wish']);
    expect(wish({ within: '1 V' })).toEqual(['page[0].want.width.within: bad-wish']);
    expect(wish({ value: 0 })).toEqual(['page[0].want.width.within: bad-wish']);
    expect(wish({ reading: 'width(nowhere)' })).toEqual(['page[0].want.width.reading: unknown-net']);
    expect(wish({ reading: 'widths(out)' })).toEqual(['page[0].want.width.reading: list-reading']);
    expect(issues({ want: {} })).toEqual(['page[0].want: out-of-range']);
  });

  test('refuses values that cannot be chosen', () => {
    expect(issues({ adjust: { R7: 'E12' } })).toEqual(['page[0].adjust.R7: bad-choice']);
    expect(issues({ adjust: { R1: 'E13' } })).toEqual(['page[0].adjust.R1: bad-choice']);
    expect(issues({ adjust: { R1: ['1 V'] } })).toEqual(['page[0].adjust.R1: bad-choice']);
    expect(issues({ adjust: { R1: 'stock' } })).toEqual(['page[0].adjust.R1: bad-choice']);
    expect(issues({ adjust: { BT1: 'E12' } })).toEqual(['page[0].adjust.BT1: bad-choice']);
    expect(issues({ adjust: { R1: { series: 'E6', from: '2 kΩ', to: '1 kΩ' } } })).toEqual([
      'page[0].adjust.R1: bad-choice',
    ]);
    expect(issues({ stock: ['12 V'] })).toEqual(['page[0].stock[0]: bad-choice']);
    // As a number or as text: 10 of what?
    expect(issues({ stock: [10, '100 nF', '10'] })).toEqual([
      'page[0].stock[0]: bad-choice',
      'page[0].stock[2]: bad-choice',
    ]);
    expect(issues({ adjust: { R1: 'E192', C1: 'E192', R3: 'E192' } })).toEqual(['page[0].adjust: too-many-sets']);
  });
});
