import { NumberMemory } from '../core/number-memory.ts';
import { subtractTwoPart, type TwoPart } from '../core/two-part.ts';
import { NEVER } from './agenda-standing.ts';

/**
 * When each of some lines, things that happen at known times, comes next: seconds in two parts, counted from an anchor that
 * moves. In plain numbers, since every event of a run changes some of them.
 */
export class DueLines {
  /** The line that comes first, of lines of one time the first, and when (s); Infinity where none comes. */
  first = 0;
  firstHigh = Infinity;
  firstLow = 0;
  private readonly highs: Float64Array;
  private readonly lows: Float64Array;

  /**
   * @param count how many lines there are.
   * @param live those that ever come, ascending.
   * @param memory where it has its rows.
   */
  constructor(
    count: number,
    private readonly live: readonly number[],
    memory = new NumberMemory(),
  ) {
    this.highs = memory.row(count);
    for (let line = 0; line < count; line++) this.highs[line] = Infinity;
    this.lows = memory.row(count);
  }

  /** When a line comes. */
  at(line: number): TwoPart {
    const high = this.highs[line]!;
    return high === Infinity ? NEVER : { high, low: this.lows[line]! };
  }

  /** Has a line come at another time; which one is first is not known until it is picked. */
  set(line: number, { high, low }: TwoPart): void {
    this.highs[line] = high;
    this.lows[line] = low;
  }

  /** Moves the anchor to where the first line is. */
  moveToFirst(): void {
    const { highs, lows, live } = this;
    const due = { high: this.firstHigh, low: this.firstLow };
    for (let i = 0; i < live.length; i++) {
      const line = live[i]!;
      if (highs[line] === Infinity) continue;
      const left = subtractTwoPart({ high: highs[line]!, low: lows[line]! }, due);
      highs[line] = left.high;
      lows[line] = left.low;
    }
  }

  /** Finds the line that comes first. */
  pickFirst(): void {
    const { highs, lows, live } = this;
    let first = live[0] ?? 0;
    for (let i = 1; i < live.length; i++) {
      const line = live[i]!;
      if (highs[line]! > highs[first]!) continue;
      if (highs[line]! < highs[first]! || lows[line]! < lows[first]!) first = line;
    }
    this.first = first;
    this.firstHigh = live.length > 0 ? highs[first]! : Infinity;
    this.firstLow = live.length > 0 ? lows[first]! : 0;
  }
}
