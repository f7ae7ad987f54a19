import type { Reactor } from '../device/contract.ts';
import type { AgendaStanding } from '../engine/agenda-standing.ts';
import type { Program } from '../engine/program.ts';
import { carriedOver, type Standing } from '../engine/standing.ts';
import type { FaultNote } from '../trace/event.ts';

/** A limit that was exceeded and that a changed circuit does not have any more. */
export interface GoneLimit {
  readonly part: string;
  readonly note: Omit<FaultNote, 'phase'>;
}

/**
 * A standing of one program in the terms of another. Whether the limits that are watched are the same plays no part for
 * what acts: stating a rating starts no latch anew, and stops no time that is measured. Limits that both have stay passed or kept; the run finds out by itself
 * where that is not so any more.
 */
export function takenOver(
  standing: Standing,
  before: Program,
  after: Program,
): { readonly standing: Standing; readonly gone: readonly GoneLimit[] } {
  const states = new Map<string, number>();
  const waiting = new Map<string, Slots>();
  const slots = slotsByReactor(standing.agenda.slots, before.reactors);
  const gone: GoneLimit[] = [];
  const kept = new Set(after.reactors.flatMap((reactor) => limitName(reactor) ?? []));
  before.reactors.forEach((reactor, index) => {
    const name = limitName(reactor);
    if (name === undefined) return;
    const state = standing.states[index]!;
    if (kept.has(name)) {
      states.set(name, state);
      waiting.set(name, slots[index]!);
    } else if (state !== reactor.start) gone.push({ part: reactor.part, note: reactor.watches! });
  });
  const acts = (_: unknown, index: number): boolean => before.reactors[index]!.watches === undefined;
  const acting = carriedOver(
    {
      ...standing,
      states: standing.states.filter(acts),
      agenda: { ...standing.agenda, slots: slots.filter(acts).flat() },
    },
    withoutLimits(before),
    withoutLimits(after),
  );
  const actingSlots = slotsByReactor(acting.agenda.slots, withoutLimits(after).reactors);
  let next = 0;
  const merged = after.reactors.map((reactor) => {
    const name = limitName(reactor);
    return name === undefined ? acting.states[next++]! : (states.get(name) ?? reactor.start);
  });
  let nextSlots = 0;
  const mergedSlots = after.reactors.flatMap((reactor): Slots => {
    const name = limitName(reactor);
    return name === undefined ? actingSlots[nextSlots++]! : (waiting.get(name) ?? emptySlots(reactor));
  });
  return { standing: { ...acting, states: merged, agenda: { ...acting.agenda, slots: mergedSlots } }, gone };
}

type Slots = AgendaStanding['slots'];

/** What waits in the slots of each reactor. */
function slotsByReactor(slots: Slots, reactors: readonly Reactor[]): Slots[] {
  let next = 0;
  return reactors.map((reactor) => slots.slice(next, (next += reactor.slots)));
}

function emptySlots({ slots }: Reactor): Slots {
  return Array.from({ length: slots }, () => []);
}

function limitName({ part, watches }: Reactor): string | undefined {
  return watches && `${part} ${watches.what} ${watches.pin ?? ''}`;
}

function withoutLimits(program: Program): Program {
  return { ...program, reactors: program.reactors.filter(({ watches }) => watches === undefined) };
}
