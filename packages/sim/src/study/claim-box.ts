import type { RandomSource } from '../core/random.ts';
import type { ClaimCourse } from './claim-course.ts';
import type { Judgement } from './claim-judge.ts';
import type { ClaimChoice } from './claim-plan.ts';

/** Fresh points that a box is tried at, beside its corners. */
const FRESH = 60;
/** Corners tried; of more, so many drawn by chance. */
const MOST_CORNERS = 64;
/** How often a box may be cut before it is given up. */
const MOST_CUTS = 40;
/** How closely a cut is found: halvings of the way from the board's own values to those that fail. */
const HALVINGS = 12;

/** How far a box reaches along one choice. */
export interface BoxSide {
  readonly low: number;
  readonly high: number;
  /** For words and their like, the numbers of those in the box; null where everything from `low` to `high` is. */
  readonly among: readonly number[] | null;
}

/** A stretch of several choices at once in which a claim holds. Plain data. */
export interface ClaimBox {
  /** One for each choice; null where it stays as the board has it. */
  readonly sides: readonly (BoxSide | null)[];
  /** Points tried in it, its corners among them, all of which hold. */
  readonly checked: number;
}

/** What a claim comes to with these values of all choices; undefined when stopped. */
type Look = (values: readonly (number | null)[]) => Judgement | undefined;
type Sides = readonly (BoxSide | null)[];
type Point = readonly (number | null)[];

/**
 * Finds a box around the board's own values in which a claim holds, several values changed at a time. It begins with the
 * ranges of each choice alone and tries the corners, then fresh points inside. Where one fails, the way to it from the
 * board's own values is halved until it is known how far the claim holds, for each choice alone or else for all at once,
 * and the box is cut there, so that it loses least. It ends when all corners and fresh points hold. Not the largest box there is: cuts are made one by one.
 *
 * @param courses the claim over each choice alone, with its range.
 * @returns null where fewer than two choices have room, or no box was found; undefined when stopped.
 */
export function claimBox(
  choices: readonly ClaimChoice[],
  courses: readonly ClaimCourse[],
  look: Look,
  random: RandomSource,
): ClaimBox | null | undefined {
  let sides: Sides = choices.map((choice, index) => firstSide(choice, courses[index]));
  const fresh: Point[] = [];
  for (let cuts = 0; cuts <= MOST_CUTS; cuts++) {
    if (sides.filter((side) => side !== null).length < 2) return null;
    const failing = firstFailing(choices, sides, fresh, look, random);
    if (failing === undefined) return undefined;
    if (failing === null) return { sides, checked: corners(choices, sides).length + FRESH };
    const cut = cutBefore(choices, sides, failing, look);
    if (cut === undefined) return undefined;
    sides = cut;
  }
  return null;
}

/** Where a choice is looked at first: as far as the claim holds along it alone. */
function firstSide(choice: ClaimChoice, course: ClaimCourse | undefined): BoxSide | null {
  if (choice.words !== null) {
    const held = (course?.points ?? []).filter(({ verdict }) => verdict === 'holds').map(({ x }) => x);
    return held.length < 2 || !held.includes(0) ? null : { low: 0, high: 0, among: held };
  }
  const range = course?.range;
  if (range === null || range === undefined || range.low === range.high) return null;
  // A stretch elsewhere than at the board's own value is no beginning.
  const own = choice.nominal;
  if (own === null || own < range.low || own > range.high) return null;
  return { low: range.low, high: range.high, among: null };
}

/** The first point known not to hold, null where all do. Points that hold are kept, as long as they lie inside. */
function firstFailing(
  choices: readonly ClaimChoice[],
  sides: Sides,
  fresh: Point[],
  look: Look,
  random: RandomSource,
): Point | null | undefined {
  for (const corner of corners(choices, sides)) {
    const found = look(corner);
    if (found === undefined) return undefined;
    if (found.verdict !== 'holds') return corner;
  }
  const inside = fresh.filter((point) => isInside(point, sides));
  while (inside.length < FRESH) {
    const point = choices.map((choice, index) => drawn(choice, sides[index] ?? null, random));
    const found = look(point);
    if (found === undefined) return undefined;
    if (found.verdict !== 'holds') return point;
    inside.push(point);
    fresh.push(point);
  }
  return null;
}

/** All corners, or {@link MOST_CORNERS} of them evenly chosen; always the same for the same box. */
function corners(choices: readonly ClaimChoice[], sides: Sides): Point[] {
  const ends = choices.map(({ nominal }, index) => {
    const side = sides[index] ?? null;
    if (side === null) return [nominal];
    return side.among ?? [side.low, side.high];
  });
  const count = ends.reduce((all, { length }) => all * length, 1);
  const step = Math.max(1, count / MOST_CORNERS);
  return Array.from({ length: Math.min(count, MOST_CORNERS) }, (_, each) => {
    let rest = Math.floor(each * step);
    return ends.map((values) => {
      const value = values[rest % values.length] ?? null;
      rest = Math.floor(rest / values.length);
      return value;
    });
  });
}

function drawn(choice: ClaimChoice, side: BoxSide | null, random: RandomSource): number | null {
  const share = random.next();
  if (side === null) return choice.nominal;
  const listed =
    side.among ?? (choice.continuous ? null : choice.points.filter((x) => x >= side.low && x <= side.high));
  if (listed !== null) return listed[Math.floor(share * listed.length)] ?? choice.nominal;
  return between(choice, side.low, side.high, share);
}

/**
 * Whether values of all choices lie in a box.
 *
 * @param own those of the board, which a choice without a side must have.
 */
export function isInBox(
  { sides }: ClaimBox,
  values: readonly (number | null)[],
  own: readonly (number | null)[],
): boolean {
  const isOwn = sides.every((side, index) => side !== null || (values[index] ?? null) === (own[index] ?? null));
  return isOwn && isInside(values, sides);
}

function isInside(point: Point, sides: Sides): boolean {
  return sides.every((side, index) => {
    const at = point[index] ?? null;
    if (side === null || at === null) return true;
    return side.among === null ? at >= side.low && at <= side.high : side.among.includes(at);
  });
}

/** The box without a point that fails, of all ways to cut it the one that keeps most. */
function cutBefore(choices: readonly ClaimChoice[], sides: Sides, failing: Point, look: Look): Sides | undefined {
  const numbers = choices.flatMap(({ nominal }, index) => {
    const side = sides[index] ?? null;
    return side !== null && side.among === null && failing[index] !== nominal ? [index] : [];
  });
  const cuts = choices.flatMap((choice, index) => withoutWord(choice, index, sides, failing));
  // Along one value alone, everything else as in the point; where that helps nowhere, along all of them at once.
  const ways = numbers.map((index) => [index]);
  for (const way of numbers.length > 1 ? [...ways, numbers] : ways) {
    if (way.length > 1 && cuts.length > 0) break;
    const share = holdingShare(choices, failing, way, look);
    if (share === undefined) return undefined;
    if (share !== null)
      cuts.push({ sides: withEdges(choices, sides, failing, way, share), keeps: share ** way.length });
  }
  const best = cuts.reduce<Cut | undefined>((most, cut) => (most && most.keeps >= cut.keeps ? most : cut), undefined);
  return best?.sides ?? sides.map(() => null);
}

interface Cut {
  readonly sides: Sides;
  /** Share of what is cut that is left. */
  readonly keeps: number;
}

/** The box without the word that a point has. */
function withoutWord(choice: ClaimChoice, index: number, sides: Sides, failing: Point): Cut[] {
  const side = sides[index] ?? null;
  const word = failing[index] ?? null;
  if (side === null || side.among === null || word === null || word === choice.nominal) return [];
  const among = side.among.filter((each) => each !== word);
  const left = among.length < 2 ? null : { ...side, among };
  return [{ sides: sides.with(index, left), keeps: among.length / side.among.length }];
}

/** The box with sides that end where the claim was last seen to hold on the way to a point. */
function withEdges(
  choices: readonly ClaimChoice[],
  sides: Sides,
  failing: Point,
  way: readonly number[],
  share: number,
): Sides {
  return sides.map((side, index) => {
    const choice = choices[index];
    const [own, to] = [choice?.nominal ?? null, failing[index] ?? null];
    if (choice === undefined || side === null || own === null || to === null || !way.includes(index)) return side;
    const edge = onTheWay(choice, own, to, share);
    const [low, high] = to > own ? [side.low, edge] : [edge, side.high];
    return low === high ? null : { low, high, among: null };
  });
}

/**
 * How much of the way from the board's own values to a point that fails is known to hold, some values moved together and
 * all others as in the point; null where it does not even hold at its beginning.
 */
function holdingShare(
  choices: readonly ClaimChoice[],
  failing: Point,
  way: readonly number[],
  look: Look,
): number | null | undefined {
  const holds = (share: number): boolean | undefined => {
    const found = look(
      choices.map((choice, index) => {
        const [own, to] = [choice.nominal, failing[index] ?? null];
        return !way.includes(index) || own === null || to === null ? to : onTheWay(choice, own, to, share);
      }),
    );
    return found === undefined ? undefined : found.verdict === 'holds';
  };
  let [good, bad] = [0, 1];
  const begins = holds(good);
  if (begins !== true) return begins === undefined ? undefined : null;
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (good + bad) / 2;
    const found = holds(middle);
    if (found === undefined) return undefined;
    if (found) good = middle;
    else bad = middle;
  }
  return good;
}

/** A value on the way from the board's own to another; of a list, the last one that is reached. */
function onTheWay(choice: ClaimChoice, own: number, to: number, share: number): number {
  const at = between(choice, own, to, share);
  if (choice.continuous) return at;
  const passed = choice.points.filter((x) => (to > own ? x >= own && x <= at : x <= own && x >= at));
  return (to > own ? passed.at(-1) : passed[0]) ?? own;
}

function between({ scale }: ClaimChoice, from: number, to: number, share: number): number {
  return scale === 'logarithmic' && from > 0 && to > 0 ? from * (to / from) ** share : from + (to - from) * share;
}
