import type { Json } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import { valueNames } from '#notebook/edit/value-names.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { sortComplaints } from '#notebook/runtime/issues.ts';
import { rangeOf, rangeText } from '#notebook/runtime/range-text.ts';
import { planFields, studyFields } from '#notebook/runtime/study-plan.ts';
import { parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const study = (id: string, fields: object): Json => ({ id, kind: id, board: 'lamp', until: '20 s', ...fields });

const document: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { ready: 'monostable', values: { 'C1.tolerance': '20 %' } } },
  page: [
    study('sweep', { vary: { value: 'R1', from: '100 kΩ', to: '1 MΩ', steps: 20 }, take: { lit: 'width(out)' } }),
    study('map', {
      x: { value: 'R1', from: '1 kΩ', to: '1 MΩ', scale: 'logarithmic' },
      y: { value: 'C1', from: '1 µF', to: '10 µF', series: 'E3' },
      take: { lit: 'width(out)' },
    }),
    study('spread', { parts: { R1: '5 %', C1: 'own', BT1: ['10 V', '14 V'] }, take: { lit: 'width(out)' } }),
    study('choose', {
      want: { lit: { reading: 'width(out)', value: '4.7 s' } },
      adjust: { R1: { series: 'E12', from: '100 kΩ', to: '1 MΩ' }, C1: ['4.7 µF', '10 µF'] },
    }),
    study('claim', {
      says: 'width(out) = 1.1 * R1 * C1 within 5 %',
      over: { R1: { from: '1 kΩ', to: '10 MΩ', series: 'E6' }, 'U1.family': ['bipolar', 'cmos'] },
    }),
  ],
};

/** The cell once texts were typed into its fields, which are found by how their label begins. */
function typed(id: string, ...entries: readonly (readonly [label: string, text: string])[]): Record<string, unknown> {
  const cellOf = (from: Json) => cellsOf(from).find((cell) => cell.id === id)!;
  const after = entries.reduce((from, [label, text]) => {
    const edit = planFields(from, cellOf(from))
      .find((field) => field.label.startsWith(label))
      ?.change(text);
    if (edit === undefined) throw new Error(`${label} must be there to be typed into`);
    return withValue(from, edit.path, edit.value);
  }, document);
  return cellOf(after).data;
}

/** What is said at the fields of a cell once something was typed. */
function complaints(id: string, label: string, text: string): readonly string[] {
  const data = typed(id, [label, text]) as Json;
  const index = cellsOf(document).findIndex((cell) => cell.id === id);
  const after = withValue(document, ['page', index], data);
  const { issues } = parseDocument(JSON.stringify(after));
  const cell = cellsOf(after)[index]!;
  const { atField, others } = sortComplaints(issues, studyFields(after, cell));
  expect(others).toEqual([]);
  return [...atField.keys()];
}

describe('rangeText and rangeOf', () => {
  test.each([
    ['1 kΩ to 10 MΩ along E6', { from: '1 kΩ', to: '10 MΩ', series: 'E6' }],
    ['120 ms to 200 ms in 8 steps', { from: '120 ms', to: '200 ms', steps: 8 }],
    ['1 MΩ to 100 MΩ in 20 steps, logarithmic', { from: '1 MΩ', to: '100 MΩ', steps: 20, scale: 'logarithmic' }],
    ['47 kΩ, 68 kΩ', ['47 kΩ', '68 kΩ']],
    ['0.2 to 0.8', { from: 0.2, to: 0.8 }],
    ['bipolar, cmos', ['bipolar', 'cmos']],
  ])('%s stands for one range, and comes back as it is', (text, range) => {
    expect(rangeOf(text)).toEqual(range);
    expect(rangeText(range)).toBe(text);
  });

  test('what lacks an end keeps the other, and what is no range is shown as it stands', () => {
    expect(rangeOf('1 kΩ to')).toEqual({ from: '1 kΩ' });
    expect(rangeText({ from: '1 kΩ', until: '2 kΩ' })).toBe('{"from":"1 kΩ","until":"2 kΩ"}');
  });
});

describe('planFields of studies over ranges', () => {
  test('say all that a study does, each thing with its place', () => {
    const told = (id: string) =>
      planFields(document, cellsOf(document).find((cell) => cell.id === id)!).map(({ name, text }) => [name, text]);
    expect(told('sweep')).toEqual([
      ['vary.value', 'R1'],
      ['vary', '100 kΩ to 1 MΩ in 20 steps'],
      ['take.lit', 'width(out)'],
      ['take', ''],
      ['against', ''],
      ['timer', ''],
      ['from', '0 s'],
      ['until', '20 s'],
    ]);
    expect(told('map').map(([name]) => name)).toEqual([
      'x.value',
      'x',
      'y.value',
      'y',
      'take.lit',
      'levels',
      'timer',
      'from',
      'until',
    ]);
    expect(told('spread')).toEqual(
      expect.arrayContaining([
        ['parts.R1', '5 %'],
        ['parts.BT1', '10 V to 14 V'],
        ['limits.lit', ''],
      ]),
    );
    expect(told('choose')).toEqual(
      expect.arrayContaining([
        ['want.lit.value', '4.7 s'],
        ['adjust.R1', '100 kΩ to 1 MΩ along E12'],
        ['adjust.C1', '4.7 µF, 10 µF'],
      ]),
    );
    expect(told('claim')).toContainEqual(['over["U1.family"]', 'bipolar, cmos']);
  });

  test('a sweep gets another value, range, reading and rule', () => {
    expect(
      typed('sweep', ['value varied', 'BT1'], ['range varied', '5 V to 15 V'], ['one more reading', 'peak(timing)']),
    ).toMatchObject({
      vary: { value: 'BT1', from: '5 V', to: '15 V' },
      take: { lit: 'width(out)', peak: 'peak(timing)' },
    });
    expect(typed('sweep', ['range varied', '100 kΩ, 390 kΩ'])['vary']).toEqual({
      value: 'R1',
      values: ['100 kΩ', '390 kΩ'],
    });
    expect(typed('sweep', ['rule of thumb', '1.1 * R1 * C1'])['against']).toBe('1.1 * R1 * C1');
    const twice = typed('sweep', ['one more reading', 'low(out)'], ['rule of thumb for lit', '1.1 * R1 * C1']);
    expect(twice['against']).toEqual({ lit: '1.1 * R1 * C1' });
  });

  test('a reading that is taken out takes its limits and its rule along', () => {
    const limited = typed('spread', ['limits of lit', 'at most 5 s'], ['one more reading', 'low(out)']);
    expect(limited['limits']).toEqual({ lit: [null, '5 s'] });
    const without = typed(
      'spread',
      ['limits of lit', '4 s to 5 s'],
      ['one more reading', 'low(out)'],
      ['what lit', ''],
    );
    expect(without['take']).toEqual({ low: 'low(out)' });
    expect(without['limits']).toEqual({});
  });

  test('parts of a spread are added with their own tolerance, or the usual one where none is stated', () => {
    const parts = typed(
      'spread',
      ['one more value of parts', 'R3'],
      ['how far R1', ''],
      ['how far BT1', '11 V to 13 V'],
    );
    expect(parts['parts']).toEqual({ C1: 'own', BT1: ['11 V', '13 V'], R3: '5 %' });
    const r1 = planFields(document, cellsOf(document)[2]!).find(({ name }) => name === 'parts.R1');
    expect(r1?.words).toContain('which states no tolerance');
  });

  test('a choice is told what is wanted, from what, and what is in stock', () => {
    expect(
      typed(
        'choose',
        ['value of lit', '6 s'],
        ['within of lit', '100 ms'],
        ['what R1 may be', 'stock'],
        ['values in', '1 MΩ'],
      ),
    ).toMatchObject({
      want: { lit: { reading: 'width(out)', value: '6 s', within: '100 ms' } },
      adjust: { R1: 'stock' },
      stock: ['1 MΩ'],
    });
    expect(typed('choose', ['one more value', 'R3: E6'])['adjust']).toMatchObject({ R3: 'E6' });
  });

  test('a claim is tried over more, fewer times', () => {
    const claim = typed('claim', ['one more value', 'BT1'], ['how many', '50'], ['what U1 family', '']);
    expect(claim).toMatchObject({ over: { BT1: { from: '6 V', to: '24 V' } }, trials: 50 });
    expect(claim['over']).not.toHaveProperty(['U1.family']);
  });

  test.each([
    ['sweep', 'value varied', 'R9', 'vary.value'],
    ['sweep', 'range varied', '1 MΩ to', 'vary'],
    ['map', 'range across', '1 V to 2 V', 'x'],
    ['spread', 'how far R1', 'a lot', 'parts.R1'],
    ['spread', 'limits of lit', 'soon', 'limits.lit'],
    ['spread', 'how many', 'many', 'samples'],
    ['choose', 'value of lit', '4 V', 'want.lit.value'],
    ['choose', 'what R1 may be', 'E7', 'adjust.R1'],
    ['claim', 'what R1', '1 kΩ to 2 V', 'over.R1'],
    ['claim', 'how many', '0', 'trials'],
  ])('what is wrong with a %s is said at its field: %s to %s', (id, label, text, field) => {
    expect(complaints(id, label, text)).toEqual([field]);
  });
});

describe('valueNames(document, board)', () => {
  test('are full names of everything that has a number with a unit', () => {
    expect(valueNames(document, 'lamp')).toEqual(expect.arrayContaining(['R1', 'C1', 'C1.leakage', 'BT1']));
    const driven: Json = { boards: { counter: { ready: 'frequency divider' } } };
    expect(valueNames(driven, 'counter')).toEqual(expect.arrayContaining(['G1.wave.period', 'G1.wave.width']));
    expect(valueNames(document, 'lamp')).not.toContain('U1.family');
  });
});
