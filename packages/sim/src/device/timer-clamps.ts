import type { DeviceHost } from './contract.ts';
import { oneWay } from './pieces.ts';
import type { LimitedPins } from './timer-limits.ts';
import type { TimerParameters } from './timer-parameters.ts';

/**
 * The junctions that lead from the ground pin into each input and from each input to the supply pin. They conduct when an
 * input is driven past a rail, or when the supply goes away under an input that is still charged.
 */
export function buildClamps(part: string, host: DeviceHost, p: TimerParameters, pins: LimitedPins): void {
  const clamp = (a: number, b: number, drop: number): void => {
    if (!Number.isFinite(drop)) return;
    host.branch({ part, a, b, pieces: oneWay(0, drop, p.clampResistance), start: 0 });
  };
  const { supply, ground, trigger, threshold, control, reset } = pins;
  // TRIGGER last: on a net with another input, its junctions are those of that input.
  const inputs = new Set([threshold, control, ...(reset === undefined ? [] : [reset]), trigger]);
  for (const input of inputs) {
    if (input === supply || input === ground) continue;
    clamp(ground, input, p.clampDrop);
    const shared = input === threshold || input === control || input === reset;
    clamp(input, supply, shared ? p.clampDrop : p.triggerClampDrop);
  }
}
