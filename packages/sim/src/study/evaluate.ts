import type { GraphStore } from '../engine/graph-store.ts';
import type { Outcome } from '../engine/outcome.ts';
import type { MeasureContext, ReadingValue, Window } from '../measure/context.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import { readingObserver } from '../measure/reading-observer.ts';
import type { Unit } from '../quantity/index.ts';
import { runCircuit } from '../run/simulate.ts';
import type { Observer } from '../trace/observer.ts';
import type { NamedValues, Subject } from './subject.ts';

/** Looked at now and then by long work: once `aborted` is true it ends as soon as it can. An `AbortSignal` is one. */
export interface StopSignal {
  readonly aborted: boolean;
}

/** What one evaluation of a subject is asked. */
export interface Question {
  /** Readings to take; their names are those of the circuit. */
  readonly readings: readonly ParsedReading[];
  /** The window that counts (s); the run ends at its end. */
  readonly window: Window;
  /** Events one run may have. */
  readonly maxEvents: number;
  /** Whether parts beyond their limits make `fault` events for whoever watches; not, if left out. */
  readonly faults?: boolean | undefined;
  /** Graphs kept from evaluation to evaluation. */
  readonly graphs?: GraphStore | undefined;
}

/** One number a run gave, or none and why. Plain data. */
interface Measured {
  /** SI units; null where there is no value. */
  readonly value: number | null;
  /** Why there is none; only then. */
  readonly reason?: string;
}

/** What one run of a subject gave. */
export interface Evaluation {
  /** One for each reading of the question, in its order. */
  readonly measured: readonly Measured[];
  /** Unit of each reading, null for counts and ratios, and for all where there was no circuit to run. */
  readonly units: readonly (Unit | null)[];
  /** Why there was no run, or none to its end; null where there was. */
  readonly failed: string | null;
}

/**
 * Runs the circuit that a subject makes of some values and takes the readings. A run that ends before its time gives no
 * values, only its reason: what it has seen by then would not compare with other runs.
 *
 * @param watch further observers of the run, made for its circuit.
 * @returns undefined when the signal stopped it.
 */
export function evaluate(
  subject: Subject,
  values: NamedValues,
  question: Question,
  signal?: StopSignal,
  watch: (context: MeasureContext) => readonly Observer[] = () => [],
): Evaluation | undefined {
  if (signal?.aborted === true) return undefined;
  const { readings, window, maxEvents, faults } = question;
  const built = subject(values);
  if (!built.ok) return without(question, built.reason);
  const { context } = built;
  const observers = readings.map((reading) => readingObserver(reading, context, window));
  const outcome = runCircuit(context.circuit, {
    until: window.until,
    observers: [...observers, ...watch(context)],
    maxEvents,
    faults,
    signal,
    graphs: question.graphs,
  });
  if (outcome.code === 'stopped') return undefined;
  if (!outcome.ok) return without(question, reasonOf(outcome));
  const outcomes = observers.map((observer) => observer.result());
  return {
    measured: outcomes.map(({ value, reason }) => measuredOf(value, reason)),
    units: outcomes.map(({ unit }) => unit),
    failed: null,
  };
}

function without({ readings }: Question, reason: string): Evaluation {
  return {
    measured: readings.map(() => ({ value: null, reason })),
    units: readings.map(() => null),
    failed: reason,
  };
}

function reasonOf(outcome: Outcome): string {
  return outcome.message ?? 'the run ended before its time';
}

function measuredOf(value: ReadingValue, reason: string | undefined): Measured {
  if (typeof value === 'number') return { value };
  // Whoever plans a study refuses readings that give lists, so a value that is no number is none at all.
  return { value: null, reason: reason ?? 'the reading gives a list' };
}
