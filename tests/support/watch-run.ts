import { expect } from 'vitest';
import type { Circuit, Part } from '#sim/circuit/description.ts';
import { integral, valueAt } from '#sim/core/exponential-sum.ts';
import type { TimerParameters } from '#sim/device/families.ts';
import { timersOf } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { SegmentView, SignalTable } from '#sim/trace/frame.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { SignalSum } from '#sim/trace/signal-sum.ts';
import { chargeScale } from './charge-scale.ts';

/** Volts by which a comparator or a diode may be past its limit on a grid: far above rounding, far below anything seen. */
const VOLTS = 1e-8;

/**
 * Looks at a run from outside: on a dense grid of every segment no comparator that would act is past its limit, no
 * diode carries current backwards or holds off more than its forward voltage, and every number is finite. It knows the
 * timers' states from the events alone.
 */
export class Watchman implements Observer {
  segments = 0;
  private signals: SignalTable = { nets: [], currents: [] };
  private now = 0;
  private readonly timers: TimerWatch[];
  private readonly junctions: readonly Part[];
  private readonly capacitors: readonly Part[];
  private readonly first = new SignalSum();
  private readonly second = new SignalSum();

  constructor(circuit: Circuit) {
    this.junctions = circuit.parts.filter(({ kind }) => kind === 'diode' || kind === 'led');
    this.capacitors = circuit.parts.filter(
      ({ kind, values }) => kind === 'capacitor' && values['leakage'] === Infinity && values['series'] === 0,
    );
    const facts = timersOf(circuit);
    this.timers = circuit.parts
      .filter(({ kind }) => kind === 'timer')
      .map((part, k) => new TimerWatch(part, facts[k]!.control, facts[k]!.lower));
  }

  begin(signals: SignalTable): void {
    this.signals = signals;
  }

  event(event: RunEvent): void {
    const time = event.time + event.timeLow;
    expect(Number.isFinite(time)).toBe(true);
    expect(time).toBeGreaterThanOrEqual(this.now * (1 - 4 * Number.EPSILON));
    for (const timer of this.timers) if (timer.part.name === event.part) timer.follow(event);
  }

  segment(view: SegmentView): void {
    this.segments++;
    const { start, startLow, length, frame, amplitudes } = view;
    const n = frame.rates.length;
    expect(length).toBeGreaterThan(0);
    expect(Math.abs(start + startLow - this.now)).toBeLessThanOrEqual(4 * Number.EPSILON * this.now);
    this.now = start + startLow + length;
    const numbers = [frame.rates, frame.rows, frame.constants, frame.slopes, amplitudes.subarray(0, n)];
    for (const list of numbers) if (!list.every(Number.isFinite)) expect(list).toBe('finite');
    const grid = gridOf(view);
    for (const timer of this.timers) {
      for (const [above, below, offset] of timer.limits()) {
        this.first.load(view, this.net(above), this.net(below));
        for (const time of grid) {
          const past = valueAt(this.first, time) - offset;
          if (past > VOLTS) {
            expect.fail(`${timer.part.name}: ${above} is ${past} V past ${below} + ${offset} V at ${start + time} s`);
          }
        }
      }
    }
    for (const part of this.junctions) this.checkJunction(part, view, grid);
    for (const part of this.capacitors) this.checkCharge(part, view);
  }

  private checkJunction(part: Part, view: SegmentView, grid: readonly number[]): void {
    const { forward, slope } = part.values as { forward: number; slope: number };
    this.first.load(view, this.net(part.nets['a']!), this.net(part.nets['b']!));
    this.second.load(view, this.current(part.name));
    for (const time of grid) {
      const [voltage, current] = [valueAt(this.first, time), valueAt(this.second, time)];
      const due = Math.max(0, (voltage - forward) / slope);
      if (Math.abs(current - due) * slope > VOLTS) {
        expect.fail(`${part.name}: ${current} A at ${voltage} V, ${due} A due, at ${view.start + time} s`);
      }
    }
  }

  /** The current's integral is the charge that the capacitor gained. */
  private checkCharge(part: Part, view: SegmentView): void {
    const capacitance = part.values['capacitance'] as number;
    this.first.load(view, this.net(part.nets['a']!), this.net(part.nets['b']!));
    this.second.load(view, this.current(part.name));
    const gained = capacitance * (valueAt(this.first, view.length) - valueAt(this.first, 0));
    const brought = integral(this.second, view.length);
    const size = chargeScale(this.second, view.length);
    // A current is C times a sum of rates times volts that cancels when all is still.
    const fastest = view.frame.rates.at(-1) ?? 0;
    const still = 1e-14 * capacitance * fastest * view.length;
    // A current source into gigohms aims at a million volts, and a voltage on its way there is known to some bits of that.
    const aim = this.first.coefficients.reduce((sum, term) => sum + Math.abs(term), 0);
    const volts = 1e-10 + 8 * Number.EPSILON * aim;
    if (!(Math.abs(gained - brought) <= 1e-10 * size + volts * capacitance + still)) {
      expect.fail(`${part.name}: gained ${gained} C, its current brought ${brought} C from ${view.start} s on`);
    }
  }

  private net(name: string): number {
    const index = this.signals.nets.indexOf(name);
    if (index < 0) throw new RangeError(`no net ${name}`);
    return index;
  }

  private current(part: string): number {
    return this.signals.nets.length + this.signals.currents.indexOf(part);
  }
}

/** What a timer's events say of it, and which comparators would act in that state. */
class TimerWatch {
  private triggered = false;
  private accepted = false;
  private resetting = false;
  private set: boolean;
  private readonly parameters: TimerParameters;

  constructor(
    readonly part: Part,
    private readonly control: string,
    private readonly lower: string,
  ) {
    this.set = part.values['start'] === 'set';
    this.parameters = part.values['parameters'] as TimerParameters;
  }

  follow({ kind }: RunEvent): void {
    if (kind === 'triggerLow') {
      this.triggered = true;
      if (this.parameters.minimumTrigger === 0) this.accepted = true;
    } else if (kind === 'triggerHigh') this.triggered = this.accepted = false;
    else if (kind === 'accepted') this.accepted = true;
    else if (kind === 'resetLow' || kind === 'resetHigh') this.resetting = kind === 'resetLow';
    else if (kind === 'set' || kind === 'cleared') this.set = kind === 'set';
  }

  /** Pairs of nets of which the first may not be above the second by more than the offset. */
  limits(): [above: string, below: string, offset: number][] {
    const { nets } = this.part;
    const { trigger, threshold, reset, ground } = nets as Record<string, string>;
    const found: [string, string, number][] = [];
    found.push(this.triggered ? [trigger!, this.lower, 0] : [this.lower, trigger!, 0]);
    if (reset !== undefined) {
      const level = this.parameters.resetLevel;
      found.push(this.resetting ? [reset, ground!, level] : [ground!, reset, -level]);
    }
    if (this.set && !this.accepted) found.push([threshold!, this.control, 0]);
    return found;
  }
}

/** Times of a segment: evenly spread, and crowding at its start down to the fastest time constant. */
function gridOf({ length, frame }: SegmentView): number[] {
  const even = Array.from({ length: 33 }, (_, k) => (k / 32) * length);
  const fastest = frame.rates.at(-1) ?? 0;
  const crowded = Array.from({ length: 24 }, (_, k) => 2 ** (k / 2) / (16 * fastest)).filter((time) => time < length);
  return [...even, ...(fastest > 0 ? crowded : [])];
}
