import { addExactly } from '#sim/core/two-part.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { Frame, SignalTable } from '#sim/trace/frame.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { Stretch } from '#sim/trace/stretch.ts';

/** constant + slope t + sum of coefficient exp(-rate t), t from the start of the stretch. */
export interface MadeSignal {
  readonly constant?: number;
  readonly slope?: number;
  readonly terms?: readonly (readonly [coefficient: number, rate: number])[];
}

/** A stretch of a made-up run: its length (s) and every signal that is not 0. A number is a constant. */
export interface MadeStretch {
  readonly length: number;
  readonly signals: Readonly<Record<string, MadeSignal | number>>;
}

/** A step of a made-up run: a stretch, or an event at the time reached so far. */
export type MadeStep = MadeStretch | { readonly event: Pick<RunEvent, 'part' | 'kind' | 'cause' | 'limit' | 'fault'> };

/** What made-up runs are about. */
export interface MadeRun {
  readonly nets: readonly string[];
  readonly currents?: readonly string[];
  readonly steps: readonly MadeStep[];
}

/** Rising from `from` towards `to` with a time constant (s), as a capacitor does. */
export function charging(from: number, to: number, timeConstant: number): MadeSignal {
  return { constant: to, terms: [[from - to, 1 / timeConstant]] };
}

function complete(signal: MadeSignal | number | undefined): Required<MadeSignal> {
  if (typeof signal === 'number') return { constant: signal, slope: 0, terms: [] };
  return { constant: 0, slope: 0, terms: [], ...signal };
}

function frameOf(names: readonly string[], stretch: MadeStretch): Frame {
  const signals = names.map((name) => complete(stretch.signals[name]));
  const rates = [...new Set(signals.flatMap(({ terms }) => terms.map(([, rate]) => rate)))].sort((a, b) => a - b);
  const rows = signals.flatMap(({ terms }) =>
    rates.map((rate) => terms.filter((term) => term[1] === rate).reduce((sum, [coefficient]) => sum + coefficient, 0)),
  );
  return {
    rates: Float64Array.from(rates),
    rows: Float64Array.from(rows),
    constants: Float64Array.from(signals, ({ constant }) => constant),
    slopes: Float64Array.from(signals, ({ slope }) => slope),
  };
}

/** Shows a made-up run to observers as the engine would: one reused view, two-part times. */
export function play(run: MadeRun, ...observers: readonly Observer[]): void {
  const table: SignalTable = { nets: run.nets, currents: run.currents ?? [] };
  const names = [...table.nets, ...table.currents.map((part) => `current(${part})`)];
  const view = new Stretch();
  view.amplitudes = new Float64Array(8);
  let time = { high: 0, low: 0 };
  for (const observer of observers) observer.begin?.(table);
  for (const step of run.steps) {
    if ('event' in step) {
      const event: RunEvent = { ...step.event, time: time.high, timeLow: time.low };
      for (const observer of observers) observer.event?.(event);
      continue;
    }
    view.frame = frameOf(names, step);
    view.amplitudes.fill(Number.NaN);
    view.amplitudes.fill(1, 0, view.frame.rates.length);
    view.start = time.high;
    view.startLow = time.low;
    view.length = step.length;
    view.next();
    for (const observer of observers) observer.segment?.(view);
    const sum = addExactly(time.high, step.length);
    time = addExactly(sum.high, sum.low + time.low);
  }
  for (const observer of observers) observer.end?.(time.high);
}

/** Value of a made-up signal, by the formula itself. */
export function madeValue(signal: MadeSignal | number | undefined, time: number): number {
  const { constant, slope, terms } = complete(signal);
  return terms.reduce(
    (sum, [coefficient, rate]) => sum + coefficient * Math.exp(-rate * time),
    constant + slope * time,
  );
}

/** The same run with every stretch cut at the given shares of its length; as a physical run it is the same. */
export function cutRun(run: MadeRun, shares: readonly number[]): MadeRun {
  const cuts = [0, ...[...shares].sort((a, b) => a - b), 1];
  const steps = run.steps.flatMap((step): MadeStep[] => {
    if ('event' in step) return [step];
    return cuts.slice(1).flatMap((to, i): MadeStep[] => {
      const begin = cuts[i]! * step.length;
      const length = to * step.length - begin;
      if (!(length > 0)) return [];
      const signals = Object.entries(step.signals).map(([name, signal]) => [name, moved(complete(signal), begin)]);
      return [{ length, signals: Object.fromEntries(signals) as Record<string, MadeSignal> }];
    });
  });
  return { ...run, steps };
}

function moved({ constant, slope, terms }: Required<MadeSignal>, by: number): MadeSignal {
  return {
    constant: constant + slope * by,
    slope,
    terms: terms.map(([coefficient, rate]) => [coefficient * Math.exp(-rate * by), rate] as const),
  };
}
