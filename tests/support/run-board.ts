import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import type { Circuit } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import type { Outcome } from '#sim/engine/outcome.ts';
import type { MeasureContext, ReadingOutcome, Window } from '#sim/measure/context.ts';
import { type FateLedgerResult, fateObserver } from '#sim/measure/fates.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingObserver } from '#sim/measure/reading-observer.ts';
import { highLevel, runCircuit, timersOf } from '#sim/run/simulate.ts';
import type { Observer } from '#sim/trace/observer.ts';

/** A part as a file holds it. */
export type FilePart = { readonly name: string; readonly kind: string; readonly [field: string]: unknown };

/** The checked circuit of some parts, with what readings need to know; fails on any fault. */
export function boardOf(parts: readonly FilePart[]): MeasureContext {
  const { circuit, issues } = checkCircuit({ parts }, standardKinds);
  if (circuit === undefined) throw new Error(issues.map(({ message }) => message).join('\n'));
  return contextOf(circuit);
}

function contextOf(circuit: Circuit): MeasureContext {
  return { circuit, timers: timersOf(circuit), highLevel: highLevel(circuit) };
}

/** Runs a board with observers. */
export function watch(board: MeasureContext, until: number, observers: readonly Observer[]): Outcome {
  return runCircuit(board.circuit, { until, observers });
}

/** Takes readings of a run from 0 (or `window.from`) on. */
export function readAll(board: MeasureContext, window: Window | number, calls: readonly string[]): ReadingOutcome[] {
  const span = typeof window === 'number' ? { from: 0, until: window } : window;
  const readings = calls.map((call) => readingObserver(parseReading(call), board, span));
  const outcome = watch(board, span.until, readings);
  if (!outcome.ok) throw new Error(outcome.message);
  return readings.map((reading) => reading.result());
}

/** The fates of the first timer's pulses. */
export function fatesOf(board: MeasureContext, window: Window | number): FateLedgerResult {
  const span = typeof window === 'number' ? { from: 0, until: window } : window;
  const ledger = fateObserver(board.timers[0]!, span);
  const outcome = watch(board, span.until, [ledger]);
  if (!outcome.ok) throw new Error(outcome.message);
  return ledger.result();
}

/** A frequency divider after document.md's first example: a monostable fed by pulses from the supply voltage to 0 V. */
export function divider(settings: {
  /** Of the supply, and of the input at rest; 12 V if not given. */
  readonly voltage?: number;
  readonly resistance?: string | number;
  readonly capacitance?: string | number;
  readonly period?: number;
  readonly width?: number;
  readonly family?: string;
  readonly more?: readonly FilePart[];
  readonly reset?: string;
  readonly wave?: unknown;
  readonly timer?: Record<string, unknown>;
}): MeasureContext {
  const { resistance = '68 kΩ', capacitance = '4.7 µF', period = 0.15, width = 0.008, family = 'ideal' } = settings;
  const { voltage = 12 } = settings;
  return boardOf([
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage, origin: 'isolated' },
    {
      name: 'U1',
      kind: 'timer',
      family,
      pins: {
        supply: 'rail',
        ground: 'ground',
        trigger: 'in',
        output: 'out',
        reset: settings.reset ?? 'rail',
        control: 'control',
        threshold: 'timing',
        discharge: 'timing',
      },
      ...settings.timer,
    },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance },
    {
      name: 'G1',
      kind: 'signal',
      plus: 'in',
      minus: 'ground',
      wave: settings.wave ?? { shape: 'pulses', period, width, rest: voltage, pulse: 0 },
    },
    ...(settings.more ?? []),
  ]);
}
