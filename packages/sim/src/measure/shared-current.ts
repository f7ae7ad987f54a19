import type { Circuit, Part } from '../circuit/description.ts';
import { GROUND } from '../circuit/names.ts';
import { listedText } from '../core/listed-text.ts';
import type { RunEvent } from '../trace/event.ts';
import type { SegmentView } from '../trace/frame.ts';
import { clip } from './clip.ts';
import type { ReadingObserver, Window } from './context.ts';
import { seconds } from './range-words.ts';

/** A part that joins two nets without resistance, always or while it is closed. */
interface Join {
  readonly part: string;
  readonly a: string;
  readonly b: string;
  closed: boolean;
}

/**
 * Lets a reading of a part's current have no value where the current is not determined: while other parts without
 * resistance join the same nets, Kirchhoff's laws give what flows through all of them together, and any division among
 * them is as right as any other. Joins inside a timer (an ideal output or discharge switch) are not among these parts.
 */
export function determinedCurrent(
  reading: ReadingObserver,
  part: Part,
  circuit: Circuit,
  window: Window,
): ReadingObserver {
  const joins = circuit.parts.flatMap(joinsOf);
  const own = joins.find((join) => join.part === part.name);
  if (own === undefined || wayAround(own, joins, true) === undefined) return reading;
  const closed = new Map(joins.map((join) => [join.part, join]));
  let way = own.closed ? wayAround(own, joins, false) : undefined;
  let found: { readonly since: number; readonly way: readonly string[] } | undefined;
  return {
    ...reading,
    event({ kind, part: name }: RunEvent) {
      const join = kind === 'close' || kind === 'open' ? closed.get(name) : undefined;
      if (join === undefined) return;
      join.closed = kind === 'close';
      way = own.closed ? wayAround(own, joins, false) : undefined;
    },
    segment(segment: SegmentView) {
      reading.segment?.(segment);
      if (way === undefined || found !== undefined) return;
      const inside = clip(segment, window);
      if (inside !== undefined) found = { since: segment.start + inside.begin, way };
    },
    result() {
      const outcome = reading.result();
      if (found === undefined || outcome.value === null) return outcome;
      return { ...outcome, value: null, reason: reasonWords(part.name, found) };
    },
  };
}

function joinsOf({ name, kind, nets, values }: Part): Join[] {
  const [a, b] = [nets['a'], nets['b'] ?? GROUND];
  switch (kind) {
    case 'resistor':
    case 'speaker':
      return values['resistance'] === 0 ? [{ part: name, a: a!, b, closed: true }] : [];
    case 'button':
    case 'jumper':
    case 'switch':
      return values['resistance'] === 0 ? [{ part: name, a: a!, b, closed: values['closed'] === true }] : [];
    case 'pot': {
      const { resistance, position, end } = values as Record<string, number>;
      const [left, right] = [end! + position! * resistance!, end! + (1 - position!) * resistance!];
      const wiper = nets['wiper']!;
      return [
        ...(left === 0 ? [{ part: name, a: a!, b: wiper, closed: true }] : []),
        ...(right === 0 ? [{ part: name, a: wiper, b, closed: true }] : []),
      ];
    }
    default:
      return [];
  }
}

/**
 * The parts of a way without resistance from one net of a join to the other that does not lead through it; undefined if
 * there is none.
 *
 * @param anyTime whether contacts count that are open now.
 */
function wayAround(own: Join, joins: readonly Join[], anyTime: boolean): string[] | undefined {
  const cameBy = new Map<string, { readonly from: string; readonly part: string }>();
  const reached = new Set([own.a]);
  for (const net of reached) {
    for (const join of joins) {
      if (join === own || !(anyTime || join.closed)) continue;
      const to = join.a === net ? join.b : join.b === net ? join.a : undefined;
      if (to === undefined || reached.has(to)) continue;
      reached.add(to);
      cameBy.set(to, { from: net, part: join.part });
    }
  }
  const parts: string[] = [];
  for (let step = cameBy.get(own.b); step !== undefined; step = cameBy.get(step.from)) parts.unshift(step.part);
  return parts.length === 0 ? undefined : parts;
}

function reasonWords(
  part: string,
  { since, way }: { readonly since: number; readonly way: readonly string[] },
): string {
  const others = way.length > 1 ? `${listedText(way)} together` : way[0]!;
  const when = since > 0 ? `, from ${seconds(since)} on` : '';
  return `${part} and ${others} join the same nets without resistance${when}; how a current divides between them is not determined. Give them resistances`;
}
