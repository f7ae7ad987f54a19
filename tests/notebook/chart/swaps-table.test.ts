import { flagCounts, flagsOf } from '#notebook/chart/swaps-flags.ts';
import { harmGroups, spotOf, swapsLines, togetherWords } from '#notebook/chart/swaps-table.ts';
import type { SwapsResult, SwapsRow } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { processorTime } from '../../support/processor-time.ts';

/* A small kit made by hand: the platform lamp with two resistors for the lamp and three for its time. */

const places = [
  { name: 'R3', choices: ['680 Ω', '220 Ω'] },
  { name: 'R1', choices: ['100 kΩ', '390 kΩ', '1 MΩ'] },
];

function row(parts: readonly string[], value: number | null, more: Partial<SwapsRow> = {}): SwapsRow {
  return { parts, values: [value], reasons: {}, flags: [], remedy: null, sameAs: null, failed: null, ...more };
}

function harm(parts: readonly string[], current: string): SwapsRow {
  const flags = [{ what: 'unsafe', part: '', sentence: `D1: about ${current} may flow, above its limit.` }] as const;
  return row(parts, null, { flags, remedy: 'R3 of 430 Ω or more would prevent it.' });
}

const never = { what: 'never-ends', part: 'U1', sentence: 'The interval can never end.' } as const;
const kit: SwapsResult = {
  kind: 'swaps',
  ok: true,
  board: 'kit',
  from: 0,
  until: 60,
  cautions: [],
  places,
  readings: [{ name: 'lit', asked: 'width(out)', unit: 's' }],
  count: 6,
  rows: [
    row(['680 Ω', '100 kΩ'], 4),
    row(['680 Ω', '390 kΩ'], 1, { sameAs: null }),
    row(['680 Ω', '1 MΩ'], 1.01, { sameAs: 1 }),
    harm(['220 Ω', '100 kΩ'], '37 mA'),
    harm(['220 Ω', '390 kΩ'], '38 mA'),
    harm(['220 Ω', '1 MΩ'], '39 mA'),
  ],
  alike: 0.02,
  ranked: [1, 2, 0],
  share: 1,
  sentence: 'Made by hand.',
};

describe('flagsOf', () => {
  test('tells the gravest first, and that there is nothing to tell', () => {
    expect(flagsOf(row([], 1, { flags: [never], sameAs: 0 }))).toEqual(['never-ends', 'same']);
    expect(flagsOf(harm([], '1 A'))).toEqual(['harm']);
    expect(flagsOf(row([], 1))).toEqual(['fine']);
  });
});

describe('flagCounts', () => {
  test('counts every flag that occurs', () => {
    expect(flagCounts(kit)).toEqual([
      { flag: 'harm', count: 3 },
      { flag: 'same', count: 1 },
      { flag: 'fine', count: 2 },
    ]);
  });
});

describe('swapsLines', () => {
  const first = { reading: 0, isFalling: false };
  const shown = (...given: Parameters<typeof swapsLines>) =>
    swapsLines(...given).map(({ index, alike }) => [index, ...alike]);

  test('orders by a reading, folds what looks the same below its first, and leaves harm to its groups', () => {
    expect(shown(kit, 'all', first)).toEqual([[1, 2], [0]]);
    expect(shown(kit, 'all', { reading: 0, isFalling: true })).toEqual([[0], [1, 2]]);
    expect(shown(kit, 'all', { reading: undefined, isFalling: false })).toEqual([[0], [1, 2]]);
  });

  test('a filter shows what it is of by itself, folded under nothing that it leaves out', () => {
    expect(shown(kit, 'same', first)).toEqual([[2]]);
    expect(shown(kit, 'harm', first)).toEqual([[3], [4], [5]]);
  });

  test('what has no value stands last, whichever way the others go', () => {
    const some = {
      ...kit,
      rows: [row(['680 Ω', '1 MΩ'], null), row(['680 Ω', '100 kΩ'], 2), row(['680 Ω', '390 kΩ'], 1)],
    };
    expect(shown(some, 'all', first)).toEqual([[2], [1], [0]]);
    expect(shown(some, 'all', { reading: 0, isFalling: true })).toEqual([[1], [2], [0]]);
  });

  test('ten thousand combinations are laid out well within a frame of a slow page', () => {
    const many = {
      ...kit,
      rows: Array.from({ length: 10_000 }, (_, index) => row(['680 Ω', '1 MΩ'], (index * 7919) % 10_007)),
    };
    const begun = processorTime();
    expect(swapsLines(many, 'all', first)).toHaveLength(10_000);
    // Some 10 ms here; half a second is what a machine ten times as slow and busy may take.
    expect(processorTime() - begun).toBeLessThan(500);
  });
});

describe('harmGroups', () => {
  test('what does the same harm and is prevented by the same is one, whatever its numbers', () => {
    expect(harmGroups(kit)).toEqual([
      {
        sentences: ['D1: about 37 mA may flow, above its limit.'],
        remedy: 'R3 of 430 Ω or more would prevent it.',
        words: 'R3 220 Ω, whatever R1 is',
        count: 3,
      },
    ]);
  });
});

describe('togetherWords', () => {
  const of = (...parts: string[][]) =>
    togetherWords(
      places,
      parts.map((each) => ({ parts: each })),
    );

  test('names what combinations have in common where they are all there are of it', () => {
    expect(of(['680 Ω', '100 kΩ'], ['680 Ω', '390 kΩ'])).toBe('R3 680 Ω with R1 100 kΩ or 390 kΩ');
    expect(of(['680 Ω', '1 MΩ'], ['220 Ω', '1 MΩ'])).toBe('R1 1 MΩ, whatever R3 is');
  });

  test('calls values as sentences do', () => {
    const families = [{ name: 'U1.family', choices: ['bipolar', 'cmos'] }, ...places];
    const all = (...parts: string[][]) =>
      togetherWords(
        families,
        parts.map((each) => ({ parts: each })),
      );
    expect(all(['cmos', '680 Ω', '100 kΩ'])).toBe('U1 family cmos, R3 680 Ω, R1 100 kΩ');
    expect(all(['cmos', '680 Ω', '100 kΩ'], ['cmos', '680 Ω', '390 kΩ'])).toContain('U1 family cmos with R3 680 Ω');
    expect(all(['bipolar', '680 Ω', '1 MΩ'], ['cmos', '680 Ω', '1 MΩ'])).toContain('whatever U1 family is');
  });

  test('names the first and counts the others where they have nothing in common', () => {
    expect(of(['680 Ω', '100 kΩ'], ['220 Ω', '390 kΩ'])).toBe('R3 680 Ω, R1 100 kΩ, and 1 more');
    expect(of(['680 Ω', '100 kΩ'])).toBe('R3 680 Ω, R1 100 kΩ');
  });
});

describe('spotOf', () => {
  test('places values between the least and the greatest, by ratio where they are far apart', () => {
    const at = (values: readonly number[]) => spotOf({ ...kit, rows: values.map((value) => row([], value)) }, 0);
    // 1, 10, 100: the middle by ratio is 10 (definition of the logarithm).
    expect(at([1, 100])(10)).toBeCloseTo(0.5, 12);
    expect(at([2, 4])(3)).toBeCloseTo(0.5, 12);
    expect(at([3, 3])(3)).toBe(0.5);
  });
});
