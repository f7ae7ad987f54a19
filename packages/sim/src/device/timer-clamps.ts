import type { DeviceHost } from './contract.ts';
import { oneWay } from './pieces.ts';
import type { LimitedPins } from './timer-limits.ts';
import type { TimerParameters } from './timer-parameters.ts';

/**
 * The junctions that lead from the ground pin into each input and from each input to the supply pin. They conduct when an
 * input is driven past a rail, or when the supply goes away under an input that is still charged. Every input has its own
 * pair, also where inputs share a net; the one from TRIGGER to the supply has a drop of its own. Equal junctions side by
 * side are one with as many times the conductance.
 */
export function buildClamps(part: string, host: DeviceHost, p: TimerParameters, pins: LimitedPins): void {
  const { supply, ground, trigger, threshold, control, reset } = pins;
  const junctions = new Map<string, { a: number; b: number; drop: number; count: number }>();
  const add = (a: number, b: number, drop: number): void => {
    if (!Number.isFinite(drop)) return;
    const name = [a, b, drop].join(' ');
    const junction = junctions.get(name) ?? { a, b, drop, count: 0 };
    junction.count++;
    junctions.set(name, junction);
  };
  for (const [input, drop] of [
    [threshold, p.clampDrop],
    [control, p.clampDrop],
    [reset, p.clampDrop],
    [trigger, p.triggerClampDrop],
  ] as const) {
    if (input === undefined || input === supply || input === ground) continue;
    add(ground, input, p.clampDrop);
    add(input, supply, drop);
  }
  for (const { a, b, drop, count } of junctions.values()) {
    host.branch({ part, a, b, pieces: oneWay(0, drop, p.clampResistance / count), start: 0 });
  }
}
