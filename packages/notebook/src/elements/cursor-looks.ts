import { formatQuantity } from '@two-thirds/sim/quantity';
import type { CursorState } from '../chart/cursor.ts';
import type { TimerLook } from '../schematic/timer-look.ts';
import { isDischarging } from './instant-words.ts';

/** Voltages in figures by net: of the whole board where its exact state is known, else those that lanes tell. */
export function voltages(state: CursorState | undefined): ReadonlyMap<string, string> {
  if (state === undefined) return new Map();
  const lanes = state.lanes.filter((lane) => lane.value !== undefined).map((lane) => [lane.show, lane.text] as const);
  const greatest = Math.max(0, ...Object.values(state.exact?.nets ?? {}).map(Math.abs));
  const all = Object.entries(state.exact?.nets ?? {}).map(
    // Nanovolts beside a supply of volts are nothing to any reader.
    ([net, value]) => [net, formatQuantity(Math.abs(value) < greatest * 1e-4 ? 0 : value, 'V')] as const,
  );
  return new Map([...all, ...lanes]);
}

/** How the timers of a drawing look at a cursor. */
export function timerLooks(state: CursorState | undefined): ReadonlyMap<string, TimerLook> {
  return new Map(
    (state?.timers ?? []).map((timer) => [
      timer.timer,
      {
        isDischarging: isDischarging(timer),
        outputHigh: timer.outputHigh,
        past: {
          threshold: timer.threshold?.past === true,
          trigger: timer.trigger?.past === true,
        },
      },
    ]),
  );
}
