import type { Circuit } from '../src/circuit/description.ts';
import { standardDevices } from '../src/device/standard-devices.ts';
import { buildProgram } from '../src/engine/program.ts';
import { Stepper } from '../src/engine/stepper.ts';

/** What one event of a running circuit costs. */
export interface EventCost {
  /** Nanoseconds per stretch of time between events: settling at one instant is part of the event that caused it. */
  readonly perSegment: number;
  /** Nanoseconds per event handled, those without duration counted singly. */
  readonly perEvent: number;
}

const runs = 9;

/** The median warm cost of running a circuit for `segments` stretches of time, after a first run that compiles all. */
export function eventCost(circuit: Circuit, until: number): EventCost {
  const costs: EventCost[] = [];
  let counted = 0;
  const counter = { segment: (): void => void counted++ };
  const counting = new Stepper(buildProgram(circuit, standardDevices), [counter]);
  const outcome = counting.advance(until, { maxEvents: 1e9 });
  for (let run = 0; run < runs; run++) {
    const stepper = new Stepper(buildProgram(circuit, standardDevices), []);
    stepper.advance(until / 100, { maxEvents: 1e9 });
    const start = process.hrtime.bigint();
    const done = stepper.advance(until, { maxEvents: 1e9 });
    const nanoseconds = Number(process.hrtime.bigint() - start) / 0.99;
    if (done.events !== outcome.events) throw new Error('eventCost: two runs must be the same; they were not.');
    costs.push({ perSegment: nanoseconds / counted, perEvent: nanoseconds / outcome.events });
  }
  costs.sort((a, b) => a.perSegment - b.perSegment);
  return costs[(runs - 1) / 2]!;
}
