import type { Circuit } from '../src/circuit/description.ts';
import { standardDevices } from '../src/device/standard-devices.ts';
import { buildProgram } from '../src/engine/program.ts';
import { Driver } from '../src/engine/driver.ts';
import { expCost } from './exp-cost.ts';

/** What one event of a running circuit costs. */
export interface EventCost {
  /** Nanoseconds per event handled, those without duration counted singly: the least of all samples. */
  readonly perEvent: number;
  /** The same per stretch of time between events: settling at one instant is part of the event that caused it. */
  readonly perStretch: number;
  /** Cost per event in calls of `Math.exp` that were measured in turn with it: least by least, and median by median. */
  readonly ratio: number;
  readonly medianRatio: number;
}

/** Samples of one run, and runs: each run compiles its modes anew, and the first sample of each does not count. */
const SAMPLES = 250;
const RUNS = 4;

/**
 * The warm cost of running a circuit for `until` seconds of its time. A sample takes about a millisecond, in turn with one
 * of `Math.exp`: what else a machine does makes samples dearer, never cheaper, so the least ones are compared.
 */
export function eventCost(circuit: Circuit, until: number): EventCost {
  let stretches = 0;
  const counting = new Driver(buildProgram(circuit, standardDevices), [{ segment: (): void => void stretches++ }]);
  const { events } = counting.advance(until / SAMPLES, { maxEvents: 1e9 });
  const costs: number[] = [];
  const exps: number[] = [];
  for (let run = 0; run < RUNS; run++) {
    const driver = new Driver(buildProgram(circuit, standardDevices), []);
    let before = driver.advance(until / SAMPLES, { maxEvents: 1e9 }).events;
    if (before !== events) throw new Error('eventCost: two runs must be the same; they were not.');
    for (let sample = 2; sample <= SAMPLES; sample++) {
      exps.push(expCost());
      const start = process.hrtime.bigint();
      const after = driver.advance((until * sample) / SAMPLES, { maxEvents: 1e9 }).events;
      costs.push(Number(process.hrtime.bigint() - start) / (after - before));
      before = after;
    }
  }
  const perEvent = Math.min(...costs);
  return {
    perEvent,
    perStretch: (perEvent * events) / stretches,
    ratio: perEvent / Math.min(...exps),
    medianRatio: median(costs) / median(exps),
  };
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
