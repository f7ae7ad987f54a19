import type { Json } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { planFields, studyFields } from '#notebook/runtime/study-plan.ts';
import { describe, expect, test } from 'vitest';

const document: Json = {
  boards: { lamp: { ready: 'monostable' } },
  page: [
    {
      id: 'kit',
      kind: 'swaps',
      board: 'lamp',
      until: '20 s',
      parts: { R1: ['100 kΩ', '390 kΩ'], 'U1.family': ['bipolar', 'cmos'] },
      take: { lit: 'width(out)' },
    },
    {
      id: 'faults',
      kind: 'symptoms',
      board: 'lamp',
      until: '20 s',
      take: { lit: 'width(out)', lamp: 'peak_current(D1)' },
      seen: { lit: '2 s' },
    },
    { id: 'bench', kind: 'capture', board: 'lamp', until: '20 s', data: '', adjust: ['C1'] },
    { id: 'note', kind: 'note', text: '' },
  ],
};
const [kit, faults, bench, note] = cellsOf(document);

/** The document once a text was typed into a field. */
function typed(cell: typeof kit, field: string, text: string): Json {
  const found =
    cell === undefined ? undefined : planFields(document, cell).find(({ label }) => label.startsWith(field));
  const edit = found?.change(text);
  if (edit === undefined) throw new Error(`${field} must be there to be typed into`);
  return withValue(document, edit.path, edit.value);
}

function fieldsOf(document_: Json, id: string): Record<string, unknown> {
  return cellsOf(document_).find((cell) => cell.id === id)?.data ?? {};
}

describe('planFields', () => {
  test('say what a kit plugs in, what it reads and how long it looks, with a place for one more of each', () => {
    expect(planFields(document, kit!).map(({ name, text }) => [name, text])).toEqual([
      ['parts.R1', '100 kΩ, 390 kΩ'],
      ['parts["U1.family"]', 'bipolar, cmos'],
      ['parts', ''],
      ['take.lit', 'width(out)'],
      ['take', ''],
      ['from', '0 s'],
      ['until', '20 s'],
    ]);
    expect(planFields(document, note!)).toEqual([]);
  });

  test('lists are divided by commas; an emptied place goes', () => {
    expect(fieldsOf(typed(kit, 'what can be plugged in as R1', '47k, 1 MΩ'), 'kit')['parts']).toMatchObject({
      R1: ['47k', '1 MΩ'],
    });
    expect(fieldsOf(typed(kit, 'what can be plugged in as R1', ''), 'kit')['parts']).not.toHaveProperty('R1');
  });

  test('one more place begins with the present value and its neighbours, or with what is typed behind it', () => {
    // 10 µF lies between 4.7 µF and 22 µF, two steps of E6 away (IEC 60063).
    expect(fieldsOf(typed(kit, 'one more place', 'C1'), 'kit')['parts']).toMatchObject({
      C1: ['4.7 µF', '10 µF', '22 µF'],
    });
    expect(fieldsOf(typed(kit, 'one more place', 'BT1: 9 V, 12 V'), 'kit')['parts']).toMatchObject({
      BT1: ['9 V', '12 V'],
    });
  });

  test('a reading that is taken out takes with it what was seen of it', () => {
    const after = fieldsOf(typed(faults, 'what lit reads', ''), 'faults');
    expect(after['take']).toEqual({ lamp: 'peak_current(D1)' });
    expect(after['seen']).toEqual({});
  });

  test('a measurement says what is estimated and by which edge it is laid over the run', () => {
    expect(fieldsOf(typed(bench, 'values to be estimated', 'R1, C1.leakage'), 'bench')['adjust']).toEqual([
      'R1',
      'C1.leakage',
    ]);
    expect(fieldsOf(typed(bench, 'edge that both', 'first(out)'), 'bench')['align']).toBe('first(out)');
  });
});

describe('studyFields', () => {
  test('name what is edited at the cell itself, as complaints name their places', () => {
    expect(studyFields(document, faults!)).toEqual(
      expect.arrayContaining(['take.lit', 'seen.lit', 'seen.lamp', 'until']),
    );
    expect(studyFields(document, bench!)).toEqual(expect.arrayContaining(['data', 'columns', 'adjust', 'align']));
  });
});
