import { cellKnob, cellNumbers, findCellNumber, knobsOfCells, longLists } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

/** Places of the numbers of a cell, with what stands there. */
const places = (data: unknown) => Object.fromEntries(cellNumbers(data).map(({ place, raw }) => [place, raw]));

describe('cellNumbers', () => {
  test('has the window of whatever runs, its beginning also where it is left out', () => {
    for (const kind of ['trace', 'fates', 'reading', 'capture'])
      expect(places({ kind, until: '6 s', data: 'axles.csv', take: { width: 'width(out)' } })).toEqual({
        from: 0,
        until: '6 s',
      });
    expect(cellNumbers({ kind: 'trace', until: '6 s' })).toEqual([
      { steps: ['from'], place: 'from', raw: 0, isOptional: true, unit: 's', below: 'until' },
      { steps: ['until'], place: 'until', raw: '6 s', unit: 's', above: 'from' },
    ]);
    // Whatever is typed there is meant as a time; nothing is none.
    expect(places({ kind: 'trace', from: 'soon' })).toEqual({ from: 'soon' });
  });

  test('has ends and steps of ranges in the unit of their value, or the values that are listed', () => {
    const stepped = { kind: 'sweep', until: 1, vary: { value: 'R1', from: '10 kΩ', to: '1 MΩ' } };
    expect(places(stepped)).toEqual({ 'vary.from': '10 kΩ', 'vary.to': '1 MΩ', 'vary.steps': 50, from: 0, until: 1 });
    expect(cellNumbers(stepped)[0]).toMatchObject({ of: 'R1' });
    expect(cellNumbers(stepped)[2]).toMatchObject({ unit: null, most: 10_000, isOptional: true });
    const y = { value: 'BT1', values: ['5 V', '12 V'] };
    const map = { kind: 'map', until: 1, x: { value: 'R1', from: 1, to: 2, series: 'E12' }, y, levels: [1.5, 2.5] };
    expect(places(map)).toEqual({
      'x.from': 1,
      'x.to': 2,
      'y.values[0]': '5 V',
      'y.values[1]': '12 V',
      'levels[0]': 1.5,
      'levels[1]': 2.5,
      from: 0,
      until: 1,
    });
  });

  test('has how far values may be off, limits of readings in their unit, and samples', () => {
    const spread = {
      kind: 'spread',
      until: 1,
      take: { width: 'width(out)', ratio: 'ratio(out, in)' },
      parts: { R1: '5 %', C1: 'own', BT1: ['10 V', '14 V'], 'G1.wave.period': '1 %' },
      limits: { width: ['4 s', null], ratio: [2, 3] },
    };
    const found = cellNumbers(spread);
    expect(found.map(({ place }) => place)).toEqual([
      'parts.R1',
      'parts.BT1[0]',
      'parts.BT1[1]',
      'parts["G1.wave.period"]',
      'limits.width[0]',
      'limits.ratio[0]',
      'limits.ratio[1]',
      'samples',
      'from',
      'until',
    ]);
    expect(found[0]).toMatchObject({ isTolerance: true });
    expect(found[1]).toMatchObject({ of: 'BT1' });
    expect(found[4]).toMatchObject({ unit: 's' });
    expect(found[5]).toMatchObject({ unit: null });
    expect(found[7]).toMatchObject({ raw: 10_000, most: 1_000_000 });
  });

  test('has what is wanted and how far off it may be, as a share or as it is counted itself', () => {
    const wish = { reading: 'width(out)', value: '4.5 s' };
    const choose = {
      kind: 'choose',
      until: 1,
      want: { width: wish, low: { reading: 'low(out)', value: '2 s', within: '20 ms' } },
      adjust: { R1: 'E12', C1: ['100 nF', '1 µF'], R2: { series: 'E24', from: '1 kΩ', to: '1 MΩ' } },
      stock: ['10 kΩ'],
    };
    expect(places(choose)).toMatchObject({
      'want.width.value': '4.5 s',
      'want.width.within': '5 %',
      'want.low.within': '20 ms',
      'adjust.C1[1]': '1 µF',
      'adjust.R2.to': '1 MΩ',
      'stock[0]': '10 kΩ',
    });
    const within = cellNumbers(choose).filter(({ place }) => place.endsWith('within'));
    expect(within.map(({ isTolerance, unit }) => [isTolerance, unit])).toEqual([
      [true, undefined],
      [undefined, 's'],
    ]);
    expect(places({ kind: 'ask', question: 'How long?', answer: 'numbers.width' })).toEqual({ within: '5 %' });
  });

  test('tells which lists are too long, for the field to say so', () => {
    const values = Array.from({ length: 25 }, (_, index) => index + 1);
    const y = { value: 'C1', values: values.slice(0, 24) };
    expect(longLists({ kind: 'map', x: { value: 'R1', values }, y, levels: values })).toEqual([
      { place: 'x.values', length: 25 },
      { place: 'levels', length: 25 },
    ]);
    expect(longLists({ kind: 'choose', adjust: { R1: values }, stock: [] })).toEqual([
      { place: 'adjust.R1', length: 25 },
    ]);
    expect(longLists({ kind: 'note', text: '' })).toEqual([]);
  });

  test('leaves out words, seeds, expressions, and lists too long to be turned one by one', () => {
    const swaps = {
      kind: 'swaps',
      until: 1,
      parts: { R1: ['47 kΩ', '68 kΩ'], 'U1.family': ['bipolar'], M1: ['none', '10 MΩ'] },
    };
    expect(Object.keys(places(swaps))).toEqual(['parts.R1[0]', 'parts.R1[1]', 'parts.M1[1]', 'from', 'until']);
    const claim = { kind: 'claim', says: '', until: '20 * R1 * C1', seed: 7, over: { 'U1.family': ['cmos'] } };
    expect(places(claim)).toEqual({ trials: 200, from: 0 });
    expect(places({ ...claim, until: '6 s' })).toEqual({ trials: 200, from: 0, until: '6 s' });
    const seen = { width: '2.1 s', lamp: 'none' };
    expect(Object.keys(places({ kind: 'symptoms', until: 1, seen }))).toEqual(['seen.width', 'from', 'until']);
    const values = Array.from({ length: 25 }, (_, index) => index + 1);
    expect(places({ kind: 'sweep', until: 1, vary: { value: 'R1', values } })).toEqual({ from: 0, until: 1 });
    for (const data of [null, 'trace', {}, { kind: 'note', text: '' }, { kind: 'constructor' }])
      expect(cellNumbers(data)).toEqual([]);
  });
});

describe('findCellNumber', () => {
  const cells = new Map<string, unknown>([
    ['look', { kind: 'trace', board: 'counter', until: '6 s' }],
    ['lamp', { kind: 'trace', board: 'lamp', until: '6 s' }],
    ['guess', { kind: 'ask', question: 'How long?', answer: 'look' }],
    ['intro', { kind: 'note', text: '' }],
  ]);
  const messageOf = (knob: string): string => {
    const found = findCellNumber(knob, 'counter', cells);
    return found.ok ? '' : found.message;
  };

  test('finds what knobs of cells are called', () => {
    for (const number of cellNumbers(cells.get('look'))) {
      const knob = cellKnob('look', number);
      expect(findCellNumber(knob, 'counter', cells)).toEqual({ ok: true, cell: 'look', number });
    }
    // A question has no board: it is turned from any.
    expect(findCellNumber('#guess.within', 'counter', cells)).toMatchObject({ ok: true });
  });

  test('says what would be right', () => {
    expect(messageOf('#loko.until')).toContain('Did you mean look?');
    expect(messageOf('#look')).toContain('Write for example "#look.from".');
    expect(messageOf('#look.unti')).toContain('Did you mean until?');
    expect(messageOf('#lamp.until')).toContain('must name a cell of the board counter');
    expect(messageOf('#intro.text')).toContain('must name a cell that has a number to turn');
    expect(messageOf('#')).toContain('(look, guess)');
    expect(findCellNumber('#a.b', 'counter', new Map())).toMatchObject({
      message: expect.stringContaining('it has none') as string,
    });
  });
});

test('knobsOfCells takes those that name cells, and survives anything', () => {
  expect(knobsOfCells({ knobs: ['R1', '#look.until', 7] })).toEqual(['#look.until']);
  for (const data of [null, 7, {}, { knobs: '#look.until' }]) expect(knobsOfCells(data)).toEqual([]);
});
