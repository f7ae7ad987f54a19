import type { Circuit } from '../src/circuit/description.ts';
import { parseReading } from '../src/measure/parse-reading.ts';
import { highLevel, timersOf } from '../src/run/simulate.ts';
import { linearPoints } from '../src/study/axis.ts';
import { mapStudy } from '../src/study/map.ts';
import type { Subject } from '../src/study/subject.ts';
import { runStudy } from '../src/study/study.ts';
import { divider } from './circuits.ts';

/** Least number of input pulses of a run. */
const PULSES = 50;

/**
 * A map of the ratio of a divider over its resistor and the spacing of its pulses, at least 50 pulses a run; what it took, with and
 * without following the boundaries.
 */
export function ratioMap(size: number): string {
  const base = divider('ideal');
  let runs = 0;
  const subject: Subject = (values) => {
    runs++;
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
    runs = 0;
    // Time of the processor, not of the clock: this takes long enough for others to come between.
    const before = process.cpuUsage();
    runStudy(mapStudy({ ...plan, levels }, subject));
    const { user, system } = process.cpuUsage(before);
    const seconds = (user + system) / 1e6;
    return `${seconds.toFixed(1)} s of the processor, ${runs} runs, ${(runs / seconds).toFixed(0)} runs per second`;
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
