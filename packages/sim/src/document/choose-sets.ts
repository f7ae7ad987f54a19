import type { Prediction } from '../board/index.ts';
import { preferredBetween, type Series, seriesNames } from '../quantity/index.ts';
import type { StopSignal } from '../study/evaluate.ts';
import type { BoardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { Adjustable } from './choose-values.ts';
import { combinations } from './combinations.ts';
import { surveyNodes, type Survey, surveyOf } from './choose-survey.ts';
import type { WantedReading } from './choose-wishes.ts';
import { valueAlong } from './knob.ts';
import { type Foretell, nearestSets } from './nearest-sets.ts';

/** Up to so many sets are all run. */
const ALL = 400;
/** Of more, so many are run that a textbook's rule puts nearest. */
const NEAREST = 300;
/** The same for series that are only held against the one asked for. */
const COMPARED = 40;
/** Most sets there may be. */
export const MOST_SETS = 1_000_000;
/** Series whose best sets are compared, so that one sees what precision costs: E6 to E24 are those of common parts. */
const COMPARED_SERIES: readonly Series[] = ['E6', 'E12', 'E24'];

/** The sets to run, and which of them belong to which series. */
export interface ChosenSets {
  readonly sets: readonly (readonly number[])[];
  /** What was asked for first, then the series compared with it. */
  readonly groups: readonly { readonly name: string; readonly sets: readonly number[]; readonly of: number }[];
  /** Rules of thumb that told which sets are near, as people write them; none where all sets are run. */
  readonly rules: readonly string[];
  /** Runs of a survey that told it where no rule does; 0 without one. */
  readonly surveyed: number;
}

/** How many sets there are. */
export function setCount(adjustables: readonly Adjustable[]): number {
  return adjustables.reduce((product, { points }) => product * points.length, 1);
}

/** Rules of thumb of the board, one for each wish; undefined where there is none. */
function rulesFor(board: GoodBoard, wanted: readonly WantedReading[]): (Prediction | undefined)[] {
  const plain = (text: string): string => text.replaceAll(/\s/g, '');
  return wanted.map(({ asked }) => board.ready?.textbook.find(({ reading }) => plain(reading) === plain(asked)));
}

/** What has to be run before sets can be chosen. */
export interface SetsToAsk {
  /** Sets whose readings are asked for: none where all sets are run anyway. */
  readonly asked: readonly (readonly number[])[];
  /** How many sets will be chosen at most. */
  readonly count: number;
}

/** Tells what {@link chosenSets} will ask for: it never depends on what came before. */
export function setsToAsk(
  board: GoodBoard,
  adjustables: readonly Adjustable[],
  wanted: readonly WantedReading[],
): SetsToAsk {
  const groups = groupsOf(adjustables);
  const first = groups.find(({ of }) => of > ALL);
  const count = groups.reduce((sum, { of, most }) => sum + (of > ALL ? Math.min(of, most) : of), 0);
  if (first === undefined) return { asked: [], count };
  const byRules = foreteller(board, adjustables, wanted, rulesFor(board, wanted));
  if (byRules === undefined) return { asked: surveyNodes(adjustables.map(({ points }) => points)), count };
  return { asked: byRuleAlone(first.points, byRules, wanted), count };
}

/** The groups of sets that are compared, and how many of each are run where there are too many to run them all. */
function groupsOf(
  adjustables: readonly Adjustable[],
): { readonly name: string; readonly points: (readonly number[])[]; readonly of: number; readonly most: number }[] {
  const asked = adjustables.map(({ points }) => points);
  const groups = [{ name: 'as asked', points: asked, of: setCount(adjustables), most: NEAREST }];
  const levels = adjustables.flatMap(({ series }) => (series === undefined ? [] : [series.name]));
  const compared =
    levels.length === 0 ? [] : seriesNames.filter((each) => [...COMPARED_SERIES, ...levels].includes(each));
  for (const name of compared) {
    const points = adjustables.map(({ series, points: own }) =>
      series === undefined ? own : preferredBetween(series.from, series.to, name),
    );
    const of = points.reduce((count, each) => count * each.length, 1);
    if (of > 0 && of <= MOST_SETS) groups.push({ name, points, of, most: COMPARED });
  }
  return groups;
}

/**
 * Chooses which sets to run: all of them where they are few; else those that the board's rules of thumb put nearest, after
 * the rules have been set right by one run. Where the board has no such rules, a survey takes their place.
 *
 * @param runOnce readings of the board with a set of values (SI), null where there is none.
 * @returns undefined when stopped.
 */
export function chosenSets(
  board: GoodBoard,
  adjustables: readonly Adjustable[],
  wanted: readonly WantedReading[],
  runOnce: (values: readonly number[]) => readonly (number | null)[],
  signal?: StopSignal,
): ChosenSets | undefined {
  const rules = rulesFor(board, wanted);
  const byRules = foreteller(board, adjustables, wanted, rules);
  let survey: Survey | undefined;
  const sets: (readonly number[])[] = [];
  const places = new Map<string, number>();
  const numberOf = (set: readonly number[]): number => {
    const key = set.join(' ');
    const known = places.get(key);
    if (known !== undefined) return known;
    places.set(key, sets.length);
    return sets.push(set) - 1;
  };
  let scale: readonly number[] | undefined;
  let used = false;
  const wishes = wanted.map(({ wish }) => wish);
  const nearest = (points: readonly (readonly number[])[], most: number): (readonly number[])[] | undefined => {
    if (byRules === undefined) {
      // One survey of what was asked for serves the series that are held against it, too: they lie in the same range.
      survey ??= surveyOf(
        adjustables.map((each) => each.points),
        wanted.length,
        runOnce,
      );
      return nearestSets(points, survey.foretell, wishes, plain, most, signal);
    }
    used = true;
    scale ??= rightScale(points, byRules, wanted, runOnce);
    return nearestSets(points, byRules, wishes, scale, most, signal);
  };
  const plain = wanted.map(() => 1);
  const groups: { name: string; sets: number[]; of: number }[] = [];
  for (const { name, points, of, most } of groupsOf(adjustables)) {
    const found = of <= ALL ? [...combinations(points)] : nearest(points, most);
    if (found === undefined) return undefined;
    groups.push({ name, sets: found.map(numberOf), of });
  }
  const formulas = used ? rules.flatMap((rule) => (rule === undefined ? [] : [rule.formula])) : [];
  return { sets, groups, rules: [...new Set(formulas)], surveyed: survey?.runs ?? 0 };
}

/** What the rules say of a set: NaN where there is no rule or it gives none. */
function foreteller(
  board: GoodBoard,
  adjustables: readonly Adjustable[],
  wanted: readonly WantedReading[],
  rules: readonly (Prediction | undefined)[],
): Foretell | undefined {
  if (rules.every((rule) => rule === undefined)) return undefined;
  const pathOf = ({ part, steps }: BoardValue): string => [part, ...steps].join('.');
  const chosen = adjustables.map(({ value }) => pathOf(value));
  const slots = rules.map((rule) =>
    (rule?.uses ?? []).map((path) => {
      const place = chosen.indexOf(path);
      const [part = '', ...steps] = path.split('.');
      const found = board.circuit.parts.find(({ name }) => name === board.prefix + part);
      return { place, now: Number(valueAlong(found?.values, steps)) };
    }),
  );
  // A rule that none of the chosen values enters tells nothing apart.
  if (!slots.some((each) => each.some(({ place }) => place >= 0))) return undefined;
  return (set) =>
    wanted.map((_, index) => {
      const rule = rules[index];
      const values = slots[index]!.map(({ place, now }) => (place >= 0 ? set[place]! : now));
      return rule?.rule(...values) ?? NaN;
    });
}

/** The set that the rules as they stand put nearest. */
function byRuleAlone(
  points: readonly (readonly number[])[],
  foretell: Foretell,
  wanted: readonly WantedReading[],
): readonly (readonly number[])[] {
  const wishes = wanted.map(({ wish }) => wish);
  return (
    nearestSets(
      points,
      foretell,
      wishes,
      wishes.map(() => 1),
      1,
    ) ?? []
  );
}

/** By how much the board differs from its rules, from one run of the set that these put nearest. */
function rightScale(
  points: readonly (readonly number[])[],
  foretell: Foretell,
  wanted: readonly WantedReading[],
  runOnce: (values: readonly number[]) => readonly (number | null)[],
): number[] {
  const [first] = byRuleAlone(points, foretell, wanted);
  if (first === undefined) return wanted.map(() => 1);
  const said = foretell(first);
  return runOnce(first).map((value, index) => {
    const ratio = (value ?? NaN) / said[index]!;
    return Number.isFinite(ratio) && ratio > 0 ? ratio : 1;
  });
}
