import type { SymptomsResult } from '@two-thirds/sim/document';
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
  return joined([toldEntries(entries), groupClauses(groupsOf(now), groupsOf(before))]);
}

type Groups = readonly (readonly string[])[];

/** What looks like the board as built is told fault by fault: most faults may; other groups are told as they are. */
function groupClauses(groups: Groups, formers: Groups): Comparison {
  const [unseen, unseenBefore] = [groups, formers].map((all) => all.find(hasBuilt) ?? []);
  const [others, othersBefore] = [groups, formers].map((all) => all.filter((group) => !hasBuilt(group)));
  const less = (from: readonly string[] = [], those: readonly string[] = []): string[] =>
    from.filter((title) => title !== BUILT && !those.includes(title));
  const without = (all: Groups = [], those: Groups = []): Groups =>
    all.filter((group) => !those.some((other) => isSame(group, other)));
  const changed = [
    ...listWords('not to be seen now', less(unseen, unseenBefore)),
    ...listWords('to be seen now', less(unseenBefore, unseen)),
    ...groupWords(without(others, othersBefore), 'alike now'),
    ...groupWords(without(othersBefore, others), 'no more alike'),
  ];
  return { changed, same: changed.length === 0 ? ['what looks alike'] : [] };
}

function hasBuilt(group: readonly string[]): boolean {
  return group.includes(BUILT);
}

/** What looks alike, by title: the places of faults may have changed. */
function groupsOf(result: SymptomsResult): Groups {
  return result.groups.map(({ members }) => members.map((member) => titleOf(result, member)).toSorted());
}

function isSame(one: readonly string[], other: readonly string[]): boolean {
  return one.length === other.length && one.every((title, index) => title === other[index]);
}

function bestOf(result: SymptomsResult): string {
  const [best] = result.ranked;
  return best === undefined ? 'none' : titleOf(result, best.fault);
}

function titleOf({ rows }: SymptomsResult, index: number): string {
  return index < 0 ? BUILT : (rows[index]?.title ?? '');
}

function groupWords(groups: Groups, words: string): string[] {
  const told = groups.slice(0, MOST_GROUPS).flatMap((titles) => listWords(words, titles));
  const rest = groups.length - told.length;
  return rest > 0 ? [...told, `${rest} more groups ${words}`] : told;
}

function listWords(words: string, titles: readonly string[]): string[] {
  const more = titles.length - MOST_NAMED;
  const named = titles.slice(0, MOST_NAMED).join(', ');
  return titles.length === 0 ? [] : [`${words}: ${named}${more > 0 ? ` and ${more} more` : ''}`];
}
