// Runs simulations: only the worker of a run by hand may import it.
import { contactsOf, faultObserver, GrazeWatch, highLevel, LiveRun, timersOf, type TimerFacts } from '@two-thirds/sim';
import type { LiveBoard } from './live-board.ts';
import type { LiveReport, LiveSlice, LiveState, LiveTimer, TraceWish } from '../runtime/live-protocol.ts';
import { LiveTrace } from './live-trace.ts';
import { LiveWatch } from './live-watch.ts';

/** Events between two looks at the clock. */
const EVENTS_AT_A_TIME = 64;
/** How far the search for the next event looks ahead (s): a year. */
const HORIZON = 31_557_600;
/** Beyond the present instant by this share of it, and at least this much (s), is still the same instant. */
const SAME_INSTANT = 4 * Number.EPSILON;
const LEAST = 1e-15;

/** A run by hand: lets time pass in slices, works parts, changes values, goes to the next event. */
export class LiveSession {
  private board: LiveBoard;
  private run: LiveRun;
  private watch: LiveWatch;
  private faults: ReturnType<typeof faultObserver>;
  private trace: LiveTrace;
  private grazes = new GrazeWatch();
  private timers: readonly TimerFacts[];
  private high: number;
  private failure: string | undefined;
  /** Parts that are worked at present, as the circuit calls them. */
  private readonly held = new Set<string>();
  private readonly clock: () => number;

  /** @param clock gives the time (ms) that budgets count by. */
  constructor(board: LiveBoard, clock: () => number) {
    this.board = board;
    this.clock = clock;
    this.watch = new LiveWatch(board.circuit, board.prefix, board.links);
    this.trace = new LiveTrace(board, watchesOf(board));
    this.faults = this.newFaults();
    this.run = this.newRun();
    ({ timers: this.timers, high: this.high } = factsOf(board));
  }

  /** Voltage above which a net counts as high (V). */
  get level(): number {
    return this.high;
  }

  /** Lets time pass, as far as the budget goes. */
  advance({ span, budget, whole, trace }: LiveSlice): LiveReport {
    const { run } = this;
    const from = run.time;
    const end = this.clock() + budget;
    const until = Math.max(from + span, justAfter(from));
    this.trace.open(trace, from, until);
    while (this.failure === undefined) {
      const outcome = run.advance(until, { atATime: EVENTS_AT_A_TIME });
      if (!outcome.ok) this.failure = outcome.message ?? 'The run cannot go on.';
      if (outcome.code !== 'paused' || this.clock() >= end) break;
    }
    return this.report(from, whole);
  }

  /**
   * Goes to the next event that can be told of; stays where there is none within a year or within the budget (ms).
   *
   * @param trace what is to be drawn of the way there.
   */
  next(budget: number, trace?: TraceWish): LiveReport {
    const from = this.run.time;
    const start = this.run.checkpoint();
    this.watch.clear();
    const since = new Map(this.watch.since);
    const { worst } = this.grazes;
    const contacts = this.trace.standing();
    const end = this.clock() + budget;
    while (this.failure === undefined && this.watch.happened === 0) {
      const outcome = this.run.advance(from + HORIZON, { atATime: 1 });
      if (!outcome.ok) this.failure = outcome.message ?? 'The run cannot go on.';
      else if (this.watch.happened === 0 && (outcome.code === 'reached' || this.clock() >= end)) {
        const quietUntil = outcome.time;
        this.watch.since.clear();
        for (const [timer, time] of since) this.watch.since.set(timer, time);
        this.grazes.worst = worst;
        this.run = this.newRun(start);
        this.trace.standAt(contacts);
        this.watch.clear();
        return { ...this.report(from, true), quietUntil };
      }
    }
    if (this.failure === undefined) this.run.advance(justAfter(this.run.time));
    if (trace !== undefined && this.failure === undefined) {
      this.trace.standAt(contacts);
      this.retrace(start, from, trace);
    }
    return this.report(from, true);
  }

  /** Goes a way once more for what is to be drawn of it: how far it would lead was not known before. */
  private retrace(start: ReturnType<LiveRun['checkpoint']>, from: number, wish: TraceWish): void {
    const until = this.run.time;
    const again = new LiveRun(this.board.circuit, {
      observers: [this.trace],
      from: start,
      maxEvents: Number.MAX_SAFE_INTEGER,
    });
    this.trace.open(wish, from, until);
    again.advance(until);
  }

  /** Works a part of the board: to its other position, or back. */
  work(part: string, pressed: boolean): void {
    const link = [...this.board.links].find(([, name]) => name === part);
    const name = link?.[0] ?? this.board.prefix + part;
    this.watch.worked(name);
    if (pressed) this.held.add(name);
    else this.held.delete(name);
    if (pressed) this.run.press(name);
    else this.run.release(name);
  }

  /** What has begun anew with changed values is held again where a hand holds it. */
  private holdAgain(): void {
    this.watch.startAnew(this.run.time);
    this.trace.standAt();
    for (const name of this.held) {
      this.watch.worked(name);
      this.run.press(name);
    }
  }

  /**
   * Goes on with changed values; capacitors keep their voltages. True where the run began anew, because the board has
   * other parts or nets than before.
   */
  change(board: LiveBoard): boolean {
    const before = this.board;
    this.board = board;
    ({ timers: this.timers, high: this.high } = factsOf(board));
    if (this.failure === undefined && before.prefix === board.prefix) {
      try {
        if (!this.run.set(board.circuit)) this.holdAgain();
        return false;
      } catch (error) {
        if (!(error instanceof TypeError)) throw error;
      }
    }
    this.failure = undefined;
    this.held.clear();
    this.watch = new LiveWatch(board.circuit, board.prefix, board.links);
    this.trace = new LiveTrace(board, watchesOf(board));
    this.faults = this.newFaults();
    this.grazes = new GrazeWatch();
    this.run = this.newRun();
    return true;
  }

  /** What parts do beyond their limits, from the start of the run on. */
  private newFaults(): ReturnType<typeof faultObserver> {
    return faultObserver(() => this.board.circuit, { from: 0, until: Infinity }, this.board.prefix);
  }

  private newRun(from?: ReturnType<LiveRun['checkpoint']>): LiveRun {
    return new LiveRun(this.board.circuit, {
      observers: [this.watch, this.faults, this.grazes, this.trace],
      from,
      maxEvents: Number.MAX_SAFE_INTEGER,
    });
  }

  private report(from: number, whole: boolean): LiveReport {
    const { run, watch, failure } = this;
    const trace = this.trace.close();
    const report = {
      time: run.time,
      done: run.time - from,
      events: watch.events,
      happened: watch.happened,
      parts: watch.partSlices((part) => run.value(`current(${part})`)),
      outputs: watch.outputSlices(),
      buzzers: watch.buzzerSlices(from, run.time),
      ...(whole ? { state: this.state() } : {}),
      ...(trace === undefined ? {} : { trace }),
      ...(failure === undefined ? {} : { failure: { message: failure } }),
    };
    // What a hand does between two slices belongs to the next one.
    watch.clear();
    return report;
  }

  private state(): LiveState {
    const { run, board } = this;
    const nets: Record<string, number> = {};
    for (const net of board.circuit.nets) nets[this.short(net)] = run.value(net);
    const currents: Record<string, number> = {};
    for (const { name } of board.circuit.parts.filter(({ kind }) => kind === 'led' || kind === 'speaker')) {
      currents[this.short(name)] = run.value(`current(${name})`);
    }
    const own = this.timers.filter(({ name }) => name.startsWith(board.prefix));
    const faults = this.faults.soFar(run.time).map(({ sentence }) => sentence);
    const grazes = this.grazes.words(board.prefix);
    const timers = own.map((timer) => this.timer(timer));
    return { nets, currents, timers, active: this.watch.activeParts, faults, grazes };
  }

  private timer({ name, output, threshold, control, trigger, lower }: TimerFacts): LiveTimer {
    const { run } = this;
    return {
      timer: this.short(name),
      outputHigh: run.value(output) > this.high,
      since: this.watch.since.get(name),
      threshold: { value: run.value(threshold), limit: run.value(control) },
      trigger: { value: run.value(trigger), limit: run.value(lower) },
    };
  }

  private short(name: string): string {
    const { prefix } = this.board;
    return name.startsWith(prefix) ? name.slice(prefix.length) : name;
  }
}

function watchesOf({ circuit }: LiveBoard): ConstructorParameters<typeof LiveTrace>[1] {
  return circuit.parts.flatMap((part) => [...contactsOf(part)]);
}

function factsOf({ circuit }: LiveBoard): { readonly timers: readonly TimerFacts[]; readonly high: number } {
  return { timers: timersOf(circuit), high: highLevel(circuit) };
}

function justAfter(time: number): number {
  return time + Math.max(LEAST, SAME_INSTANT * time);
}
