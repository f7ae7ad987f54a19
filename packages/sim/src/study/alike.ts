/** Values of the same readings, one after the other; null where there is none. */
export type Readings = readonly (number | null)[];

/** Whether nobody could tell two sets of readings apart: each within a share of the larger of the two, or neither there. */
export function areAlike(a: Readings, b: Readings, share: number): boolean {
  return a.every((value, index) => {
    const other = b[index] ?? null;
    if (value === null || other === null) return value === other;
    return Math.abs(value - other) <= share * Math.max(Math.abs(value), Math.abs(other));
  });
}

/**
 * Sorts sets of readings into those that nobody could tell from the first of them: for each set the position of the first
 * one it is alike to, its own where there is none before it. A set between two others belongs to the earlier one.
 *
 * @param share how far readings may be apart, as a share of the larger; more than 0, less than 1.
 */
export function firstAlike(sets: readonly Readings[], share: number): number[] {
  // Sets are only compared where one reading, the one that sorts them best, puts them into the same or the next drawer.
  const width = -Math.log1p(-share);
  const drawers = (column: number): string[] => sets.map((set) => drawerOf(set[column] ?? null, width, 0));
  const columns = Math.max(0, ...sets.map(({ length }) => length));
  let best = 0;
  let most = 0;
  for (let column = 0; column < columns; column++) {
    const { size } = new Set(drawers(column));
    if (size > most) [best, most] = [column, size];
  }
  const firsts = new Map<string, number[]>();
  return sets.map((set, index) => {
    const value = set[best] ?? null;
    const near = [-1, 0, 1].flatMap((step) => firsts.get(drawerOf(value, width, step)) ?? []);
    const found = near
      .filter((first) => areAlike(set, sets[first] ?? [], share))
      .reduce((a, b) => Math.min(a, b), index);
    if (found === index) {
      const drawer = drawerOf(value, width, 0);
      const inside = firsts.get(drawer);
      if (inside === undefined) firsts.set(drawer, [index]);
      else inside.push(index);
    }
    return found;
  });
}

function drawerOf(value: number | null, width: number, step: number): string {
  if (value === null || value === 0) return step === 0 ? String(value) : '';
  return `${Math.sign(value)} ${Math.floor(Math.log(Math.abs(value)) / width) + step}`;
}
