import type { MeasureContext } from '../measure/context.ts';
import { type Evaluation, evaluate, type Question, type StopSignal } from './evaluate.ts';
import { fatePattern, patternRegion } from './fate-pattern.ts';
import { ratioRegion, ratioSteps, type StepRange } from './ratio-steps.ts';
import type { NamedValues, Subject } from './subject.ts';

/** A question that also asks for what can only change in jumps. */
export interface ProbeQuestion extends Question {
  /** A timer whose pattern of fates is watched; none if left out. */
  readonly timer?: string | undefined;
}

/** One run of a subject: its readings, and what can only change in jumps. Plain data. */
export interface Probe extends Evaluation {
  /** For each reading that is a ratio, its steps from output to output; null for others and where there are none. */
  readonly steps: readonly StepRange[];
  /** What became of the pulses of the timer from start to start; null without a timer to watch, or without a run. */
  readonly fates: string | null;
}

/** Runs a subject once. @returns undefined when the signal stopped it. */
export function probe(
  subject: Subject,
  values: NamedValues,
  { timer, ...question }: ProbeQuestion,
  signal?: StopSignal,
): Probe | undefined {
  let watches: ReturnType<typeof watchesOf> | undefined;
  const evaluation = evaluate(subject, values, question, signal, (context) => {
    watches = watchesOf(question, timer, context);
    return [...watches.ratios, watches.pattern].filter((watch) => watch !== undefined);
  });
  if (evaluation === undefined) return undefined;
  const seen = evaluation.failed === null ? watches : undefined;
  return {
    ...evaluation,
    steps: question.readings.map((_, index) => seen?.ratios[index]?.result() ?? null),
    fates: seen?.pattern?.result() ?? null,
  };
}

/**
 * What tells two probes apart that differ by a jump: equal texts, no jump between them. Where a ratio or a pattern is not the
 * same from output to output, what it goes between is no jump: it would jump without end.
 */
export function jumpKey({ steps, fates, failed }: Probe): string {
  return JSON.stringify([steps.map(ratioRegion), patternRegion(fates), failed !== null]);
}

function watchesOf({ readings, window }: Question, timer: string | undefined, context: MeasureContext) {
  const facts = context.timers.find(({ name }) => name === timer);
  return {
    ratios: readings.map((reading) => (reading.name === 'ratio' ? ratioSteps(reading, context, window) : undefined)),
    pattern: facts === undefined ? undefined : fatePattern(facts, window),
  };
}
