import type { Wave } from '../signal/wave.ts';
import { waveRange } from '../signal/wave-range.ts';
import type { Circuit, Part } from './description.ts';
import { GROUND } from './names.ts';
import type { SupplyChange } from './schedule-fields.ts';

/** Least and greatest voltage (V). */
export interface VoltageRange {
  readonly low: number;
  readonly high: number;
}

/** What a supply or signal makes at its poles without load, over all time; `undefined` for any other part. */
function sourceVoltage(part: Part): VoltageRange | undefined {
  if (part.kind === 'signal') return waveRange(part.values.wave as Wave);
  if (part.kind !== 'supply') return undefined;
  const changes = part.values.changes as readonly SupplyChange[];
  const first = part.values.voltage as number;
  return changes.reduce(
    ({ low, high }, { voltage }) => ({ low: Math.min(low, voltage), high: Math.max(high, voltage) }),
    { low: first, high: first },
  );
}

/**
 * Voltage against `ground` of every net that is joined to it through nothing but supplies and signals, without load.
 * Other nets are absent: their voltage depends on what flows.
 */
export function sourceVoltages(circuit: Circuit): ReadonlyMap<string, VoltageRange> {
  const sources = circuit.parts.flatMap((part) => {
    const range = sourceVoltage(part);
    const { plus, minus } = part.nets;
    return range === undefined || plus === undefined || minus === undefined ? [] : [{ plus, minus, ...range }];
  });
  const voltages = new Map<string, VoltageRange>([[GROUND, { low: 0, high: 0 }]]);
  for (const [net, { low, high }] of voltages) {
    for (const source of sources) {
      if (source.minus === net && !voltages.has(source.plus)) {
        voltages.set(source.plus, { low: low + source.low, high: high + source.high });
      } else if (source.plus === net && !voltages.has(source.minus)) {
        voltages.set(source.minus, { low: low - source.high, high: high - source.low });
      }
    }
  }
  return voltages;
}

/** The greatest voltage between any two of those nets (V): no resistor or capacitor sees more unless capacitors pump. */
export function greatestVoltage(circuit: Circuit): number {
  const ranges = [...sourceVoltages(circuit).values()];
  return Math.max(...ranges.map(({ high }) => high)) - Math.min(...ranges.map(({ low }) => low));
}
