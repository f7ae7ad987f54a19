import type { Wave } from '#sim/signal/wave.ts';
import type { Corner } from './model.ts';

/** The corners of a wave up to a time (s), as the wave's documentation has them. */
export function cornersOf(wave: Wave, until: number): Corner[] {
  switch (wave.shape) {
    case 'constant':
      return [{ at: 0, level: wave.level, slope: 0 }];
    case 'pulses': {
      const { period, width, rest, pulse, delay, count } = wave;
      const steps: Corner[] = [];
      for (let k = 0; k < count && delay + k * period <= until; k++) {
        const at = delay + k * period;
        steps.push({ at, level: pulse, slope: 0 }, { at: at + width, level: rest, slope: 0 });
      }
      return fromStart(rest, steps);
    }
    case 'square': {
      const { frequency, duty, high, low, delay } = wave;
      const steps: Corner[] = [];
      for (let k = 0; delay + k / frequency <= until; k++) {
        const at = delay + k / frequency;
        steps.push({ at, level: high, slope: 0 }, { at: at + duty / frequency, level: low, slope: 0 });
      }
      return fromStart(low, steps);
    }
    case 'points':
      return fromStart(wave.points[0]![1], pointCorners(wave.points, wave.between === 'lines'));
  }
}

function pointCorners(points: readonly (readonly [number, number])[], lines: boolean): Corner[] {
  return points.map(([at, level], k) => {
    const next = points[k + 1];
    const slope = lines && next !== undefined && next[0] > at ? (next[1] - level) / (next[0] - at) : 0;
    return { at, level, slope };
  });
}

/** Puts what holds at first in front; of several corners at one time the last one counts. */
function fromStart(level: number, steps: readonly Corner[]): Corner[] {
  const all = [{ at: 0, level, slope: 0 }, ...steps];
  return all.filter(({ at }, k) => all[k + 1]?.at !== at);
}

/** The corners of a supply that starts at `voltage` (V) and changes as listed. */
export function supplyCorners(
  voltage: number,
  changes: readonly { readonly at: number; readonly voltage: number; readonly over: number }[],
): Corner[] {
  let level = voltage;
  const steps = changes.flatMap(({ at, voltage: to, over }): Corner[] => {
    const from = level;
    level = to;
    if (over === 0) return [{ at, level: to, slope: 0 }];
    return [
      { at, level: from, slope: (to - from) / over },
      { at: at + over, level: to, slope: 0 },
    ];
  });
  return fromStart(voltage, steps);
}
