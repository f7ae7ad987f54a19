import { fitLines, symptomLooks, symptomsTables } from '#notebook/chart/symptoms-table.ts';
import type { SymptomsFault, SymptomsResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

/* A small result made by hand: a platform lamp that should be lit for 4 s, and five faults of it. */

function fault(
  part: string,
  title: string,
  values: readonly (number | null)[],
  harms: readonly string[] = [],
): SymptomsFault {
  return {
    part,
    what: 'open',
    title,
    change: { part, steps: [] },
    values,
    reasons: {},
    seen: 'as told',
    build: harms.length === 0,
    harms,
  };
}

const lamp: SymptomsResult = {
  kind: 'symptoms',
  ok: true,
  board: 'lamp',
  from: 0,
  until: 20,
  cautions: [],
  readings: [{ name: 'lit', asked: 'width(out)', unit: 's' }],
  further: [
    { name: 'mean(lamp)', asked: 'mean(lamp)', unit: 'V' },
    { name: 'current(BT1)', asked: 'current(BT1)', unit: 'A' },
  ],
  asBuilt: [4, 2, 0.01],
  count: 5,
  rows: [
    fault('R2', 'R2 open', [4, 2, 0.009]),
    fault('R1', 'R1 a tenth', [0.4, 2, 0.02]),
    fault('C1', 'C1 a tenth', [0.4, 2, 0.01]),
    fault('R1', 'R1 open', [null, 2, 0.01]),
    fault('R3', 'R3 shorted', [4.4, 5, 0.5], ['R3 is what keeps the current of D1 small.']),
  ],
  alike: 0.02,
  groups: [
    { members: [-1, 0], separator: { reading: 'current(BT1)', parts: [[-1], [0]] } },
    { members: [1, 2], separator: { reading: 'current(BT1)', parts: [[1], [2]] } },
  ],
  seen: { lit: 0.41 },
  ranked: [
    { fault: 1, off: 0.0244 },
    { fault: 2, off: 0.0244 },
    { fault: -1, off: 0.9 },
    { fault: 3, off: 1 },
  ],
  share: 1,
  sentence: 'Made by hand.',
};

describe('symptomLooks', () => {
  const looks = symptomLooks(lamp);

  test('puts together what looks alike, the strangest first and what nobody sees last', () => {
    expect(looks.map(({ faults }) => faults.map(({ title }) => title))).toEqual([
      ['R1 open'],
      ['R1 a tenth', 'C1 a tenth'],
      ['R3 shorted'],
      ['R2 open'],
    ]);
    expect(looks.map(({ isHealthy }) => isHealthy)).toEqual([false, false, false, true]);
    expect(looks.map(({ values }) => values[0])).toEqual([null, 0.4, 4.4, 4]);
  });

  test('says what the separating reading reads for each, a board without a fault included', () => {
    expect(looks[1]?.apart?.parts.map(({ value, faults }) => [value, faults[0]?.title])).toEqual([
      ['20\u202fmA', 'R1 a tenth'],
      ['10\u202fmA', 'C1 a tenth'],
    ]);
    expect(looks[3]?.apart?.parts.map(({ value, hasHealthy }) => [value, hasHealthy])).toEqual([
      ['10\u202fmA', true],
      ['9\u202fmA', false],
    ]);
    expect(looks[0]?.apart).toBeNull();
  });

  test('the board as built is no fault that could be listed by itself', () => {
    const alone = { ...lamp, rows: [], groups: [{ members: [-1], separator: null }] };
    expect(symptomLooks(alone)).toEqual([]);
  });
});

describe('fitLines', () => {
  test('ranks faults with the readings that were seen, and tells which are near', () => {
    const [best, , healthy, none] = fitLines(lamp);
    expect(best).toMatchObject({ title: 'R1 a tenth', build: true, readings: [{ text: '400\u202fms', fits: true }] });
    expect(healthy).toMatchObject({ title: 'the board as built', readings: [{ text: '4\u202fs', fits: false }] });
    expect(none?.readings).toEqual([{ text: 'none', fits: false }]);
  });

  test('says of a fault that must not be built why not', () => {
    const [line] = fitLines({ ...lamp, ranked: [{ fault: 4, off: 0.9 }] });
    expect(line).toMatchObject({ build: false, harm: 'R3 is what keeps the current of D1 small.' });
  });
});

describe('symptomsTables', () => {
  test('have every fault with all readings, the board as built first', () => {
    const [table] = symptomsTables(lamp);
    expect(table?.rows[0]).toEqual(['as built', '4\u202fs', '2\u202fV', '10\u202fmA', 'yes']);
    expect(table?.rows.at(-1)?.at(-1)).toBe('no. R3 is what keeps the current of D1 small.');
  });
});
