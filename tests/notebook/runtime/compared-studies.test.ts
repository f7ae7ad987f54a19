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
];

/** All studies of a lamp with this C1, an ideal timer, and R1 of 390 kΩ within 5 %. */
async function studies(capacitance: string): Promise<Readonly<Record<string, CellResult>>> {
  const values = { C1: capacitance, R1: '390 kΩ', 'R1.tolerance': '5 %', 'U1.family': 'ideal' };
  const text = JSON.stringify(documentOf({ lamp: { ready: 'monostable', values } }, page));
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

  test('a map, and studies of other kinds, are not compared', () => {
    expect(compared('x', map, map)).toBeUndefined();
    expect(compared('x', sweep, map)).toBeUndefined();
  });
});
