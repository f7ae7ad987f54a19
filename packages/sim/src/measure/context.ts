import type { Circuit } from '../circuit/description.ts';
import type { Unit } from '../quantity/index.ts';
import type { Observer } from '../trace/observer.ts';
import type { EdgeRow } from './rows.ts';

/** Facts about one timer of a circuit: the nets of its pins, internal ones included, and what decides on its pulses. */
export interface TimerFacts {
  readonly name: string;
  readonly trigger: string;
  readonly threshold: string;
  readonly output: string;
  /** Upper reference. */
  readonly control: string;
  /** The tap that is the trigger reference. */
  readonly lower: string;
  readonly reset?: string;
  readonly discharge?: string;
  readonly supply: string;
  readonly ground: string;
  /** State of the latch when the run begins. */
  readonly start: 'cleared' | 'set';
  /** From comparator to output (s). */
  readonly delay: number;
  /** Shortest time low that acts (s). */
  readonly minimumTrigger: number;
  /** RESET below this forces low (V). */
  readonly resetLevel: number;
}

/** What a reading needs to know about the circuit it reads. */
export interface MeasureContext {
  readonly circuit: Circuit;
  readonly timers: readonly TimerFacts[];
  /** A net counts as high above this (V) unless the reading gives a limit. */
  readonly highLevel: number;
}

/**
 * The part of a run that counts (s): `from` belongs to it, `until` does not, so that windows laid end to end count
 * everything once.
 */
export interface Window {
  readonly from: number;
  readonly until: number;
}

/** Values in SI units; null where there is none. */
export type ReadingValue = number | readonly number[] | readonly EdgeRow[] | null;

/** What a reading gave. */
export interface ReadingOutcome {
  readonly value: ReadingValue;
  /** Why there is no value; with a list, that it was cut. */
  readonly reason?: string;
  /** `share` for plain numbers between 0 and 1, null for counts, ratios and lists of edges. */
  readonly unit: Unit | null;
}

/** Watches a run and then has a reading; ask for the result after `end`. */
export type ReadingObserver = Observer & { result(): ReadingOutcome };
