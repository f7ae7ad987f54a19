import type { SwapsResult, SwapsRow } from '@two-thirds/sim/document';
import { listedText, spokenName } from '@two-thirds/sim/quantity';
import { flagsOf, isHarmful, type SwapsFlag } from './swaps-flags.ts';

/** A line of the table: a combination, and those folded below it because nobody could tell them from it. */
export interface SwapsLine {
  /** Position in the rows of the result. */
  readonly index: number;
  readonly row: SwapsRow;
  /** Positions of those that look the same. */
  readonly alike: readonly number[];
}

/** By what lines are ordered: the reading at a position, or as the parts are listed. */
export interface SwapsOrder {
  readonly reading: number | undefined;
  readonly isFalling: boolean;
}

/** Combinations that would do the same harm. */
export interface HarmGroup {
  /** What happens, as the first of them tells it. */
  readonly sentences: readonly string[];
  /** The part that would prevent it, in a sentence. */
  readonly remedy: string | null;
  /** Which they are, in words: `R3 220 Ω, whatever R1 and C1 are`. */
  readonly words: string;
  readonly count: number;
}

/**
 * The lines of the table: what the filter lets through, each first of its kind with those that look the same below it.
 * Combinations that would do harm have no lines of their own unless they are asked for; they are told as groups.
 */
export function swapsLines(result: SwapsResult, filter: SwapsFlag | 'all', sorted: SwapsOrder): readonly SwapsLine[] {
  const { rows } = result;
  const wanted = (row: SwapsRow): boolean => (filter === 'all' ? !isHarmful(row) : flagsOf(row).includes(filter));
  const lines = new Map<number, { index: number; row: SwapsRow; alike: number[] }>();
  for (const [index, row] of rows.entries()) {
    if (!wanted(row)) continue;
    const first = row.sameAs === null ? undefined : lines.get(row.sameAs);
    if (first === undefined) lines.set(index, { index, row, alike: [] });
    else first.alike.push(index);
  }
  return inOrder([...lines.values()], sorted);
}

function inOrder(lines: SwapsLine[], { reading, isFalling }: SwapsOrder): SwapsLine[] {
  if (reading === undefined) return lines;
  const value = ({ row }: SwapsLine): number | null => row.values[reading] ?? null;
  return lines.sort((a, b) => {
    const [one, other] = [value(a), value(b)];
    // What has no value stands last, whichever way the others go.
    if (one === null || other === null) return Number(one === null) - Number(other === null) || a.index - b.index;
    return (isFalling ? other - one : one - other) || a.index - b.index;
  });
}

/** Combinations that would do harm, together where the same happens and the same would prevent it; the largest first. */
export function harmGroups({ places, rows }: SwapsResult): readonly HarmGroup[] {
  const groups = new Map<string, SwapsRow[]>();
  for (const row of rows) {
    if (!isHarmful(row)) continue;
    const key = JSON.stringify([
      row.flags.map(({ what, part, sentence }) => [what, part, opening(sentence)]),
      row.remedy,
    ]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [row]);
    else group.push(row);
  }
  return [...groups.values()]
    .map((group): HarmGroup => {
      const [first] = group;
      return {
        sentences: (first?.flags ?? []).map(({ sentence }) => sentence),
        remedy: first?.remedy ?? null,
        words: togetherWords(places, group),
        count: group.length,
      };
    })
    .sort((a, b) => b.count - a.count);
}

/** What a sentence says before its numbers, which differ from combination to combination. */
function opening(sentence: string): string {
  return sentence.split(/[\d:]/)[0] ?? sentence;
}

/**
 * Which combinations these are, in words, where they are all there are of some choices: `R3 220 Ω, whatever R1 and C1
 * are`; else the first of them.
 */
export function togetherWords(places: SwapsResult['places'], rows: readonly Pick<SwapsRow, 'parts'>[]): string {
  const met = places.map(({ choices }, place) => {
    const used = new Set(rows.map(({ parts }) => parts[place]));
    return choices.filter((choice) => used.has(choice));
  });
  const product = met.reduce((count, choices) => count * choices.length, 1);
  const [first] = rows;
  if (product !== rows.length || rows.length === 1) {
    const words = first === undefined ? '' : combinationWords(places, first);
    return rows.length > 1 ? `${words}, and ${rows.length - 1} more` : words;
  }
  const fixed = places.flatMap(({ name, choices }, place) => {
    const those = met[place] ?? [];
    return those.length === choices.length && choices.length > 1
      ? []
      : [`${spokenName(name)} ${listedText(those, 'or')}`];
  });
  const free = places.filter(({ choices }, place) => choices.length > 1 && met[place]?.length === choices.length);
  if (fixed.length === 0) return 'every combination';
  const others =
    free.length === 0
      ? ''
      : `, whatever ${listedText(
          free.map(({ name }) => spokenName(name)),
          'and',
        )} ${free.length === 1 ? 'is' : 'are'}`;
  return `${fixed.join(' with ')}${others}`;
}

/** A combination in words: `R1 47 kΩ, C1 10 µF`. */
function combinationWords(places: SwapsResult['places'], { parts }: Pick<SwapsRow, 'parts'>): string {
  return places.map(({ name }, place) => `${spokenName(name)} ${parts[place] ?? ''}`).join(', ');
}

/** Where a value lies between the least and the greatest of a reading, 0 to 1: by ratio where they are far apart. */
export function spotOf({ rows }: SwapsResult, reading: number): (value: number) => number {
  let [least, most] = [Infinity, -Infinity];
  for (const { values } of rows) {
    const value = values[reading] ?? null;
    if (value === null) continue;
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  if (!(most > least)) return () => 0.5;
  const isByRatio = least > 0 && most / least > BY_RATIO;
  const at = isByRatio ? Math.log : (value: number): number => value;
  return (value) => (at(value) - at(least)) / (at(most) - at(least));
}

/** Readings further apart than this are compared by their ratios. */
const BY_RATIO = 5;
