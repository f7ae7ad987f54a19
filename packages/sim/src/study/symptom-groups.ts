import { firstAlike, type Readings } from './alike.ts';

/** Circuits that look alike by the readings that were asked for. */
export interface SymptomGroup {
  /** Their positions, ascending. */
  readonly members: readonly number[];
  /** The one further reading that tells most of them apart; null where none does, or where there is only one. */
  readonly separator: Separator | null;
}

/** A further reading and how it divides a group. */
interface Separator {
  /** Its position among all readings. */
  readonly reading: number;
  /** Members it does not tell apart either, by the first of each. */
  readonly parts: readonly (readonly number[])[];
}

/**
 * Sorts circuits into groups that look alike, in the order of their first members, and finds for each group the further
 * reading that divides it into the most parts; of several the first.
 *
 * @param rows readings of each circuit by its position.
 * @param asked how many readings count for looking alike; those behind them may separate.
 * @param alike readings this close look the same (share of the larger).
 */
export function symptomGroups(rows: ReadonlyMap<number, Readings>, asked: number, alike: number): SymptomGroup[] {
  const positions = [...rows.keys()].sort((a, b) => a - b);
  const all = positions.map((position) => rows.get(position) ?? []);
  const firsts = firstAlike(
    all.map((values) => values.slice(0, asked)),
    alike,
  );
  const groups = together(firsts);
  return groups.map((group) => {
    const members = group.map((index) => positions[index] ?? 0);
    let separator: Separator | null = null;
    for (let reading = asked; group.length > 1 && reading < (all[0]?.length ?? 0); reading++) {
      const seen = group.map((index) => [all[index]?.[reading] ?? null]);
      const parts = together(firstAlike(seen, alike)).map((part) => part.map((index) => members[index] ?? 0));
      if (parts.length > (separator?.parts.length ?? 1)) separator = { reading, parts };
    }
    return { members, separator };
  });
}

/** One circuit and how well it fits what was seen. */
export interface SymptomFit {
  readonly position: number;
  /**
   * How far off its readings are: root of the mean square, each as a share of the larger value; 0 fits, 1 is hopeless. Where
   * 0 was read, as a share of what may still read as 0.
   */
  readonly off: number;
}

/**
 * What an instrument may show as 0, as a share of the largest value that the reading has in any of the circuits: a timing
 * capacitor at rest stands at some ten millivolts of a supply of ten volts. A judgement, no source.
 */
const NEXT_TO_NOTHING = 0.02;

/** A reading that is there where none was seen, or the other way round, is as far off as can be. */
const HOPELESS = 1;

/**
 * Ranks circuits by how well they fit what was seen, the best first.
 *
 * @param seen what was read, by position of the reading; null where there was no value.
 */
export function rankedFits(
  rows: ReadonlyMap<number, Readings>,
  seen: ReadonlyMap<number, number | null>,
): SymptomFit[] {
  const least = new Map(
    [...seen].map(([reading, read]) => {
      const sizes = read === 0 ? [...rows.values()].map((values) => Math.abs(values[reading] ?? 0)) : [];
      return [reading, NEXT_TO_NOTHING * sizes.reduce((most, size) => Math.max(most, size), 0)];
    }),
  );
  return [...rows]
    .map(([position, values]) => {
      const squares = [...seen].map(
        ([reading, read]) => deviation(values[reading] ?? null, read, least.get(reading) ?? 0) ** 2,
      );
      return { position, off: Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length) };
    })
    .sort((a, b) => a.off - b.off || a.position - b.position);
}

function deviation(value: number | null, read: number | null, least: number): number {
  if (value === null || read === null) return value === read ? 0 : HOPELESS;
  if (value === read) return 0;
  // Of a reading of 0 any other value would be off by as much as can be, and a millivolt as far as a volt.
  const size = read === 0 ? least : Math.max(Math.abs(value), Math.abs(read));
  return Math.min(HOPELESS, Math.abs(value - read) / size);
}

/** Positions with the same first one, in the order of the first ones. */
function together(firsts: readonly number[]): number[][] {
  const groups = new Map<number, number[]>();
  for (const [index, first] of firsts.entries()) {
    const group = groups.get(first);
    if (group === undefined) groups.set(first, [index]);
    else group.push(index);
  }
  return [...groups.values()];
}
