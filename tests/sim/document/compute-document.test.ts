import { computeCell, type NotebookDocument, type TraceResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, resultOf, usable } from '../../support/documents.ts';
import { twoTracks } from '../../support/two-tracks.ts';

const values = { 'U1.family': 'ideal' };
const boards = { counter: { ready: 'frequency divider', values } };
const run = { board: 'counter', until: '6 s' };
const numbers = { id: 'numbers', kind: 'reading', ...run, take: { width: 'width(out)', ratio: 'ratio(out, in)' } };
const why = { id: 'why', kind: 'fates', ...run };
const look = { id: 'look', kind: 'trace', ...run, show: ['in', 'timing', 'out', 'current(R1)'] };
const note = {
  id: 'intro',
  kind: 'note',
  text: '[w](#numbers.width) [r](#numbers.ratio) [s](#why.started) [t](#board.ratio)',
};
const board = { id: 'board', kind: 'board', board: 'counter', knobs: ['R1'] };

// Ideal family: T = R C ln 3 with R 68 kΩ, C 4.7 µF (model.md, closed form), which is 2.34 input periods of 150 ms.
const interval = 68e3 * 4.7e-6 * Math.log(3);

describe('computeDocument(document): readings', () => {
  test('gives values in SI units, units, and what was asked', () => {
    const {
      values: found,
      units,
      asked,
      reasons,
    } = resultOf(computed(documentOf(boards, [numbers])), 'numbers', 'reading');
    // 1e-12: the engine is exact; only the rounding of some hundred steps remains.
    expect(Math.abs((found['width'] as number) / interval - 1)).toBeLessThan(1e-12);
    // floor(2.34) + 1, exact.
    expect(found['ratio']).toBe(3);
    expect(units).toEqual({ width: 's', ratio: null });
    expect(asked).toEqual(numbers.take);
    expect(reasons).toEqual({});
  });

  test('says why there is no value, and that is no fault', () => {
    const short = { ...numbers, until: '200 ms' };
    const { values: found, reasons } = resultOf(computed(documentOf(boards, [short])), 'numbers', 'reading');
    expect(found).toEqual({ width: null, ratio: null });
    expect(Object.keys(reasons)).toEqual(['width', 'ratio']);
  });
});

describe('computeDocument(document): fates and traces', () => {
  test('counts every pulse of the window once', () => {
    const { counts, pulses, timer, cut } = resultOf(computed(documentOf(boards, [why])), 'why', 'fates');
    // Pulses at 0.1 s, 0.25 s, ... below 6 s: 40; every third one starts, the first at once.
    expect(counts).toEqual({ started: 14, held: 0, ignored: 26, short: 0, barred: 0 });
    expect(pulses).toHaveLength(40);
    expect([timer, cut]).toEqual(['U1', false]);
  });

  test('tells logic lanes from analog ones and gives limits where they belong', () => {
    const { lanes, timers, edges, columns } = resultOf(computed(documentOf(boards, [look])), 'look', 'trace');
    const short = lanes.map(({ show, unit, role, limits, level }) => ({
      show,
      unit,
      role,
      level,
      limits: limits.map(({ name, value, moves }) => [name, Math.round(value * 1e9) / 1e9, moves]),
    }));
    // Limits: a third and two thirds of 12 V; level: half of it.
    expect(short).toEqual([
      { show: 'in', unit: 'V', role: 'logic', level: 6, limits: [['trigger limit', 4, false]] },
      { show: 'timing', unit: 'V', role: 'analog', level: 6, limits: [['threshold limit', 8, false]] },
      { show: 'out', unit: 'V', role: 'logic', level: 6, limits: [] },
      { show: 'current(R1)', unit: 'A', role: 'analog', level: undefined, limits: [] },
    ]);
    expect(lanes.every(({ low }) => low.length === columns)).toBe(true);
    expect(Object.keys(edges).sort()).toEqual(['in', 'out', 'timing']);
    expect(timers[0]?.intervals).toHaveLength(14);
    expect(timers[0]?.counts.started).toBe(14);
  });

  test('gives the same fates in a trace as in a fates cell', () => {
    const results = computed(documentOf(boards, [look, why]));
    const trace = resultOf(results, 'look', 'trace');
    expect(trace.timers[0]?.pulses).toEqual(resultOf(results, 'why', 'fates').pulses);
  });
});

describe('computeDocument(document): notes and boards', () => {
  test('a note that quotes the textbook of a faulty board waits for it and blames nothing on the note', () => {
    const faulty = { counter: { ready: 'frequency divider', values: { R1: 'about 5' } } };
    const results = computed(documentOf(faulty, [note, board, why, numbers]));
    expect(resultOf(results, 'intro', 'note').quotes['board.ratio']).toBe('no value');
    expect(results['board']).toMatchObject({ ok: false });
  });

  test('fills quotes from readings, fates and textbook rules', () => {
    const { quotes } = resultOf(computed(documentOf(boards, [note, board, why, numbers])), 'intro', 'note');
    expect(Object.fromEntries(Object.entries(quotes).map(([target, text]) => [target, plain(text)]))).toEqual({
      'numbers.width': '351 ms',
      'numbers.ratio': '3',
      'why.started': '14',
      'board.ratio': '3',
    });
  });

  test('quotes "no value" from a cell that cannot be computed, and is no fault itself', () => {
    const broken = { ...numbers, until: '6 V' };
    const { quotes } = resultOf(computed(documentOf(boards, [note, board, why, broken])), 'intro', 'note');
    expect(quotes['numbers.width']).toBe('no value');
  });

  test('lists parts with what was given and where defaults come from', () => {
    const { parts, nets, cautions } = resultOf(computed(documentOf(boards, [board])), 'board', 'board');
    const supply = parts.find(({ name }) => name === 'BT1');
    expect(supply?.fields.map(({ name, text, given }) => [name, plain(text), given])).toEqual([
      ['voltage', '12 V', true],
      ['resistance', '0 Ω', false],
      ['origin', 'isolated', true],
      ['changes', 'none', false],
    ]);
    expect(supply?.fields[1]?.source).not.toBe('');
    expect(nets.find(({ net }) => net === 'timing')?.joins).toEqual(['U1.threshold', 'U1.discharge', 'R1.b', 'C1.a']);
    expect(cautions.length).toBeGreaterThan(2);
  });
});

describe('computeDocument(document, { only })', () => {
  test('gives only these cells, and computes what they need', () => {
    const results = computed(documentOf(boards, [note, board, why, numbers]), { only: ['intro'] });
    expect(Object.keys(results)).toEqual(['intro']);
    expect(plain(resultOf(results, 'intro', 'note').quotes['numbers.width'] ?? '')).toBe('351 ms');
  });
});

describe('computeDocument(document): faults', () => {
  test('gives every faulty cell its message and place, and the others go on', () => {
    const page = [numbers, { ...why, timer: 'U7' }, 'Hello', { ...look, board: 'nowhere' }];
    const results = computed(documentOf(boards, page));
    expect(Object.keys(results)).toEqual(['numbers', 'why', 'page[2]', 'look']);
    const faults = Object.values(results).map((result) => (result.ok ? 'fine' : result.error.where));
    expect(faults).toEqual(['fine', 'page[1].timer', 'page[2]', 'page[3].board']);
  });

  test('shows all faults of a board at every cell that uses it', () => {
    const bad = { counter: { ready: 'frequency divider', values: { R1: '-1 Ω', C1: '-1 F' } } };
    const result = computed(documentOf(bad, [numbers]))['numbers'];
    const issues = result?.ok === false ? result.issues : undefined;
    expect(issues?.map(({ where }) => where)).toEqual(['boards.counter.values.R1', 'boards.counter.values.C1']);
    expect(result?.ok === false && result.error.message).toContain('(and 1 more)');
  });

  test('keeps what a run computed before it stopped', () => {
    const results = computed(documentOf(boards, [numbers, why]), { maxEvents: 60 });
    const result = results['why'];
    if (result?.ok !== false || result.partial?.ok !== true || result.partial.kind !== 'fates')
      throw new Error('no partial');
    expect(result.error.message).toMatch(/^page\[1\] \(why\): /);
    expect(result.partial.pulses.length).toBeGreaterThan(3);
    expect(result.partial.pulses.length).toBeLessThan(40);
  });

  test('stops when asked to and keeps what there is', () => {
    // A run that repeats itself is done in no time.
    const { boards: tracks, links, page } = twoTracks;
    const long = documentOf(tracks, [{ ...page[0], until: 3000 }], { links });
    const result = computed(long, { signal: { aborted: true } })['look'];
    expect(result?.ok).toBe(false);
    expect(result?.ok === false && result.partial?.ok).toBe(true);
  });

  test('tells the share of the work done, ascending to 1', () => {
    const shares: number[] = [];
    computed(documentOf(boards, [numbers, { ...why, until: '3 s' }]), { onProgress: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
    expect(shares.every((share, index) => share >= (shares[index - 1] ?? 0))).toBe(true);
  });
});

describe('computeDocument(document): the limit of lists', () => {
  test('lists 10000 pulses at most, counts all, and says so', () => {
    const long = { ...why, until: 1600 };
    const result = resultOf(computed(documentOf(boards, [long])), 'why', 'fates');
    expect(result.pulses).toHaveLength(10_000);
    expect(result.cut).toBe(true);
    // (1600 - 0.1) / 0.15, rounded up: the first pulse comes at 0.1 s.
    expect(Object.values(result.counts).reduce((sum, count) => sum + count)).toBe(10_666);
  });

  test('lists 10000 edges of a net at most and marks the trace as cut', () => {
    const long = { ...look, until: 1600 };
    const { edges, cut }: TraceResult = resultOf(computed(documentOf(boards, [long])), 'look', 'trace');
    expect(edges['in']).toHaveLength(10_000);
    expect(cut).toBe(true);
  });
});

describe('computeCell(document, id)', () => {
  const document: NotebookDocument = usable(documentOf(boards, [note, board, why, numbers]));

  test('gives the same result as the whole document', () => {
    expect(computeCell(document, 'numbers')).toEqual(computed(document)['numbers']);
    expect(computeCell(document, 'intro')).toEqual(computed(document)['intro']);
  });

  test('gives a faulty result for an id that the page does not have', () => {
    expect(computeCell(document, 'constructor').ok).toBe(false);
  });
});

describe('linked boards', () => {
  const flasher = { ready: 'astable', values: { 'U1.family': 'ideal', C1: '1 µF' } };
  const listener = {
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V' },
      {
        name: 'U1',
        kind: 'timer',
        family: 'ideal',
        pins: {
          supply: 'rail',
          ground: 'ground',
          trigger: 'in',
          output: 'out',
          threshold: 'timing',
          discharge: 'timing',
        },
      },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '270 kΩ' },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '1 µF' },
      { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: '1 MΩ' },
    ],
  };
  const both = { flasher, listener };
  const read = {
    id: 'n',
    kind: 'reading',
    board: 'listener',
    until: '5 s',
    take: { ratio: 'ratio(out, flasher.out)', pulls: 'trough(in)' },
  };

  test('run as one circuit; a cell sees its own names first and others as board.name', () => {
    const links = [{ a: 'flasher.out', b: 'listener.in' }];
    const { values: found } = resultOf(computed(documentOf(both, [read], { links })), 'n', 'reading');
    // Period (R1 + 2 R2) C ln 2 = 101 ms, interval 270 kΩ · 1 µF · ln 3 = 297 ms: between 2 and 3 periods, so every third.
    expect(found['ratio']).toBe(3);
    expect(found['pulls']).toBeLessThan(0.1);
  });

  test('stay apart while the link is open', () => {
    const links = [{ a: 'flasher.out', b: 'listener.in', closed: false }];
    const { values: found } = resultOf(computed(documentOf(both, [read], { links })), 'n', 'reading');
    expect(found['ratio']).toBeNull();
    // Held at the supply by R2, no current in it: exactly 12 V but for the rounding of the equations.
    expect(found['pulls']).toBeCloseTo(12, 9);
  });

  test('show their own parts under their own names, and where a link ends', () => {
    const links = [{ a: 'flasher.out', b: 'listener.in' }];
    const results = computed(
      documentOf(both, [{ id: 'b', kind: 'board', board: 'listener', knobs: ['R1'] }], { links }),
    );
    const { parts, nets } = resultOf(results, 'b', 'board');
    expect(parts.map(({ name }) => name)).toEqual(['BT1', 'U1', 'R1', 'C1', 'R2']);
    expect(nets.find(({ net }) => net === 'in')?.joins).toEqual(['U1.trigger', 'R2.b', 'link1.b']);
  });

  test('take the timer and the level of the board that the cell names', () => {
    const links = [{ a: 'flasher.out', b: 'listener.in' }];
    const trace = { id: 't', kind: 'trace', board: 'listener', until: '1 s', show: ['out', 'flasher.out', 'U1.lower'] };
    const fates = { id: 'f', kind: 'fates', board: 'listener', until: '1 s' };
    const results = computed(documentOf(both, [trace, fates], { links }));
    const { timers, lanes } = resultOf(results, 't', 'trace');
    expect(timers.map(({ timer, trigger, output }) => [timer, trigger, output])).toEqual([['U1', 'in', 'out']]);
    expect(lanes.map(({ show }) => show)).toEqual(['out', 'flasher.out', 'U1.lower']);
    expect(resultOf(results, 'f', 'fates').timer).toBe('U1');
  });
});

describe('computeDocument(document): parts beyond their limits', () => {
  /** A lamp without a resistor on a pulsed net: (5 - 2) V / (50 + 10) ohm is 50 mA for 0.1 s of every second. */
  const parts = [
    {
      name: 'G1',
      kind: 'signal',
      plus: 'x',
      minus: 'ground',
      wave: { shape: 'pulses', period: 1, width: 0.1, rest: 0, pulse: 5, delay: 0.5 },
    },
    { name: 'D1', kind: 'led', a: 'x', b: 'ground', forward: 2, slope: 10 },
  ];
  const take = { mean: 'current(D1)' };

  test('every cell that runs tells them, within its own window', () => {
    const results = computed(
      documentOf({ one: { parts } }, [
        { id: 'early', kind: 'reading', board: 'one', until: '400 ms', take },
        { id: 'late', kind: 'reading', board: 'one', until: '3 s', take },
        { id: 'look', kind: 'trace', board: 'one', from: '1 s', until: '3 s', show: ['x'] },
      ]),
    );
    expect(results.early).toMatchObject({ faults: [] });
    expect(results.late).toMatchObject({
      faults: [{ part: 'D1', what: 'over-current', count: 3, first: 0.5, lasting: false }],
    });
    expect(results.look).toMatchObject({ faults: [{ part: 'D1', count: 2, first: 1.5 }] });
  });

  test('of linked boards a cell tells its own, by their own names', () => {
    const other = { parts: [{ name: 'R1', kind: 'resistor', a: 'y', b: 'ground', resistance: 1000 }] };
    const page = [
      { id: 'first', kind: 'reading', board: 'one', until: 1, take },
      { id: 'second', kind: 'reading', board: 'two', until: 1, take: { mean: 'mean(y)' } },
    ];
    const results = computed(documentOf({ one: { parts }, two: other }, page, { links: [{ a: 'one.x', b: 'two.y' }] }));
    expect(results.first).toMatchObject({ faults: [{ part: 'D1' }] });
    expect(results.second).toMatchObject({ ok: true, faults: [] });
  });
});
