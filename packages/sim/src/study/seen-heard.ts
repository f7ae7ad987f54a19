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
  readonly kind: 'led' | 'speaker' | 'buzzer';
  /** As in the circuit. */
  readonly part: string;
  readonly crossings: LevelCrossings;
  index: number;
  count: number;
  /** Whether it was lit, pushed or sounding at any time of the window that an edge tells of. */
  wasHigh: boolean;
  first: Instant | undefined;
  last: Instant | undefined;
}

/**
 * Watches what people would see and hear of a run: LEDs that flash too fast to see or so that they can set off fits,
 * loudspeakers that sound below or above what people hear, and buzzers that never sound. Memory does not depend on the length of the run.
 *
 * @param prefix only parts whose names begin with it count, and they are named without it.
 */
export function seenAndHeard(
  circuit: Circuit,
  window: Window,
  prefix = '',
): { readonly observers: readonly Observer[]; result(): Remark[] } {
  const all = circuit.parts.flatMap(({ kind, name, values }): Beats[] => {
    if ((kind !== 'led' && kind !== 'speaker' && kind !== 'buzzer') || !name.startsWith(prefix)) return [];
    const level = levelOf(kind, values);
    const beats: Beats = {
      kind,
      part: name,
      crossings: new LevelCrossings(level, (high, at) => {
        if (at.high < window.from || at.high >= window.until) return;
        beats.wasHigh = true;
        if (!high) return;
        beats.count++;
        beats.first ??= at;
        beats.last = at;
      }),
      index: -1,
      count: 0,
      wasHigh: false,
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
          visitor.same(beats.wasHigh);
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

/** The current (A) from which a part gives light or sound. */
function levelOf(kind: Beats['kind'], values: Readonly<Record<string, unknown>>): number {
  const { limit, least, resistance } = values as { limit: number; least: number; resistance: number };
  if (kind === 'led') return LIT * limit;
  return kind === 'buzzer' ? least / resistance : PUSHED;
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
  if (beats.kind === 'buzzer') {
    if (beats.wasHigh || beats.crossings.isHigh) return [];
    return [
      { what: 'inaudible', part: name, sentence: `${name} never sounds: it never has the voltage that it needs.` },
    ];
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
