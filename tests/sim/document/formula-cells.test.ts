import { readingForms, readingNames } from '#sim/measure/reading-names.ts';
import { type CellResult, cellNeeds, computeDocument, loadDocument, type LoadedDocument } from '#sim/document/index.ts';
import { readingUnit } from '#sim/document/reading-unit.ts';
import { describe, expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

const boards = { counter: { ready: 'frequency divider', values: { R1: '100 kΩ', C1: '4.7 µF' } } };
const numbers = {
  id: 'numbers',
  kind: 'reading',
  board: 'counter',
  until: '3 s',
  take: { width: 'width(out)', never: 'width(out, 30 V)', ratio: 'ratio(out, in)' },
};

function formula(id: string, text: string): object {
  return { id, kind: 'formula', text };
}

async function loaded(page: readonly unknown[], more: object = {}): Promise<LoadedDocument> {
  return loadDocument(JSON.stringify(documentOf({ ...boards, ...more }, page)));
}

async function results(page: readonly unknown[], more: object = {}): Promise<Readonly<Record<string, CellResult>>> {
  const { document, formulas, unusable } = await loaded(page, more);
  if (document === undefined) throw new Error(unusable?.message);
  return computeDocument(document, { columns: 20, formulas }).results;
}

describe('a formula cell', () => {
  test('computes with values of a board, in SI units, and says what they stood for', async () => {
    const rule = resultOf(await results([formula('rule', '1.1 * counter.R1 * counter.C1')]), 'rule', 'formula');
    expect(rule).toEqual({
      kind: 'formula',
      ok: true,
      text: '1.1 * counter.R1 * counter.C1',
      // 1.1 * 100e3 * 4.7e-6
      value: 0.517,
      unit: 's',
      unitText: 's',
      uses: [
        { name: 'counter.R1', value: 100e3, unit: 'Ω', unitText: 'Ω' },
        { name: 'counter.C1', value: 4.7e-6, unit: 'F', unitText: 'F' },
      ],
    });
  });

  test('computes with readings, counts, rules of thumb, inner values and other formulas, wherever they stand', async () => {
    const page = [
      formula('all', 'half.value + numbers.width + circuit.interval + why.started * 1 s - counter.G1.wave.period'),
      formula('half', 'numbers.width / 2'),
      { id: 'circuit', kind: 'board', board: 'counter' },
      { id: 'why', kind: 'fates', board: 'counter', until: '3 s' },
      numbers,
    ];
    const found = await results(page);
    const { width = NaN } = resultOf(found, 'numbers', 'reading').values as Record<string, number>;
    const { counts } = resultOf(found, 'why', 'fates');
    expect(resultOf(found, 'half', 'formula').value).toBe(width / 2);
    // The sum of doubles near 1 is exact to some 1e-15.
    expect(resultOf(found, 'all', 'formula').value).toBeCloseTo(width * 1.5 + 0.517 + counts.started - 0.15, 12);
  });

  test('is computed alone with what it needs', async () => {
    const { document, formulas } = await loaded([formula('half', 'numbers.width / 2'), numbers]);
    const only = computeDocument(document!, { only: ['half'], formulas }).results;
    expect(Object.keys(only)).toEqual(['half']);
    expect(resultOf(only, 'half', 'formula').value).toBeGreaterThan(0.2);
  });

  test('passes on why a reading has no value, through formulas on formulas', async () => {
    const page = [numbers, formula('twice', '2 * numbers.never'), formula('more', 'twice + 1 s')];
    const found = await results(page);
    const why = 'out never rose above 30\u202fV before 3\u202fs';
    expect(resultOf(found, 'twice', 'formula')).toMatchObject({
      value: null,
      unit: 's',
      reason: `numbers.never has none: ${why}`,
    });
    expect(resultOf(found, 'more', 'formula').reason).toBe(`twice has none: numbers.never has none: ${why}`);
  });

  test('has no value where a cell or a board it uses has a fault, and does not complain itself', async () => {
    const broken = { ...numbers, id: 'broken', take: { width: 'width(uot)' } };
    const page = [broken, formula('a', 'broken.width + 1 s'), formula('b', '2 * lamp.R1'), formula('c', 'a + 1 V')];
    const found = await results(page, { lamp: { ready: 'monostable', values: { R1: '-5 Ω' } } });
    expect(resultOf(found, 'a', 'formula').reason).toBe('broken.width has none: broken could not be computed');
    expect(resultOf(found, 'b', 'formula').reason).toBe('lamp.R1 has none: its board has a fault');
    expect(found['c']?.ok).toBe(false);
  });

  test('has no value where a value of the board stands for none', async () => {
    const found = await results([formula('leak', 'counter.C1.leakage / 2')]);
    expect(resultOf(found, 'leak', 'formula').reason).toBe(
      'counter.C1.leakage has none: counter.C1.leakage stands for none',
    );
  });

  test('prefers a cell to a board of the same name, and the board where the cell gives no such number', async () => {
    const page = [{ id: 'counter', kind: 'board', board: 'counter' }, formula('a', 'counter.interval / counter.R1')];
    expect(resultOf(await results(page), 'a', 'formula').unitText).toBe('F');
  });

  test('takes the value of a linked board by its own name', async () => {
    const { document, formulas } = await loadDocument(
      JSON.stringify(
        documentOf(
          { ...boards, lamp: { ready: 'monostable', values: { R1: '390 kΩ' } } },
          [formula('a', 'lamp.R1 / counter.R1')],
          { links: [{ a: 'lamp.out', b: 'counter.control' }] },
        ),
      ),
    );
    expect(resultOf(computeDocument(document!, { formulas }).results, 'a', 'formula').value).toBe(3.9);
  });

  test('is quoted by notes like a reading, with a unit that has no name', async () => {
    const page = [
      { id: 'note', kind: 'note', text: '[a](#rule.value) [b](#slope.value) [c](#none.value) [d](#rule)' },
      numbers,
      formula('rule', '1.1 * counter.R1 * counter.C1'),
      formula('slope', 'counter.BT1 / 500 ms'),
      formula('none', 'numbers.never / 2'),
    ];
    expect(resultOf(await results(page), 'note', 'note').quotes).toEqual({
      'rule.value': '517\u202fms',
      // 12 V / 0.5 s
      'slope.value': '24\u202fV/s',
      'none.value': 'no value',
    });
  });

  test('is not computed where nothing was loaded to read it with, and says so', () => {
    const found = computed(documentOf(boards, [formula('rule', '1 + 1'), numbers]));
    expect(found['rule']).toMatchObject({ ok: false, error: { where: 'page[0].text' } });
    expect(found['numbers']?.ok).toBe(true);
  });

  test('names each of several wrong names', async () => {
    const { issues } = await loaded([formula('a', 'counter.R8 + lost.width + constructor')]);
    expect(issues.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^page\[0\] \(a\): text must name a part of the board .*; got "R8"\. /),
      expect.stringContaining('got "lost.width"'),
      expect.stringContaining('got "constructor"'),
    ]);
  });

  test('may stand at the end of a chain of two thousand', async () => {
    const length = 2000;
    const page = Array.from({ length }, (_, index) =>
      formula(`f${index}`, index === length - 1 ? '1 s' : `f${index + 1} + 1 s`),
    );
    const { document, formulas, issues } = await loaded(page);
    expect(issues).toEqual([]);
    const only = computeDocument(document!, { only: ['f0'], formulas }).results;
    expect(resultOf(only, 'f0', 'formula').value).toBe(length);
  }, 60_000);
});

describe('loadDocument(text)', () => {
  test('loads nothing for a document without formulas', async () => {
    expect('formulas' in (await loaded([numbers]))).toBe(false);
  });

  test('finds the faults inside formulas, which parsing alone leaves alone', async () => {
    const { issues } = await loaded([formula('a', '1 +'), formula('b', 'counter.R1 + counter.C1')]);
    expect(issues.map(({ where, code }) => `${where}: ${code}`)).toEqual([
      'page[0].text: formula',
      'page[1].text: units',
    ]);
  });
});

describe('cellNeeds(cell)', () => {
  test('gives the cells, and perhaps boards, that a formula or a question names', () => {
    expect(cellNeeds(formula('a', '2 * numbers.width + rule - counter.R1'))).toEqual(['numbers', 'rule', 'counter']);
    expect(cellNeeds({ kind: 'ask', answer: 'numbers.width' })).toEqual(['numbers']);
  });
});

describe('readingUnit(text)', () => {
  test('is the unit that the run then gives, for every reading there is', () => {
    const take = Object.fromEntries(
      readingNames.map((name) => [name, readingForms[name].example.replace('LED1', 'D1').replace('2 s', '1 s')]),
    );
    const lamp = { lamp: { ready: 'monostable' } };
    const cell = { id: 'all', kind: 'reading', board: 'lamp', until: '5 s', take };
    const all = { ...take, ratio: 'ratio(out, button)', delay: 'delay(button, out)' };
    const found = resultOf(computed(documentOf(lamp, [{ ...cell, take: all }])), 'all', 'reading');
    for (const name of readingNames) {
      const expected = readingUnit(take[name]);
      if (expected === 'list') expect(typeof found.values[name]).toBe('object');
      else expect([name, found.units[name]]).toEqual([name, expected]);
    }
  });

  test.each([7, undefined, '', 'toString(out)', 'width'])('is unknown for %j', (text) => {
    expect(readingUnit(text)).toBeUndefined();
  });
});
