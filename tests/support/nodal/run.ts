import type { EventKind } from '#sim/trace/event.ts';
import { type ActiveBranch, capacitorVolts, type Equations, equationsOf } from './equations.ts';
import { dot } from './linear.ts';
import { CLEARLY, CLEARLY_BACK, type Guard } from './guard.ts';
import type { NodalModel } from './model.ts';
import { ImplicitSteps } from './implicit-steps.ts';
import { type Advance, firstMet } from './search.ts';
import { Steps } from './steps.ts';
import { TimerState } from './timer-state.ts';
import { WindingState } from './winding-state.ts';

/** What a part did and when (s). */
export interface NodalEvent {
  readonly part: string;
  readonly kind: EventKind;
  readonly time: number;
}

/** Events at one instant, and moves of branches from section to section, far more than any circuit needs. */
const MOST_AT_ONCE = 200;

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
  /** By how much all capacitors begin higher (V). */
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
  private readonly curve: number[];
  private readonly section: number[];
  private readonly corner: number[];
  private readonly timers: TimerState[];
  private readonly saturated: boolean[];
  /** Ways back of the branches that have met the ends of their sections at this instant. */
  private readonly waysBack = new Set<string>();
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
    this.volts = model.capacitors.map(({ initial }) => initial + options.lift);
    this.curve = model.branches.map(({ start }) => start);
    this.section = model.branches.map(() => 0);
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
    if (this.curve[branch] === curve) return;
    this.curve[branch] = curve;
    this.section[branch] = 0;
  }

  record(part: string, kind: EventKind): void {
    this.events.push({ part, kind, time: this.time });
  }

  private activeBranches(): ActiveBranch[] {
    return this.model.branches.map(({ a, b, curves, source, amplifies }, k) => {
      const section = curves[this.curve[k]!]![this.section[k]!]!;
      const control = this.curve[k] === 0 ? amplifies : undefined;
      if (source === undefined) return { a, b, section, level: 0, slope: 0, control };
      const { at, level, slope } = this.model.sources[source]!.corners[this.corner[source]!]!;
      return { a, b, section, level: level + slope * (this.time - at), slope };
    });
  }

  /** The equations of now; those of a mode whose sources stand still are kept. */
  private equations(): Equations {
    const branches = this.activeBranches();
    if (branches.some(({ slope }) => slope !== 0)) return equationsOf(this.model, branches);
    const key = `${this.curve.join()} ${this.section.join()} ${branches.map(({ level }) => level).join()}`;
    const known = this.known.get(key) ?? equationsOf(this.model, branches);
    this.known.set(key, known);
    return known;
  }

  /** Ways out of the sections that branches are on, in the order of the branches; rank 0. */
  private exits(): Guard[] {
    return this.model.branches.flatMap(({ a, b, curves }, k) => {
      const { from, to } = curves[this.curve[k]!]![this.section[k]!]!;
      const here = this.section[k]!;
      const moving = (by: number): Pick<Guard, 'rank' | 'way' | 'back' | 'fire'> => ({
        rank: 0,
        way: `${k}: ${here} to ${here + by}`,
        back: `${k}: ${here + by} to ${here}`,
        fire: () => void (this.section[k]! += by),
      });
      const guards: Guard[] = [];
      if (to < Infinity) guards.push({ plus: a, minus: b, offset: to, ...moving(1) });
      if (from > -Infinity) guards.push({ plus: b, minus: a, offset: -from, ...moving(-1) });
      return [...guards, ...this.changeOver(k)];
    });
  }

  /** Where a branch that amplifies comes to what its other curve lets through, and the way back. */
  private changeOver(k: number): Guard[] {
    const { model, curve, section } = this;
    const { a, b, curves, amplifies } = model.branches[k]!;
    if (amplifies === undefined || (curve[k] === 1 && section[k] === 0)) return [];
    const base = model.branches[amplifies.by]!;
    const { ohms: inside, volts: forward } = base.curves[0]![section[amplifies.by]!]!;
    const { ohms, volts } = curves[1]![1]!;
    // What the other curve carries beyond this one, in volts across its resistance.
    const times = inside === Infinity ? 0 : (ohms * amplifies.gain) / inside;
    const offset = volts - times * forward;
    if (curve[k] === 1) {
      const back = (): void => void ([this.curve[k], this.section[k]] = [0, 0]);
      const also = { plus: base.b, minus: base.a, times };
      return [{ plus: a, minus: b, offset, also, rank: 0, way: `${k}: off`, back: `${k}: on`, fire: back }];
    }
    const over = (): void => void ([this.curve[k], this.section[k]] = [1, 1]);
    const also = { plus: base.a, minus: base.b, times };
    return [{ plus: b, minus: a, offset: -offset, also, rank: 0, way: `${k}: on`, back: `${k}: off`, fire: over }];
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
      const over = this.comparators().filter((guard) => valueOf(guard, equations, y) > CLEARLY);
      // What capacitors carry after the jump, if there was one.
      this.volts = capacitorVolts(this.model, equations, y);
      if (over.length === 0) return equations;
      over.sort((p, q) => p.rank - q.rank)[0]!.fire(this.time);
    }
    throw new Restless(`nodal run: no end of events at ${this.time} s`);
  }

  /** The first branch in order that is outside its section moves on (Murty's least index rule), until none is. */
  private settleSections(): { equations: Equations; y: number[] } {
    for (let round = 0; round < MOST_AT_ONCE; round++) {
      const equations = this.equations();
      const y = equations.start(this.volts);
      const exit = this.exits().find(
        (guard) => valueOf(guard, equations, y) > (this.isWayBack(guard) ? CLEARLY_BACK : CLEARLY),
      );
      if (exit === undefined) return { equations, y };
      exit.fire(this.time);
    }
    // With amplifiers in a loop there may be none.
    const loops = this.model.branches.some(({ amplifies }) => amplifies !== undefined);
    throw new (loops ? Restless : Error)(`nodal run: branches find no rest at ${this.time} s`);
  }

  private isWayBack({ way }: Guard): boolean {
    return way !== undefined && this.waysBack.has(way);
  }

  /** Advances to the first guard that is met, or to a time, and lets the guard act. */
  private advance(equations: Equations, to: number): void {
    const y = equations.start(this.volts);
    const length = to - this.time;
    const guards = [...this.exits(), ...this.comparators()];
    if (length <= 0) return;
    const steps = this.stepsOf(equations, length);
    const floors = guards.map((guard) => (this.isWayBack(guard) ? CLEARLY_BACK : 0));
    const found = firstMet(steps, equations, guards, floors, y, length);
    const before = this.time;
    this.volts = capacitorVolts(this.model, equations, found?.y ?? steps.after(y, length));
    this.time = found === undefined ? to : before + found.time;
    if (this.time > before) this.waysBack.clear();
    if (found?.guard.back !== undefined) this.waysBack.add(found.guard.back);
    found?.guard.fire(this.time);
  }

  private stepsOf(equations: Equations, length: number): Advance {
    const known = this.steps.get(equations);
    const { step } = this.options;
    const longest = step ?? length * MOST_OF_INTERVAL;
    if (known !== undefined && known.shortest <= longest) return known;
    const { rate, size } = equations;
    const still = new Array<number>(size + 2).fill(0);
    const f = [...rate, still, still.map((_, k) => (k === size ? 1 : 0))];
    const steps = step === undefined ? new Steps(f, longest) : new ImplicitSteps(f, step);
    this.steps.set(equations, steps);
    return steps;
  }
}

function valueOf(guard: Guard, equations: Equations, y: readonly number[]): number {
  const { nodes } = equations;
  const { plus, minus, offset, also } = guard;
  const more = also === undefined ? 0 : also.times * (dot(nodes[also.plus]!, y) - dot(nodes[also.minus]!, y));
  return dot(nodes[plus]!, y) - dot(nodes[minus]!, y) + more - offset;
}
