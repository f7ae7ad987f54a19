import { compared, comparisonText } from '#notebook/runtime/compared.ts';
import { type CellResult, claimTrialsFor, computeDocument, loadDocument } from '#sim/document/index.ts';
import { beforeAll, describe, expect, test } from 'vitest';
import { documentOf } from '../../support/documents.ts';
import { map, sweep } from '../../support/example-studies.ts';

const width = { width: 'width(out)' };
const page = [
  {
    id: 'kits',
    kind: 'spread',
    board: 'lamp',
    until: '20 s',
    take: width,
    limits: { width: ['4 s', '5 s'] },
    samples: 20,
  },
  {
    id: 'rule',
    kind: 'claim',
    board: 'lamp',
    until: '20 s',
    says: 'width(out) <= 10 s',
    over: { R1: { from: '100 kΩ', to: '1 MΩ', series: 'E6' } },
    trials: 5,
  },
  {
    id: 'values',
    kind: 'choose',
    board: 'lamp',
    until: '20 s',
    want: { width: { reading: 'width(out)', value: '5 s' } },
    adjust: { R1: ['330 kΩ', '390 kΩ', '470 kΩ'] },
  },
  { id: 'kit', kind: 'swaps', board: 'lamp', until: '20 s', parts: { R1: ['330 kΩ', '390 kΩ'] }, take: width },
  {
    id: 'swept',
    kind: 'sweep',
    board: 'lamp',
    until: '20 s',
    vary: { value: 'R1', values: ['100 kΩ', '390 kΩ'] },
    take: width,
  },
  {
    id: 'regions',
    kind: 'map',
    board: 'counter',
    until: '6 s',
    x: { value: 'R1', values: ['40 kΩ', '60 kΩ', '80 kΩ', '100 kΩ'] },
    y: { value: 'G1.wave.period', values: ['150 ms', '200 ms'] },
    take: { ratio: 'ratio(out, in)' },
  },
  {
    id: 'lines',
    kind: 'map',
    board: 'lamp',
    until: '30 s',
    x: { value: 'R1', values: ['330 kΩ', '390 kΩ'] },
    y: { value: 'BT1.voltage', values: ['6 V', '12 V'] },
    take: width,
  },
  { id: 'faults', kind: 'symptoms', board: 'lamp', until: '20 s', take: { ...width, idle: 'level(out, 0.5 s)' } },
];

/** An axle counter whose capacitor goes from 4.7 µF to 5.6 µF where that of the lamp goes from 10 µF to 22 µF. */
function counterOf(lamp: string) {
  return { ready: 'frequency divider', values: { C1: lamp === '10 µF' ? '4.7 µF' : '5.6 µF', 'U1.family': 'ideal' } };
}

/** All studies of a lamp with this C1, an ideal timer, and R1 of 390 kΩ within 5 %. */
async function studies(capacitance: string): Promise<Readonly<Record<string, CellResult>>> {
  const values = { C1: capacitance, R1: '390 kΩ', 'R1.tolerance': '5 %', 'U1.family': 'ideal' };
  const text = JSON.stringify(
    documentOf({ lamp: { ready: 'monostable', values }, counter: counterOf(capacitance) }, page),
  );
  const { document, formulas } = await loadDocument(text);
  if (document === undefined) throw new Error('the page must be readable');
  const claims = await claimTrialsFor(document);
  return computeDocument(document, { ...(formulas && { formulas }), ...(claims && { claims }) }).results;
}

describe('a study told against the one before', () => {
  let now: Readonly<Record<string, CellResult>> = {};
  let before: Readonly<Record<string, CellResult>> = {};
  const told = (id: string): string => {
    const [is, was] = [now[id], before[id]];
    const found = is === undefined || was === undefined ? undefined : compared(id, is, was);
    return found === undefined ? '' : comparisonText(found).replaceAll('\u202f', ' ');
  };
  beforeAll(async () => {
    now = await studies('22 µF');
    before = await studies('10 µF');
  }, 60_000);

  // All numbers: R1 C1 ln 3 (closed form, ideal timer), R1 of 390 kΩ ± 5 % and as each study changes it.
  test('a spread says mean, worst case and share', () => {
    expect(told('kits')).toMatch(/^mean width 9\.\d+ s, was 4\.\d+ s; /);
    expect(told('kits')).toContain('least width 8.95 s, was 4.07 s; greatest width 9.90 s, was 4.50 s');
    expect(told('kits')).toContain('width inside its limits 0 %, was 100 %');
  });

  test('a claim says its verdict, and how far it holds', () => {
    // 10 s / (22 µF · ln 3) = 414 kΩ; 10 s / (10 µF · ln 3) = 910 kΩ.
    expect(told('rule')).toMatch(/R1 holds up to 41\d(\.\d+)? kΩ, was 91\d(\.\d+)? kΩ/);
    expect(told('rule')).toContain('verdict');
  });

  test('a choice says the values and readings of the nearest set', () => {
    expect(told('values')).toContain('R1 330 kΩ, was 470 kΩ');
    expect(told('values')).toContain('sets that grant all wishes 0, was 1');
  });

  test('a kit says how many combinations are ranked and how far the readings go', () => {
    expect(told('kit')).toBe('least width 7.98 s, was 3.63 s; greatest width 9.43 s, was 4.28 s; ranked as before');
  });

  test('a sweep says the ends of its readings', () => {
    expect(told('swept')).toBe('least width 2.42 s, was 1.10 s; greatest width 9.43 s, was 4.28 s');
  });

  test('a map of a ratio says how many points are in another region, and which boundaries moved how far', () => {
    // T = R1 C1 ln 3 and ratio floor(T / period) + 1: of 5.6 µF against 4.7 µF, with R1 of 40, 60, 80 and 100 kΩ,
    // T / 150 ms is 1.64 2.46 3.28 4.10, was 1.38 2.07 2.75 3.44: two of them change. T / 200 ms is 1.23 1.85 2.46 3.08,
    // was 1.03 1.55 2.07 2.58: one.
    const words = told('regions');
    expect(words).toContain('3 of 8 points in another region: ');
    expect(words).toContain('from 3 to 4');
    // T = 3 periods at R1 = 0.45 s / (C1 ln 3): 73.1 kΩ and 87.2 kΩ; with 200 ms it lies at 97.5 kΩ, was beyond.
    expect(words).toMatch(/the boundary between 3 and 4 at R1 73\.1 kΩ, was 87\.2 kΩ \(G1 period 150 ms\)/);
  });

  test('a map of another reading says how far it reaches', () => {
    expect(told('lines')).toContain('another width at 4 of 4 points; least width 7.98 s, was 3.63 s');
  });

  test('maps over other points, and studies of other kinds, are not compared', () => {
    expect(compared('x', { ...map, x: [1, 2, 3] }, map)).toBeUndefined();
    expect(compared('x', sweep, map)).toBeUndefined();
    expect(compared('x', map, map)?.changed).toEqual([]);
  });

  test('a list of faults says what the board as built gives and what looks alike now', () => {
    const words = told('faults');
    expect(words).toContain('width 9.43 s, was 4.28 s');
    expect(words).toContain('as before');
    const is = now['faults'];
    if (is?.kind !== 'symptoms' || !is.ok) throw new Error('faults must compute');
    // Made by hand: groups of the faults that stand first.
    const titles = is.rows.slice(0, 3).map(({ title }) => title);
    const named = (clause: string | undefined) => (clause ?? '').split(': ')[1]?.split(', ').toSorted();
    const grouped = (...members: number[]) => ({ ...is, groups: [{ members, separator: null }] });
    const changes = (one: CellResult, other: CellResult) => compared('faults', one, other)?.changed;
    expect(changes(grouped(-1, 0, 1), grouped(-1, 0, 2))).toEqual([
      `not to be seen now: ${is.rows[1]?.title ?? ''}`,
      `to be seen now: ${is.rows[2]?.title ?? ''}`,
    ]);
    const [alike] = changes(grouped(0, 1, 2), { ...is, groups: [] }) ?? [];
    expect(alike).toMatch(/^alike now: /);
    expect(named(alike)).toEqual(titles.toSorted());
    const [apart] = changes({ ...is, groups: [] }, grouped(0, 1, 2)) ?? [];
    expect(apart).toMatch(/^no more alike: /);
    expect(named(apart)).toEqual(titles.toSorted());
    // A fault stays what it is where its title names a value that has changed.
    const renamed = { ...grouped(0, 1), rows: is.rows.map((row) => ({ ...row, title: `${row.title}, once` })) };
    expect(changes(grouped(0, 1), renamed)).toEqual([]);
    const ranked = { ...is, ranked: [{ fault: 0, off: 0 }] };
    const best = compared('faults', ranked, { ...ranked, ranked: [{ fault: -1, off: 0 }] });
    expect(best?.changed).toEqual([`the best fit ${is.rows[0]?.title ?? ''}, was the board as built`]);
  });
});
