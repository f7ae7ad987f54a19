import type { Circuit } from '../src/circuit/description.ts';
import { parseReading } from '../src/measure/parse-reading.ts';
import { highLevel, timersOf } from '../src/run/simulate.ts';
import { linearPoints } from '../src/study/axis.ts';
import { mapStudy } from '../src/study/map.ts';
import type { Subject } from '../src/study/subject.ts';
import { runStudy } from '../src/study/study.ts';
import { spreadStudy } from '../src/study/spread.ts';
import { divider } from './circuits.ts';
import { expCost } from './exp-cost.ts';

/** Least number of input pulses of a run. */
const PULSES = 50;
/** What 10 000 samples of a monostable may take (s). */
const GOAL = 1;

/**
 * A map of the ratio of a divider over its resistor and the spacing of its pulses, at least 50 pulses a run; what it took, with and
 * without following the boundaries.
 */
export function ratioMap(size: number): string {
  const base = divider('ideal');
  const subject: Subject = (values) => {
    const circuit = withValues(base, values.get('R1') ?? NaN, values.get('period') ?? NaN);
    return { ok: true, context: { circuit, timers: timersOf(circuit), highLevel: highLevel(circuit) } };
  };
  const plan = {
    x: { name: 'R1', unit: 'Ω', points: linearPoints(10e3, 100e3, size - 1), scale: 'linear' },
    y: { name: 'period', unit: 's', points: linearPoints(1e-3, 2e-3, size - 1), scale: 'linear' },
    readings: [parseReading('ratio(out, in)')],
    window: { from: 0, until: PULSES * 2e-3 },
    maxEvents: 1e6,
  } as const;
  const told = (levels: readonly number[] | undefined): string => {
    // Once in full so that all is compiled, then the least of a few: what else a machine does makes it dearer, never cheaper.
    const seconds = Math.min(
      ...Array.from({ length: 5 }, () => {
        const before = process.cpuUsage();
        runStudy(mapStudy({ ...plan, levels }, subject));
        const { user, system } = process.cpuUsage(before);
        return (user + system) / 1e6;
      }),
    );
    return `${seconds.toFixed(3)} s of the processor`;
  };
  return `${size} x ${size} points, ${PULSES} to ${2 * PULSES} pulses each: values alone ${told([])}; with boundaries ${told(undefined)}`;
}

function withValues(circuit: Circuit, resistance: number, period: number): Circuit {
  const parts = circuit.parts.map((part) => {
    if (part.name === 'R1') return { ...part, values: { ...part.values, resistance } };
    const wave = part.values['wave'] as object | undefined;
    return part.name === 'G1' ? { ...part, values: { ...part.values, wave: { ...wave, period } } } : part;
  });
  return { ...circuit, parts };
}

/**
 * A spread of the width of a monostable over its resistor and capacitor, one interval a run: what a sample costs, as calls
 * of `Math.exp` measured in turn with it, and how long 10 000 of them take.
 */
export function monostableSpread(family: string, samples: number): string {
  const base = divider(family);
  const subject: Subject = (values) => {
    const parts = base.parts.map((part) => {
      const resistance = part.name === 'R1' ? values.get('R1') : undefined;
      const capacitance = part.name === 'C1' ? values.get('C1') : undefined;
      if (resistance !== undefined) return { ...part, values: { ...part.values, resistance } };
      return capacitance === undefined ? part : { ...part, values: { ...part.values, capacitance } };
    });
    const circuit = { ...base, parts };
    return { ok: true, context: { circuit, timers: timersOf(circuit), highLevel: highLevel(circuit) } };
  };
  const range = { reciprocal: false };
  const plan = {
    quantities: [
      { name: 'R1', unit: 'Ω', nominal: 22e3, from: 20.9e3, to: 23.1e3, ...range },
      { name: 'C1', unit: 'F', nominal: 1e-7, from: 0.8e-7, to: 1.2e-7, ...range },
    ],
    law: 'uniform',
    samples,
    seed: 1,
    readings: [parseReading('width(out)')],
    // By now the longest interval that the tolerances allow, 3.05 ms, is over (R C ln 3, times 1.05 and 1.2).
    window: { from: 0, until: 3.1e-3 },
    maxEvents: 1e6,
  } as const;
  const study = spreadStudy(plan, subject);
  let all = 0;
  const costs: number[] = [];
  const exps: number[] = [];
  for (let index = 0; index < study.jobCount; index++) {
    exps.push(expCost());
    const before = process.cpuUsage();
    const job = study.run(index);
    const { user, system } = process.cpuUsage(before);
    if (job?.what !== 'samples') continue;
    all += (user + system) / 1e6;
    costs.push(((user + system) * 1e3) / job.runs.length);
  }
  // What else a machine does makes samples dearer, never cheaper; the clock of processors is coarse, so the median counts.
  const [cost, exp] = [costs, exps].map((each) => each.toSorted((a, b) => a - b)[each.length >> 1]!) as [
    number,
    number,
  ];
  const goal = all <= GOAL ? 'reached' : 'NOT reached';
  return (
    `${samples} samples called from this process, which compiles code on the way: ${all.toFixed(2)} s of the processors, ` +
    `goal ${GOAL} s: ${goal}; once all is compiled ${(cost / 1e6).toFixed(3)} ms a sample = ${Math.round(cost / exp)} x Math.exp`
  );
}
