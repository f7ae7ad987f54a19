import type { Circuit, Part } from '#sim/circuit/description.ts';
import type { TimerParameters } from '#sim/device/families.ts';
import type { Wave } from '#sim/signal/wave.ts';

/** Factors for the quantities of a circuit. Volts always stay. */
export interface Factors {
  readonly resistance: number;
  readonly capacitance: number;
  readonly current: number;
  readonly time: number;
}

type Dimension = keyof Factors;

const partFields: Readonly<Record<string, Dimension>> = {
  resistance: 'resistance',
  end: 'resistance',
  slope: 'resistance',
  leakage: 'resistance',
  series: 'resistance',
  earth: 'resistance',
  capacitance: 'capacitance',
  coupling: 'capacitance',
  stray: 'capacitance',
  limit: 'current',
  current: 'current',
  drive: 'current',
  pullIn: 'current',
  dropOut: 'current',
  contactResistance: 'resistance',
  insulation: 'resistance',
  operateTime: 'time',
  releaseTime: 'time',
  longest: 'time',
};

const timerFields: Readonly<Partial<Record<keyof TimerParameters, Dimension>>> = {
  dividerResistance: 'resistance',
  outputHighResistance: 'resistance',
  outputLowResistance: 'resistance',
  dischargeResistance: 'resistance',
  clampResistance: 'resistance',
  thresholdCurrent: 'current',
  triggerCurrent: 'current',
  resetCurrent: 'current',
  dischargeCurrent: 'current',
  dischargeLeakage: 'current',
  supplyCurrentHigh: 'current',
  supplyCurrentLow: 'current',
  delay: 'time',
  minimumTrigger: 'time',
  transitionTime: 'time',
};

/** A checked circuit with all its resistances, capacitances, currents and times multiplied. */
export function scaled(circuit: Circuit, factors: Factors): Circuit {
  return { ...circuit, parts: circuit.parts.map((part) => scaledPart(part, factors)) };
}

function scaledPart(part: Part, factors: Factors): Part {
  const values: Record<string, unknown> = { ...part.values };
  for (const [name, value] of Object.entries(values)) {
    const dimension = partFields[name];
    if (dimension !== undefined && typeof value === 'number') values[name] = value * factors[dimension];
    // A finger's hum.
    if (name === 'frequency') values[name] = (value as number) / factors.time;
    if (name === 'wave') values[name] = slowed(value as Wave, factors.time);
    if (name === 'presses' || name === 'touches' || name === 'changes') {
      values[name] = (value as Record<string, number>[]).map((entry) => slowedEntry(entry, factors.time));
    }
    if (name === 'bounce' && value !== undefined)
      values[name] = slowedEntry(value as Record<string, number>, factors.time);
    if (name === 'parameters') values[name] = scaledParameters(value as TimerParameters, factors);
  }
  return { ...part, values };
}

function slowedEntry(entry: Readonly<Record<string, number>>, time: number): Record<string, number> {
  const times = ['at', 'for', 'over'];
  return Object.fromEntries(
    Object.entries(entry).map(([key, value]) => [key, times.includes(key) ? value * time : value]),
  );
}

function scaledParameters(parameters: TimerParameters, factors: Factors): TimerParameters {
  const changed = Object.entries(timerFields).map(([name, dimension]) => [
    name,
    parameters[name as 'delay'] * factors[dimension],
  ]);
  const transitionCharge = parameters.transitionCharge * factors.current * factors.time;
  return { ...parameters, ...(Object.fromEntries(changed) as Partial<TimerParameters>), transitionCharge };
}

function slowed(wave: Wave, time: number): Wave {
  switch (wave.shape) {
    case 'constant':
      return wave;
    case 'pulses':
      return { ...wave, period: wave.period * time, width: wave.width * time, delay: wave.delay * time };
    case 'square':
      return { ...wave, frequency: wave.frequency / time, delay: wave.delay * time };
    case 'sine':
      return { ...wave, frequency: wave.frequency / time };
    case 'points':
      return { ...wave, points: wave.points.map(([at, value]) => [at * time, value] as const) };
  }
}
