import type { MeasureContext, Window } from '../measure/context.ts';
import { edgeFeed } from '../measure/edge-feed.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import { evaluate, type Question, type StopSignal } from './evaluate.ts';
import type { NamedValues, Subject } from './subject.ts';

/** Steps compared. */
const MOST_STEPS = 200;
/** How many times as long as its window a run may go on to make as many. */
const GOES_ON = 20;
/** By which share of itself a value is changed: less than any part keeps for an hour. */
const CHANGE = 1e-6;

/** Whether the steps of an uneven ratio can be foretold: its run beside one in which one value is a millionth larger. */
export interface StepOrder {
  /** Steps compared, from the first output on. */
  readonly compared: number;
  /** The first step, counted from 1, that is another one there; null where all are the same. */
  readonly partsAt: number | null;
}

/**
 * Runs a circuit twice, the second time with one value a millionth larger, and compares the steps of a ratio one by one. Where
 * every interval begins with what the one before has left, a difference grows from output to output until a step is another
 * one: then nobody who builds the circuit can know its order of steps beforehand.
 *
 * @param name the value that is changed.
 * @returns undefined when stopped.
 */
export function stepOrder(
  subject: Subject,
  values: NamedValues,
  name: string,
  question: Question,
  signal: StopSignal | undefined,
): StepOrder | undefined {
  const changed = new Map(values).set(name, (values.get(name) ?? NaN) * (1 + CHANGE));
  const [steps, others] = [values, changed].map((each) => stepsOf(subject, each, question, signal));
  if (steps === undefined || others === undefined || signal?.aborted === true) return undefined;
  const compared = Math.min(steps.length, others.length);
  const parting = steps.slice(0, compared).findIndex((step, index) => step !== others[index]);
  return { compared, partsAt: parting < 0 ? null : parting + 1 };
}

/** Input edges from output edge to output edge, in their order, at most {@link MOST_STEPS}. */
function stepsOf(
  subject: Subject,
  values: NamedValues,
  { readings, window, maxEvents }: Question,
  signal: StopSignal | undefined,
): number[] {
  const [ratio] = readings;
  const steps: number[] = [];
  if (ratio === undefined) return steps;
  const until = window.from + GOES_ON * (window.until - window.from);
  const longer = { from: window.from, until };
  // What is enough ends the run, too.
  const enough = {
    get aborted() {
      return signal?.aborted === true || steps.length >= MOST_STEPS;
    },
  };
  evaluate(subject, values, { readings: [], window: longer, maxEvents }, enough, (context) => [
    stepFeed(ratio, context, longer, (step) => {
      if (steps.length < MOST_STEPS) steps.push(step);
    }),
  ]);
  return steps;
}

function stepFeed(ratio: ParsedReading, { highLevel }: MeasureContext, window: Window, tell: (step: number) => void) {
  const [out = '', input = ''] = ratio.nets;
  const [outByRise, inByRise] = [ratio.edges[0] !== 'fall', (ratio.edges[1] ?? ratio.edges[0]) !== 'fall'];
  const level = ratio.limit ?? highLevel;
  let ins: number | undefined;
  // The input comes first: where both fall together, its edge belongs to the step before.
  return edgeFeed(
    [input, out].map((net) => ({ net, level })),
    window,
    ({ which, high }) => {
      if (which === 0 && high === inByRise && ins !== undefined) ins++;
      if (which === 0 || high !== outByRise) return;
      if (ins !== undefined) tell(ins);
      ins = 0;
    },
  );
}
