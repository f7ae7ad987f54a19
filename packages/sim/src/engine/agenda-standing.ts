import { subtractTwoPart, type TwoPart } from '../core/two-part.ts';

/** In place of the time of what never comes. */
export const NEVER: TwoPart = { high: Infinity, low: 0 };

/** A time in two parts (s), as a pair. */
type Pair = readonly [high: number, low: number];
/** The same, or null for never. */
type PairOrNever = Pair | null;

/** An event that a reactor has scheduled. */
export interface Due {
  /** When, counted from the anchor (s). */
  time: TwoPart;
  readonly event: number;
}

/** Where an agenda stands, as plain data; times count from the anchor. */
export interface AgendaStanding {
  readonly anchor: Pair;
  readonly clock: Pair;
  /** Corners passed by each input, and when its next one comes. */
  readonly marks: readonly number[];
  readonly corners: readonly PairOrNever[];
  /** Entries passed of each timetable, and when the next one comes. */
  readonly timetables: readonly number[];
  readonly entries: readonly PairOrNever[];
  /** Events waiting in each slot: time in two parts, and event. */
  readonly slots: readonly (readonly (readonly [high: number, low: number, event: number])[])[];
}

/** A time as plain data. */
export function pairOf({ high, low }: TwoPart): PairOrNever {
  return high === Infinity ? null : [high, low];
}

/** The time that plain data stands for. */
export function timeOf(pair: PairOrNever): TwoPart {
  return pair ? { high: pair[0], low: pair[1] } : NEVER;
}

/** a - b; never, where a is. */
export function difference(a: TwoPart, b: TwoPart): TwoPart {
  return a.high === Infinity ? a : subtractTwoPart(a, b);
}
