import { checkCircuit } from '../circuit/check-circuit.ts';
import type { Circuit } from '../circuit/description.ts';
import { IssueError, issueText } from '../core/errors.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import type { Outcome } from '../engine/outcome.ts';
import type { MeasureContext, ReadingOutcome, Window } from '../measure/context.ts';
import { edgeObserver } from '../measure/edges.ts';
import { type FateLedgerResult, fateObserver } from '../measure/fates.ts';
import { parseReading } from '../measure/parse-reading.ts';
import { readingObserver } from '../measure/reading-observer.ts';
import { faultObserver } from '../measure/faults.ts';
import type { EdgeRow, FaultRow } from '../measure/rows.ts';
import { readQuantity } from '../quantity/index.ts';
import type { Envelope } from '../trace/column-envelope.ts';
import type { RunEvent } from '../trace/event.ts';
import { StoredTrace } from '../trace/recorder.ts';
import { readSignalName } from '../trace/signal-name.ts';
import { highLevel, runCircuit, type SimulateOptions, timersOf } from './simulate.ts';

/** What `simulate` may be told. */
export interface RunOptions extends Omit<SimulateOptions, 'until' | 'observers' | 'faults'> {
  /** End of the run: seconds, or text such as `"6 s"`. */
  readonly until: number | string;
}

/** One voltage or current of a finished run. */
export interface SignalTrace {
  /** The value at a time (s), exact; at a jump the value after it. Throws a RangeError outside the run. */
  at(time: number): number;
  /** The value just before a time (s): differs from `at` where the signal jumps. */
  before(time: number): number;
  /** Passages through a level (V; default: the circuit's own, see `highLevel`); a net high at 0 rises at 0. */
  edges(level?: number): readonly EdgeRow[];
  /** Exact first, last, lowest and highest value in equal columns of a window (default: the whole run). */
  envelope(columns: number, window?: Window): Envelope;
}

/** A finished run, kept whole in memory: ask it anything. For runs of many millions of events use `runCircuit`. */
export interface Run {
  readonly circuit: Circuit;
  readonly outcome: Outcome;
  /** Every event with its cause, in order. */
  readonly events: readonly RunEvent[];
  /** True when the run was too long to keep; what is asked then ends at the last segment kept. */
  readonly cut: boolean;
  /** A net's voltage, or a part's current as `current(R1)`. Throws a RangeError for a name that the run does not have. */
  trace(show: string): SignalTrace;
  /** Fates of a timer's input pulses (default: the first timer). Throws a RangeError if there is no such timer. */
  fates(timer?: string, window?: Window): FateLedgerResult;
  /** What parts did beyond their limits, each in a sentence; none is an empty list. */
  faults(window?: Window): FaultRow[];
  /** A reading such as `width(out)`. Throws an IssueError for text that is no reading of this circuit. */
  read(text: string, window?: Window): ReadingOutcome;
}

/**
 * Checks a circuit given as plain data, runs it and keeps the run. How it ended stands in `outcome`.
 *
 * @throws IssueError with all faults of the circuit, or if `until` is not a time.
 */
export function simulate(circuitData: unknown, options: RunOptions): Run {
  const { circuit, issues } = checkCircuit(circuitData, standardKinds);
  if (!circuit) throw new IssueError(issues);
  const { until, ...rest } = options;
  const trace = new StoredTrace();
  const outcome = runCircuit(circuit, { ...rest, until: timeOf(until), observers: [trace], faults: true });
  return new StoredRun(circuit, outcome, trace);
}

function timeOf(until: number | string): number {
  const read = readQuantity(until, 's');
  if (read.ok && read.value >= 0) return read.value;
  const message = read.ok
    ? issueText({
        where: 'simulate',
        field: 'until',
        rule: 'be 0 s or more',
        got: `${read.value} s`,
        advice: 'Write for example 6 s.',
      })
    : `simulate: until ${read.message}`;
  throw new IssueError([{ code: 'bad-time', severity: 'fault', where: 'simulate.until', field: 'until', message }]);
}

class StoredRun implements Run {
  private readonly context: MeasureContext;
  private readonly whole: Window;

  constructor(
    readonly circuit: Circuit,
    readonly outcome: Outcome,
    private readonly stored: StoredTrace,
  ) {
    this.context = { circuit, timers: timersOf(circuit), highLevel: highLevel(circuit) };
    this.whole = { from: 0, until: outcome.time };
  }

  get events(): readonly RunEvent[] {
    return this.stored.events;
  }

  get cut(): boolean {
    return this.stored.cut;
  }

  trace(show: string): SignalTrace {
    const { stored, whole, context } = this;
    const name = readSignalName(show);
    return {
      at: (time) => stored.at(name, time),
      before: (time) => stored.before(name, time),
      edges: (level = context.highLevel) => {
        const observer = edgeObserver(show, level, whole);
        stored.replay(observer);
        return observer.result().edges;
      },
      envelope: (columns, window = whole) => stored.envelope(name, window.from, window.until, columns),
    };
  }

  fates(timer?: string, window: Window = this.whole): FateLedgerResult {
    const facts = timer === undefined ? this.context.timers[0] : this.context.timers.find(({ name }) => name === timer);
    if (!facts) {
      const names = this.context.timers.map(({ name }) => name).join(', ') || 'none';
      throw new RangeError(`fates: timer must be one of the circuit (${names}); got ${timer ?? 'none'}.`);
    }
    const observer = fateObserver(facts, window);
    this.stored.replay(observer);
    return observer.result();
  }

  faults(window: Window = this.whole): FaultRow[] {
    const observer = faultObserver(this.circuit, window);
    this.stored.replay(observer);
    return observer.result();
  }

  read(text: string, window: Window = this.whole): ReadingOutcome {
    const observer = readingObserver(parseReading(text), this.context, window);
    this.stored.replay(observer);
    return observer.result();
  }
}
