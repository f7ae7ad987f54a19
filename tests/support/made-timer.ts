import type { TimerFacts } from '#sim/measure/context.ts';
import { type FateLedgerResult, type FateOptions, fateObserver } from '#sim/measure/fates.ts';
import type { EventKind } from '#sim/trace/event.ts';
import { charging, type MadeSignal, type MadeStep, play } from './made-run.ts';

/** The timer of made runs, a one-shot. */
export const madeTimer: TimerFacts = {
  name: 'U1',
  trigger: 'in',
  threshold: 'timing',
  output: 'out',
  control: 'control',
  lower: 'U1.lower',
  supply: 'rail',
  ground: 'ground',
  discharge: 'timing',
  start: 'cleared',
  delay: 0,
  minimumTrigger: 0,
  resetLevel: 0.7,
};

/** Where its THRESHOLD has its limit (V). */
export const LIMIT = 8;

/** An event of it. */
export function event(kind: EventKind, cause?: EventKind): MadeStep {
  return { event: cause === undefined ? { part: 'U1', kind } : { part: 'U1', kind, cause } };
}

/** A stretch (s) with THRESHOLD at a made-up signal (V) and its limit where it is. */
export function stretch(length: number, timing: MadeSignal | number = 0): MadeStep {
  return { length, signals: { timing, control: LIMIT } };
}

/** What becomes of its pulses in a made run. */
export function ledger(
  steps: readonly MadeStep[],
  settings: { window?: { from: number; until: number }; timer?: Partial<TimerFacts>; options?: FateOptions } = {},
): FateLedgerResult {
  const { window = { from: 0, until: 100 }, options } = settings;
  const observer = fateObserver({ ...madeTimer, ...settings.timer }, window, options);
  play({ nets: ['ground', 'timing', 'control'], steps }, observer);
  return observer.result();
}

/** A pulse that begins an interval, and the end of one by THRESHOLD. */
export const start = [event('triggerLow'), event('set', 'triggerLow')];
export const runsOut = [event('thresholdOver'), event('cleared', 'thresholdOver')];

/** The capacitor after `t` seconds of charging towards 12 V with 1 s; it reaches its limit after ln 3 s. */
export const charged = (t: number): MadeSignal => charging(12 * (1 - Math.exp(-t)), 12, 1);
