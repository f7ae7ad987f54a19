import type { Device, Reaction } from './contract.ts';
import { always, amplified, OPEN, oneWay } from './pieces.ts';

const SATURATED = 1;

/** Pieces of the path from collector to emitter: open, then the two of a one-way path. */
const CUT_OFF = 0;
const CONDUCTING = 2;

/**
 * A saturated transistor lets go below this share of its drive. Assumed: where the saturated path lowers its own base
 * current a little (a pnp beside a timing capacitor that it empties), one limit for both ways would switch for ever.
 */
const RELEASE = 0.5;

/**
 * A transistor. Base and emitter are a diode. With a `gain` the collector carries that many times the base current, or what
 * the one-way path of saturation lets through, whichever is less. Without, it is a switch: when the base current rises above
 * `drive`, the one-way path closes, until the base current falls below its release (a pnp: everything the other way round).
 */
export const transistor: Device = {
  kind: 'transistor',
  build(part, host) {
    const { gain, drive, forward, saturation, slope } = part.values as Record<string, number>;
    const npn = part.values['polarity'] === 'npn';
    const emitter = host.node(part.nets['emitter']!);
    /** Adds a path between a terminal and the emitter, in the direction that conducts. */
    const path = (terminal: string, pieces: ReturnType<typeof oneWay>): number => {
      const other = host.node(part.nets[terminal]!);
      const [a, b] = npn ? [other, emitter] : [emitter, other];
      return host.branch({ part: part.name, a, b, pieces, start: 0 });
    };
    const base = path('base', oneWay(0, forward!, slope!));
    const open = [...always(OPEN), ...oneWay(CUT_OFF + 1, saturation!, slope!)];
    const collector = path('collector', gain === undefined ? open : amplified(base, gain, saturation!, slope!));
    host.current(part.name, [{ element: 'branch', index: collector, sign: npn ? 1 : -1 }]);
    if (gain !== undefined) return;
    const becomes = (state: number): Reaction => ({
      state,
      pieces: [[collector, state === SATURATED ? CONDUCTING : CUT_OFF]],
      schedule: [],
      cancel: [],
      records: [{ kind: state === SATURATED ? 'close' : 'open' }],
    });
    host.reactor({
      part: part.name,
      start: 0,
      slots: 0,
      timetable: [],
      // Rank 0: like the pieces of branches, it must have settled before comparators are read.
      guards: (state) => [
        state === SATURATED
          ? { event: 0, rank: 0, watch: { branch: base, sign: -1 }, offset: -RELEASE * drive! }
          : { event: SATURATED, rank: 0, watch: { branch: base, sign: 1 }, offset: drive! },
      ],
      react: (_, event) => becomes(event),
    });
  },
};
