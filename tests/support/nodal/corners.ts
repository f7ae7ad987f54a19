import type { Wave } from '#sim/signal/wave.ts';
import type { Corner } from './model.ts';

/** A sine is this many straight lines a period, with corners on one that is larger by this (the user's documentation). */
const LINES = 84;
const REACH = Math.sqrt(3 / (2 + Math.cos((2 * Math.PI) / LINES)));

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
    case 'sine': {
      const { frequency, amplitude, offset, phase } = wave;
      const height = (k: number): number => offset + amplitude * REACH * Math.sin((2 * Math.PI * k) / LINES);
      const first = (phase / (2 * Math.PI)) * LINES;
      const corners: Corner[] = [];
      for (let k = Math.floor(first); (k - first) / (LINES * frequency) <= until; k++) {
        const at = (k - first) / (LINES * frequency);
        const slope = (height(k + 1) - height(k)) * LINES * frequency;
        corners.push(at < 0 ? { at: 0, level: height(k) - slope * at, slope } : { at, level: height(k), slope });
      }
      return corners;
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
