import type { Wave } from './wave.ts';

/** A wave that goes to and fro between two levels in equal periods: stretch k begins at `delay + k period` (s). */
export interface Beat {
  /** Before the first stretch and between stretches. */
  readonly rest: number;
  /** During a stretch. */
  readonly raised: number;
  readonly delay: number;
  /** How long a stretch lasts (s): more than 0, less than the period. */
  readonly width: number;
  readonly period: number;
  /** Number of stretches; `Infinity` when endless. */
  readonly count: number;
}

/** A wave as a beat; undefined for those that are none, such as pulses that touch each other. */
export function beatOf(wave: Wave): Beat | undefined {
  let beat: Beat;
  if (wave.shape === 'pulses') {
    const { rest, pulse, delay, width, period, count } = wave;
    beat = { rest, raised: pulse, delay, width, period, count };
  } else if (wave.shape === 'square') {
    const { low, high, delay, duty, frequency } = wave;
    beat = { rest: low, raised: high, delay, width: duty / frequency, period: 1 / frequency, count: Infinity };
  } else return undefined;
  return beat.delay >= 0 && beat.width > 0 && beat.width < beat.period ? beat : undefined;
}
