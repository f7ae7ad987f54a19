import { documentStudies, type SwapsResult, type SwapsRow } from '#sim/document/index.ts';
import { runJobs } from '#sim/study/study.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, issuesOf, resultOf, usable } from '../../support/documents.ts';

const lamp = { ready: 'monostable', values: { 'U1.family': 'ideal' } };
const kit = {
  id: 'kit',
  kind: 'swaps',
  board: 'lamp',
  until: '20 s',
  parts: { R1: ['100 kΩ', '390 kΩ'], C1: ['10 µF', '22 µF', '10.1 µF'] },
  take: { width: 'width(out)' },
};

function swapped(cell: object, board: unknown = lamp): SwapsResult {
  return resultOf(computed(documentOf({ lamp: board }, [{ ...kit, ...cell }])), 'kit', 'swaps');
}

function flags({ flags: all }: SwapsRow): string[] {
  return [...new Set(all.map(({ what }) => what))];
}

/** The parts of the ready monostable with some of them changed, and others added. */
const rail = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V', origin: 'battery' };
const flasher = (more: readonly object[]): object => ({
  parts: [
    rail,
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'sink', resistance: '1 kΩ' },
    { name: 'R2', kind: 'resistor', a: 'sink', b: 'timing', resistance: '10 kΩ' },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '10 µF' },
    {
      name: 'U1',
      kind: 'timer',
      family: 'ideal',
      pins: {
        supply: 'rail',
        ground: 'ground',
        trigger: 'timing',
        threshold: 'timing',
        discharge: 'sink',
        output: 'out',
      },
    },
    ...more,
  ],
});

describe('computeDocument(document): swaps', () => {
  test('computes every combination in order, by the closed form of the interval', () => {
    const { count, rows, places, ranked, cautions } = swapped({});
    expect(count).toBe(6);
    expect(places).toEqual([
      { name: 'R1', choices: ['100\u202fkΩ', '390\u202fkΩ'] },
      { name: 'C1', choices: ['10\u202fµF', '22\u202fµF', '10.1\u202fµF'] },
    ]);
    // Ideal family: T = R C ln 3 (closed form).
    const expected = [100e3, 390e3].flatMap((r) => [10e-6, 22e-6, 10.1e-6].map((c) => r * c * Math.log(3)));
    for (const [index, { values }] of rows.entries()) expect(values[0]).toBeCloseTo(expected[index] ?? NaN, 9);
    expect(rows.map(({ parts }) => parts.map(plain).join(' '))[4]).toBe('390 kΩ 22 µF');
    expect(ranked).toEqual([0, 2, 1, 3, 5, 4]);
    // What opens every swap table (the product's caution).
    expect(cautions[0]).toContain('Hot or smelling: switch off first.');
  });

  test('names what readings within 2 % do not tell apart', () => {
    const { rows, alike, sentence } = swapped({});
    expect(alike).toBe(0.02);
    expect(rows.map(({ sameAs }) => sameAs)).toEqual([null, null, 0, null, null, 3]);
    expect(plain(sentence)).toContain(
      '2 cannot be told from an earlier one by these readings: all are within 2 % of it.',
    );
  });

  test('flags an interval that can never end, and one that the window cuts off', () => {
    // A meter of 100 kΩ holds C1 at 12 V · 100 / 490 = 2.4 V, below the 8 V that end the interval (closed form).
    const meter = { name: 'M1', kind: 'probe', a: 'timing', resistance: '10 MΩ', capacitance: 0 };
    const board = { parts: [...monostable('390 kΩ'), meter] };
    const { rows } = swapped({ parts: { M1: ['none', '10 MΩ', '100 kΩ'], C1: ['10 µF', '100 µF'] } }, board);
    expect(rows.map(flags)).toEqual([[], ['unfinished'], [], ['unfinished'], ['never-ends'], ['never-ends']]);
    expect(rows.map(({ parts }) => plain(parts[0] ?? ''))).toEqual([
      'none',
      'none',
      '10 MΩ',
      '10 MΩ',
      '100 kΩ',
      '100 kΩ',
    ]);
    // Without the meter T = R C ln 3; with 10 MΩ the aim is 12 V · 10 / 10.39 and R is 390 kΩ beside 10 MΩ (closed form).
    expect(rows[0]?.values[0]).toBeCloseTo(390e3 * 10e-6 * Math.log(3), 6);
    const aim = (12 * 10) / 10.39;
    const beside = (390e3 * 10e6) / 10.39e6;
    expect(rows[2]?.values[0]).toBeCloseTo(beside * 10e-6 * Math.log(aim / (aim - 8)), 6);
    expect(plain(rows[4]?.flags[0]?.sentence ?? '')).toContain('it never ends');
  });

  test('flags a timer that never starts, and one that its trigger holds on', () => {
    const presses = [[], [{ at: '1 s', for: '200 ms' }], [{ at: '1 s', for: '30 s' }]];
    const { rows } = swapped({ parts: { 'S1.presses': presses } });
    expect(rows.map(flags)).toEqual([['never-starts'], [], ['never-ends']]);
    expect(plain(rows[2]?.flags[0]?.sentence ?? '')).toContain('is still low and holds the output on');
  });

  test('flags lamps that are too fast to see, and those that can set off fits', () => {
    const led = [
      { name: 'R3', kind: 'resistor', a: 'out', b: 'lamp', resistance: '1 kΩ' },
      { name: 'D1', kind: 'led', a: 'lamp', b: 'ground', colour: 'red' },
    ];
    // T = (R1 + 2 R2) C1 ln 2 = 21 kΩ · C1 · 0.693 (closed form): 0.69 Hz, 6.9 Hz, 31 Hz and 687 Hz.
    const cell = {
      from: '1 s',
      until: '11 s',
      parts: { C1: ['100 µF', '10 µF', '2.2 µF', '100 nF'] },
      take: { f: 'frequency(out)' },
    };
    const { rows } = swapped(cell, flasher(led));
    expect(rows.map(flags)).toEqual([[], ['flashing'], ['too-fast', 'flashing'], ['too-fast']]);
    expect(rows[3]?.values[0]).toBeCloseTo(1 / (21e3 * 1e-7 * Math.log(2)), 3);
    // Without a lamp nobody looks.
    expect(swapped(cell, flasher([])).rows.map(flags)).toEqual([[], [], [], []]);
  });

  test('flags tones that nobody hears, where there is a loudspeaker', () => {
    const speaker = [
      { name: 'R3', kind: 'resistor', a: 'out', b: 'tone', resistance: '470 Ω' },
      { name: 'LS1', kind: 'speaker', a: 'tone', b: 'ground', resistance: '64 Ω' },
    ];
    // 21 kΩ · C1 · ln 2 again: 6.9 Hz, 687 Hz, 68.7 kHz.
    const cell = { until: '2 s', parts: { C1: ['10 µF', '100 nF', '1 nF'] }, take: { f: 'frequency(out)' } };
    const { rows } = swapped(cell, flasher(speaker));
    expect(rows.map(flags)).toEqual([['inaudible'], [], ['inaudible']]);
    expect(rows.map((row) => row.flags[0]?.sentence.includes('too low'))).toEqual([true, undefined, false]);
  });

  test('flags a buzzer that never has the voltage that it needs', () => {
    // 12 V less 1.3 V of a bipolar output, over R3 and 400 Ω: 7.3 V with 180 Ω, 3.8 V with 680 Ω.
    const buzzer = [
      { name: 'R3', kind: 'resistor', a: 'out', b: 'tone', resistance: '180 Ω', rating: '1 W' },
      { name: 'LS1', kind: 'buzzer', plus: 'tone', minus: 'ground', resistance: 400, least: 6, most: 16 },
    ];
    const cell = { until: '2 s', parts: { R3: ['180 Ω', '680 Ω'] }, take: { f: 'frequency(out)' } };
    const { rows } = swapped(cell, flasher(buzzer));
    expect(rows.map(flags)).toEqual([[], ['inaudible']]);
    expect(rows[1]?.flags[0]?.sentence).toBe('LS1 never sounds: it never has the voltage that it needs.');
  });

  test('never runs or ranks a set that would do harm, and names the part that would prevent it', () => {
    const { rows, ranked, sentence } = swapped({ parts: { R3: ['680 Ω', '47 Ω'], BT1: ['12 V', '30 V'] } });
    expect(rows.map(flags)).toEqual([[], ['unsafe'], ['unsafe'], ['unsafe']]);
    expect(ranked).toEqual([0]);
    expect(rows.slice(1).map(({ values }) => values[0])).toEqual([null, null, null]);
    expect(rows[2]?.reasons['0']).toBe('it would do harm, so it is not run');
    // The lamp drops 2.1 V: (12 V - 2.1 V) / 20 mA = 495 Ω, less the 10 Ω of its slope, and the next of E24 is 510 Ω.
    expect(plain(rows[2]?.remedy ?? '')).toBe('R3 of 510 Ω or more would prevent it.');
    expect(plain(rows[1]?.flags.map((flag) => flag.sentence).join(' ') ?? '')).toContain(
      'rating of 25 V is below the 30 V',
    );
    expect(plain(sentence)).toContain('3 must not be built');
  });

  test('names a higher supply where one is too low for the timer', () => {
    // A bipolar timer needs 4.5 V (TI SLFS022I, recommended operating conditions), a supply that can be bought.
    const { rows } = swapped({ parts: { 'U1.family': ['cmos', 'bipolar'], BT1: ['9 V', '3 V'] } });
    expect(plain(rows[3]?.remedy ?? '')).toBe('BT1 of 4.5 V would prevent it.');
  });

  test('calls a supply that is too low for the timer by its own name: it damages nothing, and it is not ranked', () => {
    const { rows, ranked, sentence } = swapped({ parts: { 'U1.family': ['cmos', 'bipolar'], BT1: ['9 V', '3 V'] } });
    expect(rows.map(flags)).toEqual([[], [], [], ['supply-low']]);
    expect(plain(rows[3]?.flags[0]?.sentence ?? '')).toBe(
      'U1: the supply is as low as 3 V, below the 4.5 V that a timer of the family bipolar needs.',
    );
    expect(rows[3]?.reasons['0']).toBe('a timer has less supply than it needs, so it is not run');
    expect([...ranked].sort()).toEqual([0, 1, 2]);
    expect(plain(sentence)).not.toContain('must not be built');
    expect(plain(sentence)).toContain(
      '1 leaves a timer with less supply than it needs: U1 family bipolar, BT1 3 V. U1: the supply is as low as 3 V, below the 4.5 V that a timer of the family bipolar needs. BT1 of 4.5 V would prevent it.',
    );
  });

  test('calls a set unsafe that would do harm, whether or not a timer has too little supply as well', () => {
    // C2 stands the wrong way round.
    const turned = { name: 'C2', kind: 'capacitor', a: 'ground', b: 'rail', capacitance: '10 µF', polarised: true };
    const parts = { 'U1.family': ['bipolar'], BT1: ['9 V', '3 V'] };
    const { rows } = swapped({ until: '1 s', parts, take: { f: 'frequency(out)' } }, flasher([turned]));
    expect(rows.map(flags)).toEqual([['unsafe'], ['supply-low', 'unsafe']]);
  });

  test('does not rank a set whose supply sags below what the timer needs, and does not call it over a limit', () => {
    // 9 V sag to 4 V, below the 4.5 V of a bipolar timer (TI SLFS022I, recommended operating conditions), above the 2 V of CMOS (TI SLFS043H).
    const sag = [{ ...rail, changes: [{ at: '0.5 s', voltage: '4 V' }] }];
    const board = flasher([]) as { parts: { name: string }[] };
    const sagging = { parts: [...sag, ...board.parts.filter(({ name }) => name !== 'BT1')] };
    const parts = { 'U1.family': ['cmos', 'bipolar'] };
    const { rows, ranked } = swapped({ until: '1 s', parts, take: { f: 'frequency(out)' } }, sagging);
    expect(rows.map(flags)).toEqual([[], ['supply-low']]);
    expect(ranked).toEqual([0]);
  });

  test('names a series resistor where an LED has none', () => {
    const bare = [{ name: 'D1', kind: 'led', a: 'out', b: 'ground', colour: 'red' }];
    const { rows } = swapped({ until: '1 s', parts: { C1: ['10 µF'] } }, flasher(bare));
    expect(rows.map(flags)).toEqual([['unsafe']]);
    expect(plain(rows[0]?.remedy ?? '')).toMatch(/^A resistor of \d+ Ω or more in series with D1 would prevent it\.$/);
  });

  test('names what a run finds beyond a limit, and what else of the kit would prevent it', () => {
    // C2 charges through R3: the current at the first instant is beyond 0.25 W in R3 with 47 Ω (9 V squared by 47 Ω).
    const more = [
      { name: 'R3', kind: 'resistor', a: 'out', b: 'store', resistance: '470 Ω' },
      { name: 'C2', kind: 'capacitor', a: 'store', b: 'ground', capacitance: '1 µF' },
    ];
    const { rows, ranked } = swapped(
      { until: '1 s', parts: { R3: ['470 Ω', '47 Ω'] }, take: { f: 'frequency(out)' } },
      flasher(more),
    );
    expect(rows.map(flags)).toEqual([[], ['over-limit']]);
    expect(ranked).toEqual([0]);
    expect(plain(rows[1]?.remedy ?? '')).toBe('R3 of 470 Ω in its place would prevent it.');
  });

  test('swaps families and several fields of one part', () => {
    const parts = { 'U1.family': ['ideal', 'bipolar'], 'U1.with.delay': [0, '1 ms'] };
    const { rows } = swapped({ parts }, { ready: 'monostable' });
    expect(rows).toHaveLength(4);
    const [a, b, c, d] = rows.map(({ values }) => values[0] ?? NaN) as [number, number, number, number];
    // The delay comes before the output goes high and before it goes low, but starts the charge later: 1 ms in all.
    expect(b - a).toBeCloseTo(1e-3, 6);
    expect(a).not.toBe(c);
    expect(d).toBeGreaterThan(c);
  });

  // Two times 120 runs: a second of a processor, several on a busy machine.
  test('gives the same whatever the order of the jobs, and partial results of some', () => {
    const parts = { R1: valuesOf(['k'], 10, 100), C1: valuesOf(['u'], 4, 1), R3: ['680 Ω', '47 Ω', '100 Ω'] };
    const cell = { ...kit, parts };
    const [found] = documentStudies(usable(documentOf({ lamp }, [cell])));
    if (found === undefined) throw new Error('a study');
    const { study } = found;
    const jobs = runJobs(study);
    expect(study.jobCount).toBe(3);
    const whole = JSON.stringify(study.collect(jobs));
    const fresh = documentStudies(usable(documentOf({ lamp }, [cell])))[0]!.study;
    const backwards = new Map(
      [2, 0, 1].map((index) => [index, JSON.parse(JSON.stringify(fresh.run(index))) as unknown]),
    );
    expect(JSON.stringify(fresh.collect(backwards))).toBe(whole);
    // What would prevent harm is the same whatever R1 and C1 are, and so is the sentence.
    const { rows } = study.collect(jobs) as SwapsResult;
    const remedies = new Set(rows.map(({ parts: [, , ohms = ''], remedy }) => plain(`${ohms}: ${remedy ?? ''}`)));
    expect([...remedies]).toEqual([
      '680 Ω: ',
      '47 Ω: R3 of 510 Ω or more would prevent it.',
      '100 Ω: R3 of 510 Ω or more would prevent it.',
    ]);
    const part = study.collect(new Map([[1, jobs.get(1)]])) as SwapsResult;
    expect([part.rows.length, part.count, part.share]).toEqual([40, 120, 1 / 3]);
    expect((study.collect(new Map()) as SwapsResult).sentence).toBe('Nothing is computed yet.');
  });

  test('refuses what cannot be plugged in, by name and place', () => {
    const refused = (parts: unknown): string[] => issuesOf(documentOf({ lamp }, [{ ...kit, parts }]));
    expect(refused({ R9: ['1 kΩ'] })).toEqual(['page[0].parts.R9: unknown-value']);
    expect(refused({ R1: ['1 kΩ', '5 V'] })).toEqual(['page[0].parts.R1[1]: bad-value']);
    expect(refused({ R1: ['1 kΩ', '1000 Ω'] })).toEqual(['page[0].parts.R1: double-value']);
    expect(refused({ R1: ['1 kΩ'], 'R1.resistance': ['2 kΩ'] })).toEqual([
      'page[0].parts["R1.resistance"]: double-value',
    ]);
    expect(refused({ R1: ['none'] })).toEqual(['page[0].parts.R1[0]: bad-value']);
    expect(refused({ R1: [] })).toEqual(['page[0].parts.R1: out-of-range']);
    expect(refused({})).toEqual(['page[0].parts: out-of-range']);
  });

  test('refuses huge products with their number', () => {
    const many = Object.fromEntries(['R1', 'R2', 'R3'].map((name) => [name, valuesOf(['k'], 200, 1)]));
    const { results } = { results: computed(documentOf({ lamp }, [{ ...kit, parts: many }])) };
    const result = results['kit'];
    expect(result?.ok === false && plain(result.error.message)).toContain(
      'must make at most 100000 combinations; got 200 x 200 x 200 = 8000000.',
    );
  });
});

function valuesOf([unit]: readonly string[], count: number, step: number): string[] {
  return Array.from({ length: count }, (_, index) => `${(index + 1) * step} ${unit}${unit === 'u' ? 'F' : 'Ω'}`);
}

function monostable(resistance: string): object[] {
  return [
    { ...rail, voltage: '12 V' },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '10 µF' },
    { name: 'R2', kind: 'resistor', a: 'rail', b: 'button', resistance: '10 kΩ' },
    { name: 'S1', kind: 'button', a: 'button', b: 'ground', presses: [{ at: '1 s', for: '200 ms' }] },
    {
      name: 'U1',
      kind: 'timer',
      family: 'ideal',
      pins: {
        supply: 'rail',
        ground: 'ground',
        trigger: 'button',
        threshold: 'timing',
        discharge: 'timing',
        output: 'out',
      },
    },
  ];
}
