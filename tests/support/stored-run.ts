import type { EventKind, RunEvent } from '#sim/trace/event.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { secondsBetween } from '#sim/trace/instant.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { circuitOf } from './circuit-issues.ts';
import type { FilePart } from './run-board.ts';

/** Runs a parts list from 0 to `until` (s) and keeps everything; fails when the run does not reach its end. */
export function storedRun(parts: readonly FilePart[], until: number): StoredTrace {
  const trace = new StoredTrace();
  const outcome = runCircuit(circuitOf(parts), { until, observers: [trace] });
  if (!outcome.ok) throw new Error(`${outcome.code} at ${outcome.time} s: ${outcome.message}`);
  return trace;
}

/** The events of some kinds that one part did, in order. */
export function eventsOf(trace: StoredTrace, part: string, ...kinds: readonly EventKind[]): RunEvent[] {
  return trace.events.filter((event) => event.part === part && kinds.includes(event.kind));
}

/** Seconds from one event to another, with all digits that the run keeps. */
export function secondsFrom(earlier: RunEvent | undefined, later: RunEvent | undefined): number {
  if (earlier === undefined || later === undefined) return Number.NaN;
  return secondsBetween({ high: earlier.time, low: earlier.timeLow }, { high: later.time, low: later.timeLow });
}

/** How long a timer's latch was set (s), complete times only. */
export function setTimes(trace: StoredTrace, part = 'U1'): number[] {
  return gaps(eventsOf(trace, part, 'set', 'cleared'), 'set');
}

/** How long a timer's latch was cleared between two times of being set (s). */
export function clearedTimes(trace: StoredTrace, part = 'U1'): number[] {
  return gaps(eventsOf(trace, part, 'set', 'cleared'), 'cleared');
}

function gaps(events: readonly RunEvent[], from: EventKind): number[] {
  return events.slice(1).flatMap((event, i) => (events[i]!.kind === from ? [secondsFrom(events[i], event)] : []));
}
