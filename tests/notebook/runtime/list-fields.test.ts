import { describe, expect, test } from 'vitest';
import type { Json, JsonRecord } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import {
  cleared,
  isInRow,
  linkPresses,
  listPlaces,
  type ListView,
  listViews,
  shorter,
} from '#notebook/runtime/list-fields.ts';
import { partViews } from '#notebook/runtime/board-view.ts';
import { checkDocument } from '#sim/document/index.ts';

/** A page about one board with these parts beside a battery. */
function pageWith(...parts: JsonRecord[]): Json {
  const battery = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' };
  const lamp = { name: 'R2', kind: 'resistor', a: 'rail', b: 'ground', resistance: '1 kΩ' };
  const load = { name: 'R1', kind: 'resistor', a: 'bell', b: 'ground', resistance: '1 kΩ' };
  return {
    format: 'two-thirds',
    version: 1,
    title: 'Bell push',
    boards: { bell: { parts: [battery, lamp, load, ...parts] } },
    page: [{ id: 'board', kind: 'board', board: 'bell' }],
  };
}

const button: JsonRecord = {
  name: 'S1',
  kind: 'button',
  a: 'rail',
  b: 'bell',
  presses: [
    { at: '1 s', for: '200 ms' },
    { at: 3, for: '0.5 s' },
  ],
};

function only(part: JsonRecord): ListView {
  const [list, ...others] = listViews(part);
  if (list === undefined || others.length > 0) throw new Error('lists: there must be one.');
  return list;
}

/** The texts of all rows. */
function texts(list: ListView): string[][] {
  return list.rows.map((row) => row.map(({ value }) => value.text));
}

function faultsOf(page: Json): string[] {
  return checkDocument(page).issues.map(({ where }) => where);
}

describe('listViews', () => {
  test('gives presses as rows with place, unit and value', () => {
    const list = only(button);
    expect(texts(list)).toEqual([
      ['1 s', '200 ms'],
      ['3 s', '0.5 s'],
    ]);
    expect(list.rows[1]?.[0]?.value).toMatchObject({ name: 'S1.presses[1].at', unit: 's', value: 3 });
    expect(list.rows[1]?.[1]?.value.place).toEqual({ part: 'S1', steps: ['presses', 1, 'for'] });
  });

  test('a part that may have a list has an empty one; a part that may not has none', () => {
    for (const [kind, one] of [
      ['jumper', 'a press'],
      ['switch', 'a press'],
      ['finger', 'a touch'],
      ['supply', 'a change'],
    ] as const) {
      expect(only({ name: 'X1', kind })).toMatchObject({ one, rows: [] });
    }
    expect(listViews({ name: 'R1', kind: 'resistor' })).toEqual([]);
    expect(listViews({ name: 'X1', kind: 'teapot' })).toEqual([]);
    expect(listViews({ name: 'S1', kind: 'button', presses: 'soon' })).toEqual([]);
  });

  test('a new press comes after the last one has ended, as long as that', () => {
    expect(only(button).longer.at(-1)).toEqual({ at: '4.5 s', for: '0.5 s' });
    expect(only({ name: 'S1', kind: 'button' }).longer).toEqual([{ at: '1 s', for: '200 ms' }]);
  });

  test('a new change of a supply begins with its last voltage; what it takes may be left out', () => {
    const supply = {
      name: 'BT1',
      kind: 'supply',
      voltage: '9 V',
      changes: [{ at: '2 s', voltage: '6 V', over: '1 s' }],
    };
    expect(only(supply).longer.at(-1)).toEqual({ at: '4 s', voltage: '6 V' });
    expect(only({ name: 'BT1', kind: 'supply', voltage: '9 V' }).longer).toEqual([{ at: '1 s', voltage: '9 V' }]);
    const over = only(supply).rows[0]?.[2];
    expect(over?.hint).toBe('no time');
    if (over === undefined) throw new Error('row: it must have three values.');
    expect(cleared(only(supply), over.value)).toEqual([{ at: '2 s', voltage: '6 V' }]);
  });

  test('points of a wave go on in the same step; the last one stays', () => {
    const wave = {
      shape: 'points',
      between: 'lines',
      points: [
        [0, 0],
        ['2 s', '6 V'],
      ],
    };
    const list = only({ name: 'G1', kind: 'signal', wave });
    expect(texts(list)).toEqual([
      ['0 s', '0 V'],
      ['2 s', '6 V'],
    ]);
    expect(list.longer.at(-1)).toEqual(['4 s', '6 V']);
    const short = only({ name: 'G1', kind: 'signal', wave: { ...wave, points: [[0, 0]] } });
    expect(short.mayShrink).toBe(false);
  });

  test.each([
    button,
    { name: 'F1', kind: 'finger', a: 'bell' },
    { name: 'J1', kind: 'jumper', a: 'rail', b: 'bell' },
    { name: 'BT2', kind: 'supply', plus: 'bell', minus: 'ground', voltage: '6 V', origin: 'battery' },
    {
      name: 'G1',
      kind: 'signal',
      plus: 'bell',
      minus: 'ground',
      wave: {
        shape: 'points',
        between: 'steps',
        points: [
          ['1 s', '1 V'],
          ['3 s', 0],
        ],
      },
    },
  ])('what is added to $name is without fault, twice in a row', (part: JsonRecord) => {
    const once = only(part);
    const longer = withValue(part, once.place.steps, once.longer) as JsonRecord;
    const twice = withValue(longer, once.place.steps, only(longer).longer) as JsonRecord;
    expect(faultsOf(pageWith(twice))).toEqual([]);
    const shrunk = withValue(twice, once.place.steps, shorter(only(twice), 0)) as JsonRecord;
    expect(faultsOf(pageWith(shrunk))).toEqual([]);
  });
});

describe('places of lists', () => {
  test('cover every fault inside a list, also of what is missing', () => {
    const wrong = { ...button, presses: [{ at: '1 s' }, { at: '2 V', for: '1 s' }, 'soon', { at: '9 s', for: 0 }] };
    const places = listPlaces(only(wrong));
    const faults = faultsOf(pageWith(wrong)).map((where) => where.replace(/^boards\.bell\./, ''));
    expect(faults.length).toBeGreaterThanOrEqual(4);
    for (const fault of faults) expect(places).toContain(fault);
  });

  test('values in rows are told from the others', () => {
    const view = partViews(pageWith({ ...button, bounce: { for: '5 ms', seed: 1 } }), 'bell', undefined).at(-1);
    const inRows = view?.values.filter((value) => isInRow(value, view.lists)).map(({ name }) => name);
    expect(inRows).toEqual(['S1.presses[0].at', 'S1.presses[0].for', 'S1.presses[1].at', 'S1.presses[1].for']);
  });
});

describe('linkPresses', () => {
  test('are rows as those of a part, at the place of the link', () => {
    const list = linkPresses({ a: 'x.out', b: 'y.in', presses: [{ at: '1 s', for: '2 s' }] }, 3);
    expect(list?.rows[0]?.[1]?.value.name).toBe('links[3].presses[0].for');
    expect(linkPresses({ a: 'x.out', b: 'y.in' }, 0)?.rows).toEqual([]);
    expect(linkPresses({ presses: 'soon' }, 0)).toBeUndefined();
  });
});
