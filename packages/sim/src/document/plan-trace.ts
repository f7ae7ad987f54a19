import type { TimerFacts } from '../measure/context.ts';
import { edgeObserver } from '../measure/edges.ts';
import { fateObserver } from '../measure/fates.ts';
import { envelopeObserver } from '../trace/envelope-observer.ts';
import { type ContactEdge, contactObserver } from '../trace/contact-observer.ts';
import type { SignalName } from '../trace/signal-name.ts';
import type { RunNames, ShownSignal } from './cell-names.ts';
import { laneRole } from './lane-role.ts';
import { type LimitWatch, watchLimit } from './lane-limits.ts';
import { watchInstants } from './plan-instants.ts';
import { COLUMNS, LISTED_MOST, type TraceCell } from './notebook-document.ts';
import type { EdgeRow, Lane, TraceResult } from './results.ts';
import type { Faultless, RunPlan } from './run-plan.ts';
import { shortName } from './short-name.ts';

/** In how much detail a trace is wanted. */
export interface TraceDetail {
  /** How many columns a lane has; 720 if not given. */
  readonly columns?: number | undefined;
  /** Instants (s) at which the exact state is wanted as well; none if not given. */
  readonly instants?: readonly number[] | undefined;
  /** Whether pulses have their sentences; true if not given. */
  readonly sentences?: boolean | undefined;
}

/**
 * Plans a trace cell: lanes in columns, edges of the nets and contacts shown and of the own timers' pins, fates and
 * intervals for marks, comparator limits.
 *
 * @param signals what it shows, checked, names as in the circuit.
 * @param prefix put before the board's own names in the circuit.
 */
export function planTrace(
  cell: TraceCell,
  signals: readonly ShownSignal[],
  names: RunNames,
  prefix: string,
  { columns = COLUMNS, instants = [], sentences = true }: TraceDetail = {},
): RunPlan<Faultless<TraceResult>> {
  const window = { from: cell.from, until: cell.until };
  const { timers: allTimers, highLevel: level } = names.context;
  const timers = allTimers.filter((timer) => timer.name.startsWith(prefix));
  const run = { ...window, columns };
  const envelopes = envelopeObserver(signals.filter(isSignal), run);
  const contacts = signals.map((signal) =>
    isSignal(signal) ? undefined : contactObserver(signal.contact, run, LISTED_MOST),
  );
  const shownNets = signals.flatMap((signal) => ('net' in signal ? [signal.net] : []));
  const edgeNets = new Set([...shownNets, ...timers.flatMap(({ trigger, output }) => [trigger, output])]);
  const edges = [...edgeNets].map((net) => ({
    net,
    observer: edgeObserver(net, level, window, { most: LISTED_MOST }),
  }));
  const fates = timers.map((timer) => ({
    timer,
    observer: fateObserver(timer, window, { most: LISTED_MOST, sentences }),
  }));
  const limits = signals.map((signal) => limitsOf(signal, timers, names, run));
  const moments = watchInstants(instants, names.context.circuit, timers, prefix);
  return {
    observers: [
      envelopes,
      ...contacts.filter((each) => each !== undefined),
      ...edges.map(({ observer }) => observer),
      ...fates.map(({ observer }) => observer),
      ...limits.flat().flatMap(({ observers }) => observers),
      ...moments.observers,
    ],
    result(): Faultless<TraceResult> {
      const shapes = envelopes.result();
      const courses = contacts.map((each) => each?.result());
      const outputs = new Set(timers.map(({ output }) => output));
      const moves: Record<string, readonly ContactEdge[]> = {};
      let next = 0;
      const lanes = signals.flatMap((signal, index): Lane[] => {
        const show = cell.show[index] ?? '';
        const course = courses[index];
        if (course !== undefined) {
          moves[show] = course.edges;
          return [{ show, unit: null, role: 'contact', ...course.envelope, level: CONTACT_LEVEL, limits: [] }];
        }
        const shape = shapes[next];
        next += 1;
        if (shape === undefined || !isSignal(signal)) return [];
        const isNet = 'net' in signal;
        return [
          {
            show,
            unit: isNet ? 'V' : 'A',
            role: isNet ? laneRole(shape, outputs.has(signal.net)) : 'analog',
            ...shape,
            ...(isNet ? { level } : {}),
            limits: (limits[index] ?? []).map((watch) => watch.result()),
          },
        ];
      });
      const listed: Record<string, readonly EdgeRow[]> = {};
      for (const { net, observer } of edges) listed[shortName(net, prefix)] = observer.result().edges;
      const marks = fates.map(({ timer, observer }) => {
        const { pulses, counts, intervals } = observer.result();
        return {
          timer: shortName(timer.name, prefix),
          trigger: shortName(timer.trigger, prefix),
          output: shortName(timer.output, prefix),
          threshold: shortName(timer.threshold, prefix),
          pulses,
          counts,
          intervals,
        };
      });
      const cut =
        courses.some((course) => course?.cut === true) ||
        edges.some(({ observer }) => observer.result().cut) ||
        fates.some(({ observer }) => observer.result().cut);
      return {
        kind: 'trace',
        ok: true,
        board: cell.board,
        ...window,
        columns,
        lanes,
        edges: listed,
        ...(courses.some((course) => course !== undefined) ? { contacts: moves } : {}),
        cut,
        timers: marks,
        ...(instants.length === 0 ? {} : { instants: moments.result() }),
      };
    },
  };
}

/** Between the 0 of a contact that is open and the 1 of one that conducts. */
const CONTACT_LEVEL = 0.5;

function isSignal(signal: ShownSignal): signal is SignalName {
  return !('contact' in signal);
}

/** The comparator limits that a lane's signal is held against. */
function limitsOf(
  signal: ShownSignal,
  timers: readonly TimerFacts[],
  names: RunNames,
  { columns, ...window }: { readonly from: number; readonly until: number; readonly columns: number },
): LimitWatch[] {
  if (!('net' in signal)) return [];
  return timers.flatMap((timer) => {
    const watches: LimitWatch[] = [];
    if (timer.threshold === signal.net)
      watches.push(watchLimit(timer.name, 'threshold limit', timer.control, names, window, columns));
    if (timer.trigger === signal.net)
      watches.push(watchLimit(timer.name, 'trigger limit', timer.lower, names, window, columns));
    if (timer.reset === signal.net && timer.reset !== timer.supply) {
      const value = timer.resetLevel;
      watches.push({ observers: [], result: () => ({ timer: timer.name, name: 'reset level', value, moves: false }) });
    }
    return watches;
  });
}
