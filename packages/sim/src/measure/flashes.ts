import type { Circuit } from '../circuit/description.ts';
import { FLASHING, FLASHING_HARM } from '../circuit/flashing.ts';
import { type Instant, secondsBetween } from '../trace/instant.ts';
import type { Observer } from '../trace/observer.ts';
import { signalIndex } from '../trace/signal-name.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import type { Window } from './context.ts';
import { LevelCrossings } from './level-crossings.ts';
import { seconds } from './range-words.ts';

/** A lamp counts as lit above this share of its limit; a judgement, no source. */
const LIT = 0.01;
/** So many times in a row between one flash and the next make a flashing lamp; a judgement, no source. */
const GAPS = 2;
/** Rounding of a time between two flashes, as a share of it. */
const ROUNDING = 1e-9;

const WARNING = `L${FLASHING_HARM.slice(1)}: make these slower, or warn those who watch.`;

/** The flashes of one lamp, as far as they follow each other fast enough. */
interface Lamp {
  readonly name: string;
  readonly crossings: LevelCrossings;
  index: number;
  last: Instant | undefined;
  /** The flashes in a row at hand: when they began, how many gaps, and the shortest and longest of them (s). */
  row: { start: number; gaps: number; shortest: number; longest: number } | undefined;
  /** What is told: since when, and the shortest and longest gap of all such rows (s). */
  found: { start: number; shortest: number; longest: number } | undefined;
}

/**
 * Watches LEDs for flashing that people have to be warned of; memory does not depend on the length of the run. The result
 * is empty, or the warning and then a sentence for each lamp.
 *
 * @param prefix only LEDs whose names begin with it count, and they are named without it.
 */
export function flashObserver(circuit: Circuit, window: Window, prefix = ''): Observer & { result(): string[] } {
  const lamps = circuit.parts
    .filter(({ kind, name }) => kind === 'led' && name.startsWith(prefix))
    .map(({ name, values }): Lamp => {
      const lamp: Lamp = {
        name,
        crossings: new LevelCrossings(LIT * (values.limit as number), (high, at) => {
          if (high && at.high >= window.from && at.high < window.until) flash(lamp, at);
        }),
        index: -1,
        last: undefined,
        row: undefined,
        found: undefined,
      };
      return lamp;
    });
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        for (const lamp of lamps) {
          lamp.crossings.visit(visitor);
          lamp.last = visitor.date(lamp.last);
          visitor.same(lamp.row === undefined || lamp.row.gaps >= GAPS);
          visitor.same(lamp.found?.shortest);
          visitor.same(lamp.found?.longest);
        }
      },
    }),
    begin(table) {
      for (const lamp of lamps) lamp.index = signalIndex(table, { current: lamp.name });
    },
    segment(segment) {
      if (segment.start >= window.until) return;
      for (const { crossings, index } of lamps) crossings.segment(segment, index);
    },
    result() {
      const told = lamps.flatMap((lamp) => sentences(lamp, prefix));
      return told.length === 0 ? [] : [WARNING, ...told];
    },
  };
}

function flash(lamp: Lamp, at: Instant): void {
  const { last, row } = lamp;
  lamp.last = at;
  if (last === undefined) return;
  const gap = secondsBetween(last, at);
  const isFast = gap >= (1 - ROUNDING) / FLASHING.to && gap <= (1 + ROUNDING) / FLASHING.from;
  if (!isFast) {
    lamp.row = undefined;
    return;
  }
  const { start, gaps, shortest, longest } = row ?? { start: last.high, gaps: 0, shortest: gap, longest: gap };
  const now = { start, gaps: gaps + 1, shortest: Math.min(shortest, gap), longest: Math.max(longest, gap) };
  lamp.row = now;
  if (now.gaps < GAPS) return;
  lamp.found = {
    start: lamp.found?.start ?? now.start,
    shortest: Math.min(lamp.found?.shortest ?? now.shortest, now.shortest),
    longest: Math.max(lamp.found?.longest ?? now.longest, now.longest),
  };
}

function sentences({ name, found }: Lamp, prefix: string): string[] {
  if (found === undefined) return [];
  const [slow, fast] = [rate(found.longest), rate(found.shortest)];
  const times = slow === fast ? fast : `${slow} to ${fast}`;
  return [`${name.slice(prefix.length)} flashes ${times} times a second, from ${seconds(found.start)} on.`];
}

/** Flashes a second in three digits. */
function rate(gap: number): string {
  return String(Number((1 / gap).toPrecision(3)));
}
