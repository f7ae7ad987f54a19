import type { EventKind } from '#sim/trace/event.ts';
import { type ActiveBranch, capacitorVolts, type Equations, equationsOf } from './equations.ts';
import { dot } from './linear.ts';
import { CLEARLY, type Guard } from './guard.ts';
import type { NodalModel } from './model.ts';
import { ImplicitSteps } from './implicit-steps.ts';
import { unitRow } from './long-row.ts';
import { type Advance, firstMet, rowOf } from './search.ts';
import { Sections } from './sections.ts';
import { Steps } from './steps.ts';
import { TimerState } from './timer-state.ts';
import { WindingState } from './winding-state.ts';

/** What a part did and when (s). */
export interface NodalEvent {
  readonly part: string;
  readonly kind: EventKind;
  readonly time: number;
}

/** A capacitor's voltage that differs by no more than this (V) has not jumped. */
const UNCHANGED = 1e-12;
/** Events at one instant, far more than any circuit needs. */
const MOST_AT_ONCE = 200;

/** Modes whose equations are kept. */
const MOST_KNOWN = 1000;
/** Rounds of a run, far more than the corners of its sources and the moves of its branches make. */
const MOST_ROUNDS = 20_000;

/** Multiples of it, less the whole numbers in them, lie as far apart as they can. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Rank of the upper comparator's guard. */
const THRESHOLD_RANK = 3;

/** Part of an interval that no step may exceed, so that it is looked at several times however slow it is. */
const MOST_OF_INTERVAL = 1 / 16;

/** How a nodal run is done. */
export interface NodalRunOptions {
  readonly until: number;
  readonly mostEvents: number;
  /** By how much all capacitors begin higher (V), at least: each by up to as much again, so that ties are undone. */
  readonly lift: number;
  /** By how much all comparators must be over their limits (V). */
  readonly margin: number;
  /** By how much THRESHOLD may be short of its limit and act all the same (V); 0, if not given. */
  readonly early?: number;
  /**
   * By up to which share of itself every waiting time is longer, each by another one, so that what comes at one instant for
   * several reasons has an order; 0, if not given.
   */
  readonly jitter?: number;
  /**
   * Where to begin drawing which of several branches outside their sections moves first, so that another state may be found
   * where there are several; the first one in order moves, if not given.
   */
  readonly seed?: number;
  /** Length of the steps of the implicit Euler method (s), where that is wanted instead of exponentials. */
  readonly step?: number;
}

/** The end of a run of the nodal model, and its events in order. */
export interface NodalRunResult {
  readonly events: readonly NodalEvent[];
  /** Up to where the events are complete (s). */
  readonly end: number;
  /** Whether it ended because parts switch without end at that instant. */
  readonly restless: boolean;
  /** Whether the model has got lost in the rounding of a corner and tells nothing from `end` on. */
  readonly lost: boolean;
}

/** Parts that switch without end at one instant. */
class Restless extends Error {}

/**
 * Runs the model: in each mode the equations are advanced by the exponential of their matrix over steps that grow with
 * the time since the last event, all guards are looked at after each step, and a crossing is halved down to rounding.
 */
export class NodalRun {
  readonly events: NodalEvent[] = [];
  private time = 0;
  private volts: number[];
  /** The same, and what floats, over the equations of the moment; see `Equations.holds`. */
  private y: readonly number[] | undefined;
  private holds = '';
  private readonly sections: Sections;
  private readonly corner: number[];
  private readonly timers: TimerState[];
  private readonly saturated: boolean[];
  private readonly windings: WindingState[];
  private readonly sounding: boolean[];
  /** How often something was asked to happen at a time. */
  private asked = 0;
  private readonly known = new Map<string, Equations>();
  private readonly steps = new WeakMap<Equations, Advance>();
  private readonly due: { at: number; fire: () => void; owner: unknown }[] = [];

  constructor(
    private readonly model: NodalModel,
    private readonly options: NodalRunOptions,
  ) {
    this.volts = model.capacitors.map(({ initial }, k) => initial + options.lift * (1 + ((k * GOLDEN) % 1)));
    this.sections = new Sections(model, options.seed);
    this.corner = model.sources.map(() => 0);
    this.saturated = model.transistors.map(() => false);
    this.windings = model.windings.map((winding) => new WindingState(winding, this));
    this.sounding = model.buzzers.map(() => false);
    this.timers = model.timers.map((timer) => new TimerState(timer, this));
    model.sources.forEach(({ corners }, k) => {
      for (let c = 1; c < corners.length; c++) this.at(corners[c]!.at, () => this.corner[k]!++);
    });
    if ([...model.contacts, ...model.windings].some(({ bounces }) => bounces))
      throw new RangeError('nodal run: no contact may bounce');
    const sinks = model.branches.flatMap(({ curves }) => curves.filter((curve) => curve.length > 1));
    if (sinks.flat().some(({ ohms }) => ohms === 0)) throw new RangeError('nodal run: one-way paths need a resistance');
    for (const { part, branch, changes } of model.contacts) {
      for (const { at, closed } of changes) {
        this.at(at, () => {
          this.take(branch, closed ? 1 : 0);
          this.record(part, closed ? 'close' : 'open');
        });
      }
    }
  }

  /** Runs to the end, or until there were enough events, or without end at one instant, or until it is lost. */
  run(): NodalRunResult {
    try {
      const lost = !this.runOn();
      return { events: this.events, end: this.time, restless: false, lost };
    } catch (error) {
      if (!(error instanceof Restless)) throw error;
      return { events: this.events, end: this.time, restless: true, lost: false };
    }
  }

  /** Whether it came to its end. */
  private runOn(): boolean {
    const { until, mostEvents } = this.options;
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const equations = this.settle();
      if (this.time >= until || this.events.length > mostEvents) return true;
      this.advance(equations, Math.min(until, this.due[0]?.at ?? until));
      while (this.due.length > 0 && this.due[0]!.at <= this.time) this.due.shift()!.fire();
    }
    return false;
  }

  /** Keeps what capacitors carry. */
  private keep(equations: Equations, y: readonly number[]): void {
    this.volts = capacitorVolts(this.model, equations, y);
    [this.y, this.holds] = [y, equations.holds];
  }

  /** Lets something happen at a time; of several at one time the earlier asked for comes first. */
  at(asked: number, fire: () => void, owner?: unknown): void {
    const { jitter = 0 } = this.options;
    const time = asked + jitter * ((++this.asked * GOLDEN) % 1) * (asked - this.time);
    const place = this.due.findIndex((other) => other.at > time);
    this.due.splice(place < 0 ? this.due.length : place, 0, { at: time, fire, owner });
  }

  /** Forgets what an owner has waiting. */
  forget(owner: unknown): void {
    for (let k = this.due.length - 1; k >= 0; k--) if (this.due[k]!.owner === owner) this.due.splice(k, 1);
  }

  take(branch: number, curve: number): void {
    this.sections.take(branch, curve);
  }

  record(part: string, kind: EventKind): void {
    this.events.push({ part, kind, time: this.time });
  }

  private activeBranches(): ActiveBranch[] {
    const { curve, section: sections } = this.sections;
    return this.model.branches.map(({ a, b, curves, source, amplifies }, k) => {
      const section = curves[curve[k]!]![sections[k]!]!;
      const control = curve[k] === 0 ? amplifies : undefined;
      if (source === undefined) return { a, b, section, level: 0, slope: 0, control };
      const { at, level, slope } = this.model.sources[source]!.corners[this.corner[source]!]!;
      return { a, b, section, level: level + slope * (this.time - at), slope };
    });
  }

  /** The equations of now; those of a mode whose sources stand still are kept. */
  private equations(): Equations {
    const branches = this.activeBranches();
    if (branches.some(({ slope }) => slope !== 0)) return equationsOf(this.model, branches);
    const { curve, section } = this.sections;
    const key = `${curve.join()} ${section.join()} ${branches.map(({ level }) => level).join()}`;
    const known = this.known.get(key) ?? equationsOf(this.model, branches);
    if (this.known.size > MOST_KNOWN) this.known.clear();
    this.known.set(key, known);
    return known;
  }

  private comparators(): Guard[] {
    const transistors = this.model.transistors.map(({ part, plus, minus, on, off, collector }, k): Guard => {
      const now = this.saturated[k]!;
      const fire = (): void => {
        this.saturated[k] = !now;
        this.take(collector, now ? 0 : 1);
        this.record(part, now ? 'open' : 'close');
      };
      return now
        ? { plus: minus, minus: plus, offset: -off, rank: 0, fire }
        : { plus, minus, offset: on, rank: 0, fire };
    });
    const buzzers = this.model.buzzers.map(({ part, plus, minus, least }, k): Guard => {
      const now = this.sounding[k]!;
      const fire = (): void => {
        this.sounding[k] = !now;
        this.record(part, now ? 'silent' : 'sounding');
      };
      return now
        ? { plus: minus, minus: plus, offset: -least, rank: 4, fire }
        : { plus, minus, offset: least, rank: 4, fire };
    });
    const reactors = [...this.timers, ...this.windings].flatMap((each) => each.guards());
    return [...transistors, ...reactors, ...buzzers].map((guard) => ({
      ...guard,
      offset: guard.offset + this.options.margin - (guard.rank === THRESHOLD_RANK ? (this.options.early ?? 0) : 0),
    }));
  }

  /** Settles the sections of all branches, then lets comparators act that are over, until nothing more happens. */
  private settle(): Equations {
    for (let round = 0; round < MOST_AT_ONCE; round++) {
      const { equations, y } = this.settleSections();
      const over = this.comparators().filter((guard) => dot(rowOf(guard, equations), y) > CLEARLY);
      // What capacitors carry after the jump, if there was one.
      this.keep(equations, y);
      if (over.length === 0) return equations;
      over.sort((p, q) => p.rank - q.rank)[0]!.fire(this.time);
    }
    throw new Restless(`nodal run: no end of events at ${this.time} s`);
  }

  private settleSections(): { equations: Equations; y: number[] } {
    const settled = this.sections.settle(() => {
      const equations = this.equations();
      return { equations, y: this.stateIn(equations) };
    });
    if (settled === undefined) throw new Restless(`nodal run: branches find no rest at ${this.time} s`);
    return settled;
  }

  /** y in some equations, at local time 0. Where nothing jumps it is what it was, without the rounding of a charge. */
  private stateIn(equations: Equations): number[] {
    const { volts, y: before, model } = this;
    if (before !== undefined && before.length === equations.size + 2 && this.holds === equations.holds) {
      const y = [...before.slice(0, -1), 0];
      const now = capacitorVolts(model, equations, y);
      if (now.every((value, k) => Math.abs(value - volts[k]!) <= UNCHANGED)) return y;
    }
    return equations.start(volts);
  }

  /** Advances to the first guard that is met, or to a time, and lets the guard act. */
  private advance(equations: Equations, to: number): void {
    const { sections } = this;
    const y = this.stateIn(equations);
    const length = to - this.time;
    if (length <= 0) return;
    const guards = [...sections.exits(), ...this.comparators()];
    const steps = this.stepsOf(equations, length);
    const found = firstMet(
      steps,
      equations,
      guards,
      guards.map((guard) => sections.isAfresh(guard)),
      y,
      length,
    );
    const before = this.time;
    this.keep(equations, found?.y ?? steps.after(y, length));
    this.time = found === undefined ? to : before + found.time;
    if (this.time > before) sections.waysBack.clear();
    if (found?.guard.back !== undefined) sections.waysBack.add(found.guard.back);
    found?.guard.fire(this.time);
  }

  private stepsOf(equations: Equations, length: number): Advance {
    const known = this.steps.get(equations);
    const { step } = this.options;
    const longest = step ?? length * MOST_OF_INTERVAL;
    if (known !== undefined && known.shortest <= longest) return known;
    const { rate, size } = equations;
    const f = [...rate, unitRow(size + 2, -1), unitRow(size + 2, size)];
    const steps = step === undefined ? new Steps(f, longest) : new ImplicitSteps(f, step);
    this.steps.set(equations, steps);
    return steps;
  }
}
