import type { Circuit } from '../circuit/description.ts';
import { FLASHING } from '../circuit/flashing.ts';
import type { Window } from '../measure/context.ts';
import { flashObserver } from '../measure/flashes.ts';
import { LevelCrossings } from '../measure/level-crossings.ts';
import { formatQuantity } from '../quantity/index.ts';
import { type Instant, secondsBetween } from '../trace/instant.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import { signalIndex } from '../trace/signal-name.ts';
import type { Remark } from './remark.ts';

/** Flashes a second beyond which a lamp looks steadily lit (Hz); common practice, no source. */
const EYE_LIMIT = 25;
/** What people hear (Hz); common practice, no source. */
const HEARING = { from: 20, to: 20_000 } as const;

/** A lamp counts as lit above this share of its limit; a judgement, no source. */
const LIT = 0.01;
/** A loudspeaker's cone counts as pushed out above this current (A); a judgement, no source. */
const PUSHED = 1e-3;
/** So many flashes make a rate. */
const FEWEST = 3;

/** How often one part was lit or pushed. */
interface Beats {
  readonly kind: 'led' | 'speaker';
  /** As in the circuit. */
  readonly part: string;
  readonly crossings: LevelCrossings;
  index: number;
  count: number;
  first: Instant | undefined;
  last: Instant | undefined;
}

/**
 * Watches what people would see and hear of a run: LEDs that flash too fast to see or so that they can set off fits, and
 * loudspeakers that sound below or above what people hear. Memory does not depend on the length of the run.
 *
 * @param prefix only parts whose names begin with it count, and they are named without it.
 */
export function seenAndHeard(
  circuit: Circuit,
  window: Window,
  prefix = '',
): { readonly observers: readonly Observer[]; result(): Remark[] } {
  const all = circuit.parts.flatMap(({ kind, name, values }): Beats[] => {
    if ((kind !== 'led' && kind !== 'speaker') || !name.startsWith(prefix)) return [];
    const level = kind === 'led' ? LIT * (values.limit as number) : PUSHED;
    const beats: Beats = {
      kind,
      part: name,
      crossings: new LevelCrossings(level, (high, at) => {
        if (!high || at.high < window.from || at.high >= window.until) return;
        beats.count++;
        beats.first ??= at;
        beats.last = at;
      }),
      index: -1,
      count: 0,
      first: undefined,
      last: undefined,
    };
    return [beats];
  });
  if (all.length === 0) return { observers: [], result: () => [] };
  const flashes = flashObserver(circuit, window, prefix);
  const beatObserver: Observer = {
    begin(table) {
      for (const beats of all) beats.index = signalIndex(table, { current: beats.part });
    },
    segment(segment) {
      if (segment.start >= window.until) return;
      for (const { crossings, index } of all) crossings.segment(segment, index);
    },
    periods: new CountedPeriods(window, {
      visit(visitor) {
        for (const beats of all) {
          beats.crossings.visit(visitor);
          beats.count = visitor.sum(beats.count);
          beats.first = visitor.date(beats.first);
          beats.last = visitor.date(beats.last);
        }
      },
    }),
  };
  return {
    observers: [beatObserver, flashes],
    result() {
      const warned = flashes.result();
      return [
        ...all.flatMap((beats) => remarksOf(beats, beats.part.slice(prefix.length))),
        ...(warned.length === 0 ? [] : [{ what: 'flashing', part: '', sentence: warned.join(' ') } as const]),
      ];
    },
  };
}

function remarksOf(beats: Beats, name: string): Remark[] {
  const rate = rateOf(beats);
  const often = rate === undefined ? '' : formatQuantity(rate, 'Hz');
  if (beats.kind === 'led') {
    if (rate === undefined || rate <= EYE_LIMIT || beats.count < FEWEST) return [];
    const slower = rate > FLASHING.to ? '' : ' It still flickers.';
    const sentence = `${name} flashes at ${often}, too fast to see: above ${EYE_LIMIT} Hz a lamp looks steadily lit.${slower}`;
    return [{ what: 'too-fast', part: name, sentence }];
  }
  if (rate !== undefined && rate >= HEARING.from && rate <= HEARING.to) return [];
  const what =
    rate === undefined
      ? `${name} makes no tone at all`
      : `${name} sounds at ${often}, ${rate < HEARING.from ? 'too low' : 'too high'} to hear`;
  const sentence = `${what}: people hear about ${HEARING.from} Hz to ${HEARING.to / 1000} kHz.`;
  return [{ what: 'inaudible', part: name, sentence }];
}

/** Beats a second, from the first to the last. */
function rateOf({ count, first, last }: Beats): number | undefined {
  if (first === undefined || last === undefined || count < 2) return undefined;
  return (count - 1) / secondsBetween(first, last);
}
