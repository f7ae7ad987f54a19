import type { Outcome } from '#sim/engine/outcome.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from './circuit-issues.ts';
import { nodalModelOf } from './nodal/read-circuit.ts';
import { type NodalEvent, NodalRun, type NodalRunResult } from './nodal/run.ts';

/** Events that are compared, and those the engine may take for them (it also counts corners of curves). */
const COMPARED = 40;
const BUDGET = 1000;

/** Events within the tolerance that are endless switching; with a delay they would be much further apart. */
const PILE = 20;

/**
 * Events without those of a comparator that is back where it was within the tolerance to which times are compared: by
 * rounding alone one telling sees that of a limit that is only just passed, and another one does not.
 */
function withoutBlips(events: readonly NodalEvent[], tolerance: number): readonly NodalEvent[] {
  const gone = new Set<NodalEvent>();
  const latest = new Map<string, NodalEvent>();
  for (const event of events) {
    const comparator = /^(.+)(High|Low)$/.exec(event.kind)?.[1];
    if (comparator === undefined || comparator === 'output') continue;
    const key = `${event.part} ${comparator}`;
    const before = latest.get(key);
    if (before !== undefined && before.kind !== event.kind && event.time - before.time <= tolerance) {
      gone.add(before).add(event);
      latest.delete(key);
    } else latest.set(key, event);
  }
  return events.filter((event) => !gone.has(event));
}

/** Where two lists of events part, and what differs there; undefined when they agree up to `end` (s). */
function parting(
  one: readonly NodalEvent[],
  other: readonly NodalEvent[],
  tolerance: number,
  end: number,
): { readonly time: number; readonly what: string } | undefined {
  // Kind by kind: what a part does at one instant for two independent reasons has no order of its own.
  const streams = new Map<string, [number[], number[]]>();
  [one, other].forEach((events, side) => {
    for (const { part, kind, time } of withoutBlips(events, tolerance)) {
      const pair = streams.get(`${part} ${kind}`) ?? [[], []];
      streams.set(`${part} ${kind}`, pair);
      pair[side]!.push(time);
    }
  });
  let found: { time: number; what: string } | undefined;
  for (const [what, [mine, yours]] of streams) {
    for (let k = 0; k < Math.max(mine.length, yours.length); k++) {
      const [p, q] = [mine[k] ?? Infinity, yours[k] ?? Infinity];
      if (Math.min(p, q) >= (found?.time ?? end)) break;
      if (Math.abs(p - q) <= tolerance) continue;
      found = { time: Math.min(p, q), what: `${what} number ${k + 1} at ${p} s and at ${q} s` };
    }
  }
  return found;
}

/** What the engine tells. */
export interface Told extends NodalRunResult {
  readonly outcome: Outcome;
}

/** A run by the engine. */
export function byEngine(parts: unknown, until: number): Told {
  const events: NodalEvent[] = [];
  const outcome = runCircuit(circuitOf(parts), {
    until,
    maxEvents: BUDGET,
    observers: [
      {
        event({ part, kind, time }) {
          if (kind !== 'piece' && kind !== 'snap' && kind !== 'source') events.push({ part, kind, time });
        },
      },
    ],
  });
  return { events, end: outcome.time, restless: outcome.code === 'chatter', lost: false, outcome };
}

/** What a run of the model may do otherwise, see `NodalRunOptions`. */
export interface Otherwise {
  readonly lift?: number;
  readonly margin?: number;
  readonly early?: number;
  readonly jitter?: number;
  readonly seed?: number;
}

/** A run by the nodal model that the tests keep for themselves. */
export function byModel(parts: unknown, until: number, otherwise: Otherwise = {}): NodalRunResult {
  const options = { until, mostEvents: COMPARED, lift: 0, margin: 0, ...otherwise };
  return new NodalRun(nodalModelOf(circuitOf(parts), until), options).run();
}

/** Whether a run ends in many events that differ in time by rounding alone: endless switching as well. */
function pilesUp({ events }: NodalRunResult, tolerance: number): boolean {
  const last = events.at(-1)?.time ?? 0;
  return events.length > COMPARED && last - events.at(-PILE)!.time <= tolerance;
}

/** How two tellings of a run differ, endless switching included. */
export function difference(
  one: NodalRunResult,
  other: NodalRunResult,
  tolerance: number,
): { time: number; what: string } | undefined {
  const end = Math.min(one.end, other.end);
  // An event at the very end may lie just beyond it in the other telling.
  const found = parting(one.events, other.events, tolerance, end - 2 * tolerance);
  if (found !== undefined || one.restless === other.restless) return found;
  const restless = one.restless ? one : other;
  const calm = one.restless ? other : one;
  if (pilesUp(calm, tolerance)) return undefined;
  return restless.end < calm.end - 2 * tolerance ? { time: restless.end, what: 'endless switching' } : undefined;
}
