/** Longer words are not compared: nobody mistypes a name that long, and the comparison takes length squared. */
const LONGEST = 40;

/**
 * The name in `names` that `word` was most likely meant to be, or `undefined` if none is near: at most one slip in
 * four letters, where a slip is a letter left out, put in, exchanged, or two neighbours swapped. Capital and small
 * letters count as equal. Among equally near names the first wins.
 */
export function nearestName(word: string, names: Iterable<string>): string | undefined {
  if (word.length > LONGEST) return undefined;
  let nearest: string | undefined;
  let fewest = Math.max(1, Math.floor(word.length / 4)) + 1;
  for (const name of names) {
    if (name === word || name.length > LONGEST) continue;
    const slips = slipsBetween(word.toLowerCase(), name.toLowerCase());
    // With one letter or two, a single slip already makes another name altogether.
    if (slips < fewest && slips < Math.max(word.length, name.length) / 2) {
      fewest = slips;
      nearest = name;
    }
  }
  return nearest;
}

/** Fewest single-letter slips (neighbours swapped count as one) that make `from` into `to`. */
function slipsBetween(from: string, to: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const same = from[row - 1] === to[column - 1];
      let least = Math.min(at(last, column - 1) + (same ? 0 : 1), at(last, column) + 1, at(current, column - 1) + 1);
      const swapped = row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (swapped) least = Math.min(least, at(beforeLast, column - 2) + 1);
      current.push(least);
    }
    beforeLast = last;
    last = current;
  }
  return at(last, to.length);
}

function at(row: readonly number[], index: number): number {
  return row[index] ?? Number.POSITIVE_INFINITY;
}
