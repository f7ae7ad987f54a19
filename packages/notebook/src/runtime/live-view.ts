import type { InstantRow } from '@two-thirds/sim/document';
import { closedByHand } from '../schematic/contacts.ts';
import type { CursorState } from '../chart/cursor.ts';
import type { ShownLight } from './lamp-light.ts';
import type { LiveReport, LiveState, PressPart } from './live-protocol.ts';

/** What a page shows of a run by hand. */
export interface LiveView {
  /** `away` while there is none. */
  readonly phase: 'away' | 'held' | 'passing';
  /** Where the run stands (s, in the circuit). */
  readonly time: number;
  /** Its place among the rates that can be chosen. */
  readonly rate: number;
  /** The rate that is reached (s there for 1 s here), where it is noticeably less than the one asked for. */
  readonly slower: number | undefined;
  /** The state of the board, a moment ago at most. */
  readonly state: LiveState | undefined;
  /** Mean currents of lamps and loudspeakers (A). */
  readonly currents: Readonly<Record<string, number>>;
  readonly lamps: ReadonlyMap<string, ShownLight>;
  /** Loudspeakers and outputs that go up and down, and how often a second in the circuit (Hz). */
  readonly tones: ReadonlyMap<string, number>;
  readonly presses: readonly PressPart[];
  /** Parts that are worked at present. */
  readonly worked: ReadonlySet<string>;
  /** What happened last, a sentence. */
  readonly words: string;
  /** Why changed values are not taken up, or why the run cannot go on. */
  readonly complaint: string | undefined;
  readonly isOver: boolean;
}

/** A page without a run by hand. */
export const AWAY: LiveView = {
  phase: 'away',
  time: 0,
  rate: 0,
  slower: undefined,
  state: undefined,
  currents: {},
  lamps: new Map(),
  tones: new Map(),
  presses: [],
  worked: new Set(),
  words: '',
  complaint: undefined,
  isOver: false,
};

/** What the state of a run by hand is told from. */
type LiveStanding = Pick<LiveView, 'state' | 'time' | 'presses' | 'worked'>;

/** The state of a run by hand, as drawings and readouts take that of a cursor. */
export function liveCursor({ state, time, presses, worked }: LiveStanding): CursorState | undefined {
  if (state === undefined) return undefined;
  const limits: Record<string, InstantRow['limits'][string]> = {};
  const timers = state.timers.map(({ timer, outputHigh, since, threshold, trigger }) => {
    limits[timer] = { threshold: threshold.limit, trigger: trigger.limit };
    return {
      timer,
      outputHigh,
      ...(since === undefined ? {} : { interval: { from: since, until: undefined } }),
      threshold: { ...threshold, past: threshold.value > threshold.limit },
      trigger: { ...trigger, past: trigger.value < trigger.limit },
    };
  });
  const closed = [...closedByHand(presses, worked)];
  return {
    time,
    lanes: [],
    timers,
    exact: { time, nets: state.nets, currents: state.currents, limits, active: state.active, closed },
  };
}

/** One slice of time that passed, for whoever listens. */
export interface HeardSlice {
  readonly report: LiveReport;
  /** How long it took here (s). */
  readonly elapsed: number;
}
