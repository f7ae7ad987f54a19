import type { SymptomsResult } from '@two-thirds/sim/document';
import { isSameJson } from '../edit/json.ts';
import { type Comparison, joined, toldEntries } from './comparison.ts';
import { twoTexts } from './two-texts.ts';

/** Groups that are told one by one, and faults of a group that are named. */
const MOST_GROUPS = 3;
const MOST_NAMED = 4;
const BUILT = 'the board as built';

/**
 * What is different in a list of single faults against the one before: what the board as built gives, faults that came or
 * went, what looks alike now and did not, what does no more, and the fault that fits what was seen.
 */
export function comparedSymptoms(now: SymptomsResult, before: SymptomsResult): Comparison {
  const built = now.readings.map(({ name, unit }, index): [string, string, string] => {
    const was = before.readings.findIndex((reading) => reading.name === name);
    return [name, ...twoTexts(now.asBuilt?.[index] ?? null, before.asBuilt?.[was] ?? null, unit)];
  });
  const isRanked = now.ranked.length > 0 && before.ranked.length > 0;
  const entries: (readonly [string, string, string])[] = [
    ...built,
    ['faults', String(now.count), String(before.count)],
    ...(isRanked ? [['the best fit', bestOf(now), bestOf(before)] as const] : []),
  ];
  // Faults are called as they are now.
  const titles = new Map<string, string>();
  const groups = [groupsOf(now, titles), groupsOf(before, titles)] as const;
  return joined([toldEntries(entries), groupClauses(...groups, titles)]);
}

type Groups = readonly (readonly string[])[];

/** What looks like the board as built is told fault by fault: most faults may; other groups are told as they are. */
function groupClauses(groups: Groups, formers: Groups, titles: ReadonlyMap<string, string>): Comparison {
  const [unseen, unseenBefore] = [groups, formers].map((all) => all.find(hasBuilt) ?? []);
  const [others, othersBefore] = [groups, formers].map((all) => all.filter((group) => !hasBuilt(group)));
  const less = (from: readonly string[] = [], those: readonly string[] = []): string[] =>
    from.filter((key) => key !== BUILT && !those.includes(key));
  const without = (all: Groups = [], those: Groups = []): Groups =>
    all.filter((group) => !those.some((other) => isSameJson(group, other)));
  const changed = [
    ...listWords('not to be seen now', less(unseen, unseenBefore), titles),
    ...listWords('to be seen now', less(unseenBefore, unseen), titles),
    ...groupWords(without(others, othersBefore), 'alike now', titles),
    ...groupWords(without(othersBefore, others), 'no more alike', titles),
  ];
  return { changed, same: changed.length === 0 ? ['what looks alike'] : [] };
}

function hasBuilt(group: readonly string[]): boolean {
  return group.includes(BUILT);
}

/** What looks alike: faults by what they are, not by their titles, in which values stand that may have changed. */
function groupsOf(result: SymptomsResult, titles: Map<string, string>): Groups {
  const met = new Map<string, number>();
  const keys = result.rows.map(({ part, what, title }) => {
    const count = met.get(`${part} ${what}`) ?? 0;
    met.set(`${part} ${what}`, count + 1);
    const key = `${part} ${what} ${count}`;
    if (!titles.has(key)) titles.set(key, title);
    return key;
  });
  return result.groups.map(({ members }) => members.map((member) => keys[member] ?? BUILT).toSorted());
}

function bestOf(result: SymptomsResult): string {
  const [best] = result.ranked;
  return best === undefined ? 'none' : titleOf(result, best.fault);
}

function titleOf({ rows }: SymptomsResult, index: number): string {
  return index < 0 ? BUILT : (rows[index]?.title ?? '');
}

function groupWords(groups: Groups, words: string, titles: ReadonlyMap<string, string>): string[] {
  const told = groups.slice(0, MOST_GROUPS).flatMap((keys) => listWords(words, keys, titles));
  const rest = groups.length - told.length;
  if (rest === 0) return told;
  return [...told, rest === 1 ? `one more group ${words}` : `${rest} more groups ${words}`];
}

function listWords(words: string, keys: readonly string[], titles: ReadonlyMap<string, string>): string[] {
  const more = keys.length - MOST_NAMED;
  const named = keys.slice(0, MOST_NAMED).map((key) => titles.get(key) ?? key);
  return keys.length === 0 ? [] : [`${words}: ${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}`];
}
