import { REACH } from './chords.ts';
import type { Wave } from './wave.ts';

/** The least and the greatest value a wave ever takes, in the wave's unit. */
export function waveRange(wave: Wave): { readonly low: number; readonly high: number } {
  switch (wave.shape) {
    case 'constant':
      return { low: wave.level, high: wave.level };
    case 'pulses':
      return { low: Math.min(wave.rest, wave.pulse), high: Math.max(wave.rest, wave.pulse) };
    case 'square':
      return { low: Math.min(wave.low, wave.high), high: Math.max(wave.low, wave.high) };
    case 'sine': {
      const reach = REACH * wave.amplitude;
      return { low: wave.offset - reach, high: wave.offset + reach };
    }
    case 'points': {
      // No spread into Math.min: a list may be longer than a call takes arguments.
      const values = wave.points.map(([, value]) => value);
      const low = values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
      const high = values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
      return { low, high };
    }
  }
}
