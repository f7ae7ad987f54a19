import type { Prediction } from '../board/index.ts';
import { preferredBetween, type Series, seriesNames } from '../quantity/index.ts';
import { errorsOf, type Wish } from '../study/choose-rank.ts';
import type { BoardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { Adjustable } from './choose-values.ts';
import { combinations } from './combinations.ts';
import { type Survey, surveyOf } from './choose-survey.ts';
import type { WantedReading } from './choose-wishes.ts';
import { valueAlong } from './knob.ts';

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

/**
 * Chooses which sets to run: all of them where they are few; else those that the board's rules of thumb put nearest, after
 * the rules have been set right by one run. Where the board has no such rules, a survey takes their place.
 *
 * @param runOnce readings of the board with a set of values (SI), null where there is none.
 */
export function chosenSets(
  board: GoodBoard,
  adjustables: readonly Adjustable[],
  wanted: readonly WantedReading[],
  runOnce: (values: readonly number[]) => readonly (number | null)[],
): ChosenSets {
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
  const nearest = (points: readonly (readonly number[])[], most: number): number[] => {
    const product = points.reduce((count, each) => count * each.length, 1);
    if (product <= ALL) return [...combinations(points)].map(numberOf);
    if (byRules === undefined) {
      // One survey of what was asked for serves the series that are held against it, too: they lie in the same range.
      survey ??= surveyOf(asked, wanted.length, runOnce);
      return nearestSets(points, survey.foretell, wanted, plain, most).map(numberOf);
    }
    used = true;
    scale ??= rightScale(points, byRules, wanted, runOnce);
    return nearestSets(points, byRules, wanted, scale, most).map(numberOf);
  };
  const asked = adjustables.map(({ points }) => points);
  const plain = wanted.map(() => 1);
  const groups = [{ name: 'as asked', sets: nearest(asked, NEAREST), of: setCount(adjustables) }];
  const levels = adjustables.flatMap(({ series }) => (series === undefined ? [] : [series.name]));
  const compared =
    levels.length === 0 ? [] : seriesNames.filter((each) => [...COMPARED_SERIES, ...levels].includes(each));
  for (const name of compared) {
    const points = adjustables.map(({ series, points: own }) =>
      series === undefined ? own : preferredBetween(series.from, series.to, name),
    );
    const of = points.reduce((count, each) => count * each.length, 1);
    if (of === 0 || of > MOST_SETS) continue;
    groups.push({ name, sets: nearest(points, COMPARED), of });
  }
  const formulas = used ? rules.flatMap((rule) => (rule === undefined ? [] : [rule.formula])) : [];
  return { sets, groups, rules: [...new Set(formulas)], surveyed: survey?.runs ?? 0 };
}

/** What the rules say of a set: one number for each wish, NaN where there is no rule or it gives none. */
type Foretell = (set: readonly number[]) => number[];

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

/** By how much the board differs from its rules, from one run of the set that these put nearest. */
function rightScale(
  points: readonly (readonly number[])[],
  foretell: Foretell,
  wanted: readonly WantedReading[],
  runOnce: (values: readonly number[]) => readonly (number | null)[],
): number[] {
  const one = wanted.map(() => 1);
  const [first] = nearestSets(points, foretell, wanted, one, 1);
  if (first === undefined) return one;
  const said = foretell(first);
  return runOnce(first).map((value, index) => {
    const ratio = (value ?? NaN) / said[index]!;
    return Number.isFinite(ratio) && ratio > 0 ? ratio : 1;
  });
}

function nearestSets(
  points: readonly (readonly number[])[],
  foretell: Foretell,
  wanted: readonly WantedReading[],
  scale: readonly number[],
  most: number,
): (readonly number[])[] {
  const rated: { readonly set: readonly number[]; readonly error: number; readonly place: number }[] = [];
  for (const set of combinations(points)) {
    const said = foretell(set);
    const known = said.flatMap((value, index) => (Number.isNaN(value) ? [] : [index]));
    const error =
      known.length === 0
        ? Infinity
        : Math.max(
            ...errorsOf(
              known.map((index) => said[index]! * scale[index]!),
              known.map((index): Wish => wanted[index]!.wish),
            ),
          );
    rated.push({ set, error, place: rated.length });
  }
  return rated
    .sort((a, b) => a.error - b.error || a.place - b.place)
    .slice(0, most)
    .map(({ set }) => set);
}
