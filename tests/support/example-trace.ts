import type { SignalLane, PulseRow, TraceResult } from '#sim/document/index.ts';

/*
 * A small trace made by hand: a timer whose input falls at 1 s (starts an interval of 2 s), at 2 s (ignored) and at 4 s
 * (starts another, which outlasts the window at 5 s). Ten columns of half a second.
 */

/** A lane that jumps between 0 and 12 V at column boundaries. */
function logicLane(show: string, high: readonly boolean[]): SignalLane {
  const values = high.map((each) => (each ? 12 : 0));
  return {
    show,
    unit: 'V',
    role: 'logic',
    first: values,
    last: values,
    low: values,
    high: values,
    level: 6,
    limits: [],
  };
}

const ramp = [0, 0, 0, 2, 4, 6, 0, 0, 0, 2];

/** The capacitor: rises by 2 V in every half second of an interval. */
export const timing: SignalLane = {
  show: 'timing',
  unit: 'V',
  role: 'analog',
  first: ramp,
  last: [0, 0, 2, 4, 6, 8, 0, 0, 2, 4],
  low: ramp,
  high: [0, 0, 2, 4, 6, 8, 0, 0, 2, 4],
  level: 6,
  limits: [{ timer: 'U1', name: 'threshold limit', value: 8, moves: false }],
};

const pulse = (time: number, fate: PulseRow['fate']): PulseRow => ({
  time,
  end: time + 0.1,
  fate,
  reason: 'Made by hand.',
});

/** The whole trace. */
export const trace: TraceResult = {
  kind: 'trace',
  ok: true,
  board: 'counter',
  from: 0,
  until: 5,
  columns: 10,
  lanes: [
    logicLane(
      'in',
      Array.from({ length: 10 }, () => true),
    ),
    timing,
    logicLane('out', [false, false, true, true, true, true, false, false, true, true]),
  ],
  edges: {
    in: [
      { time: 0, to: 'high' },
      { time: 1, to: 'low' },
      { time: 1.1, to: 'high' },
      { time: 2, to: 'low' },
      { time: 2.1, to: 'high' },
      { time: 4, to: 'low' },
      { time: 4.1, to: 'high' },
    ],
    out: [
      { time: 1, to: 'high' },
      { time: 3, to: 'low' },
      { time: 4, to: 'high' },
    ],
  },
  cut: false,
  faults: [],
  cautions: [],
  timers: [
    {
      timer: 'U1',
      trigger: 'in',
      output: 'out',
      threshold: 'timing',
      pulses: [pulse(1, 'started'), pulse(2, 'ignored'), pulse(4, 'started')],
      counts: { started: 2, held: 0, ignored: 1, short: 0, barred: 0 },
      intervals: [
        { from: 1, until: 3 },
        { from: 4, until: null },
      ],
    },
  ],
};
