import { expect } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { type ExponentialSum, integral, productIntegral, valueAt } from '#sim/core/exponential-sum.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { SegmentView, SignalTable } from '#sim/trace/frame.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { SignalSum } from '#sim/trace/signal-sum.ts';
import { chargeScale } from './charge-scale.ts';
import type { NodalBranch, NodalModel, Section } from './nodal/model.ts';
import { nodalModelOf } from './nodal/read-circuit.ts';

/** Share of its terms by which rounding may change an integral over a segment. */
const SHARE = 1e-10;
/**
 * Volts by which rounding may change the voltage across a branch: units of the last place of 20 V, magnified by the ratio
 * of the largest resistance to the one that the branch has, up to 1e5. Over a resistance that is a current, over a
 * capacitance a charge.
 */
const STALE = 1e-9;
/** Volts by which capacitors may jump where nothing in the circuit lets them. */
const JUMP = 1e-8;

/** Something added up over a run, and how much of it rounding may be. */
class Total {
  value = 0;
  rounding = 0;

  add(value: number, rounding: number): void {
    this.value += value;
    this.rounding += rounding;
  }
}

/**
 * Adds up, over a whole run with all its events and jumps, the charge that every branch takes from net to net and the
 * energy it takes in, by the branch's own curve as the tests read it from the part, from nothing but the voltages that the
 * run shows. At the end:
 *
 * - Charge: for every net, or group of nets that something without resistance may join, what all branches have taken out
 *   since time 0 and what its capacitors hold more than at the start add up to nothing. The capacitors' share is C times
 *   the change of voltage from start to end, so every jump counts.
 * - Energy, in circuits where nothing makes capacitors jump: what sources gave is what all else took in and capacitors
 *   hold more than at the start.
 */
export class BalanceWatch implements Observer {
  private readonly model: NodalModel;
  private readonly names: readonly string[];
  private signals: SignalTable = { nets: [], currents: [] };
  private readonly curve: number[];
  /** Until when the surge of each timer's latest change of output lasts (s). */
  private readonly surges: number[];
  private readonly charges: Total[];
  private readonly energy = new Total();
  private readonly sum = new SignalSum();
  /** Voltages of the capacitors at the start of the first segment, and at the end of the latest. */
  private first: readonly number[] | undefined;
  private last: readonly number[] = [];

  /** @param energy whether energy is balanced as well: nothing may make capacitors jump then. */
  constructor(
    circuit: Circuit,
    until: number,
    private readonly energyToo: boolean,
  ) {
    this.model = nodalModelOf(circuit, until);
    this.names = [...this.model.nodes.keys()];
    this.curve = this.model.branches.map(({ start }) => start);
    this.surges = this.model.timers.map(() => -Infinity);
    this.charges = this.model.branches.map(() => new Total());
  }

  begin(signals: SignalTable): void {
    this.signals = signals;
  }

  event({ part, kind, time }: RunEvent): void {
    const { contacts, timers, transistors, windings } = this.model;
    if (kind === 'close' || kind === 'open') {
      const curve = kind === 'close' ? 1 : 0;
      for (const contact of contacts) if (contact.part === part) this.curve[contact.branch] = curve;
      for (const transistor of transistors) if (transistor.part === part) this.curve[transistor.collector] = curve;
    }
    if (kind === 'pulledIn' || kind === 'droppedOut') {
      const { makes, breaks } = windings.find((each) => each.part === part)!;
      for (const branch of makes) this.curve[branch] = kind === 'pulledIn' ? 1 : 0;
      for (const branch of breaks) this.curve[branch] = kind === 'pulledIn' ? 0 : 1;
    }
    if (kind === 'outputHigh' || kind === 'outputLow') {
      const index = timers.findIndex((each) => each.part === part);
      const { followers, surge } = timers[index]!;
      for (const branch of followers) this.curve[branch] = kind === 'outputHigh' ? 1 : 0;
      if (surge !== undefined) this.surges[index] = time + surge.time;
    }
  }

  segment(view: SegmentView): void {
    this.model.timers.forEach(({ surge }, k) => {
      if (surge !== undefined) this.curve[surge.branch] = view.start + view.length / 2 < this.surges[k]! ? 1 : 0;
    });
    this.model.branches.forEach((branch, k) => this.addBranch(branch, k, view));
    const start = this.capacitorVolts(view, 0);
    if (this.energyToo && this.first !== undefined) {
      const jump = Math.max(0, ...start.map((volts, k) => Math.abs(volts - this.last[k]!)));
      expect(jump, `jump of a capacitor at ${view.start} s`).toBeLessThanOrEqual(JUMP);
    }
    this.first ??= start;
    this.last = this.capacitorVolts(view, view.length);
  }

  end(time: number): void {
    if (this.first === undefined) return;
    for (const group of this.groups()) this.balanceCharge(group, time);
    if (this.energyToo) this.balanceEnergy(time, this.first);
  }

  private addBranch(branch: NodalBranch, k: number, view: SegmentView): void {
    const { sum } = this;
    const { length } = view;
    sum.load(view, this.net(branch.a), this.net(branch.b));
    if (Math.min(...branch.curves.flat().map(({ ohms }) => ohms)) === 0) {
      // It joins its nets, so their charge asks for no current; only a source without resistance gives energy.
      if (this.energyToo && branch.source !== undefined) {
        const current = new SignalSum().load(
          view,
          this.signals.nets.length + this.signals.currents.indexOf(branch.part),
        );
        const size = this.volts();
        this.energy.add(
          productIntegral(sum, current, length),
          SHARE * size * (chargeScale(current, length) + length * STALE),
        );
      }
      return;
    }
    if (branch.amplifies !== undefined) {
      const { by, gain } = branch.amplifies;
      const base = this.model.branches[by]!;
      const control = sectionOf(
        base.curves[0]!,
        new SignalSum().load(view, this.net(base.a), this.net(base.b)),
        length,
      );
      const limit = branch.curves[1]![1]!;
      const [inside, forward] = [control.section.ohms, control.section.volts];
      /** What saturation would let through beyond what the base asks for (A). */
      const spare = (time: number): number =>
        (valueAt(sum, time) - limit.volts) / limit.ohms -
        (inside === Infinity ? 0 : (gain * (valueAt(control.sum, time) - forward)) / inside);
      const most = TIMES.map((share) => spare(share * length)).reduce((p, q) => (Math.abs(q) > Math.abs(p) ? q : p));
      this.curve[k] = most > 0 ? 0 : 1;
      if (this.curve[k] === 0) {
        if (inside === Infinity) return;
        const share = gain / inside;
        const volts = chargeScale(control.sum, length) + forward * length;
        const rounding = share * (SHARE * volts + STALE * length);
        this.charges[k]!.add(share * (integral(control.sum, length) - forward * length), rounding);
        if (this.energyToo) {
          const energy = share * (productIntegral(sum, control.sum, length) - forward * integral(sum, length));
          this.energy.add(energy, rounding * this.volts());
        }
        return;
      }
    }
    const { section } = sectionOf(branch.curves[this.curve[k]!]!, sum, length);
    const { ohms, amperes } = section;
    const source = this.sourceAt(branch, view);
    const offset = section.volts + source.level;
    let charge = amperes * length;
    let energy = 0;
    if (this.energyToo) energy = amperes * integral(sum, length);
    let rounding = amperes * length * SHARE;
    if (ohms < Infinity) {
      if (this.energyToo)
        energy += (productIntegral(sum, sum, length) - this.timesSource(offset, source.slope, length)) / ohms;
      charge += (integral(sum, length) - (offset + (source.slope * length) / 2) * length) / ohms;
      rounding += (SHARE * (chargeScale(sum, length) + Math.abs(offset) * length) + STALE * length) / ohms;
    }
    this.charges[k]!.add(charge, rounding);
    this.energy.add(energy, rounding * this.volts());
  }

  /** Integral of the loaded voltage times a source's. */
  private timesSource(level: number, slope: number, length: number): number {
    const { sum } = this;
    const source = { constant: level, slope, coefficients: sum.coefficients.map(() => 0), rates: sum.rates };
    return productIntegral(sum, source, length);
  }

  /** The size of the loaded voltage's terms (V), however small their sum is. */
  private volts(): number {
    const { constant, coefficients } = this.sum;
    return 20 + coefficients.reduce((total, coefficient) => total + Math.abs(coefficient), Math.abs(constant));
  }

  private sourceAt(
    { source }: NodalBranch,
    { start, startLow, length }: SegmentView,
  ): { level: number; slope: number } {
    if (source === undefined) return { level: 0, slope: 0 };
    const corner = this.model.sources[source]!.corners.findLast(({ at }) => at <= start + length / 2)!;
    return { level: corner.level + corner.slope * (start - corner.at + startLow), slope: corner.slope };
  }

  private capacitorVolts(view: SegmentView, time: number): number[] {
    return this.model.capacitors.map(({ a, b }) => valueAt(this.sum.load(view, this.net(a), this.net(b)), time));
  }

  private balanceCharge(group: ReadonlySet<number>, time: number): void {
    const total = new Total();
    const leaving = (a: number, b: number): number => Number(group.has(a)) - Number(group.has(b));
    this.model.branches.forEach(({ a, b }, k) => {
      const { value, rounding } = this.charges[k]!;
      total.add(leaving(a, b) * value, Math.abs(leaving(a, b)) * rounding);
    });
    this.model.capacitors.forEach(({ a, b, farads, initial }, k) => {
      const out = leaving(a, b) * farads;
      total.add(out * (this.last[k]! - initial), Math.abs(out) * (STALE + SHARE * Math.abs(this.last[k]! - initial)));
    });
    if (Math.abs(total.value) <= total.rounding) return;
    const names = [...group].map((node) => this.names[node]).join(', ');
    expect.fail(`${names}: ${total.value} C too much taken by ${time} s, of ${total.rounding} C rounding`);
  }

  private balanceEnergy(time: number, first: readonly number[]): void {
    const total = new Total();
    total.add(this.energy.value, this.energy.rounding);
    this.model.capacitors.forEach(({ farads }, k) => {
      const [from, to] = [first[k]!, this.last[k]!];
      total.add((farads / 2) * (to * to - from * from), farads * STALE * (Math.abs(from) + Math.abs(to)));
    });
    if (Math.abs(total.value) <= total.rounding) return;
    expect.fail(`${total.value} J more taken than given by ${time} s, of ${total.rounding} J rounding`);
  }

  /** All nets, those in one group that something without resistance may join; the group of ground is left out. */
  private groups(): Set<number>[] {
    let groups = this.names.map((_, node) => new Set([node]));
    for (const { a, b, curves } of this.model.branches) {
      if (curves.flat().every(({ ohms }) => ohms > 0)) continue;
      const joined = groups.filter((group) => group.has(a) || group.has(b));
      groups = [...groups.filter((group) => !joined.includes(group)), new Set(joined.flatMap((group) => [...group]))];
    }
    return groups.filter((group) => !group.has(0));
  }

  private net(node: number): number {
    const name = this.names[node]!;
    const index = this.signals.nets.indexOf(name);
    if (index < 0 && name !== 'ground') throw new RangeError(`no net ${name}`);
    return index;
  }
}

/** Shares of a segment at which a voltage is read: it may leave a corner and settle on another long before the end. */
const TIMES = Array.from({ length: 40 }, (_, k) => 2 ** -k);

/** The section that a voltage keeps to for a segment. */
function sectionOf<Sum extends ExponentialSum>(
  curve: readonly Section[],
  sum: Sum,
  length: number,
): { readonly section: Section; readonly sum: Sum } {
  const volts = TIMES.map((share) => valueAt(sum, share * length));
  return { section: sectionAt(curve, clearest(curve, volts)), sum };
}

/** Of voltages in one segment, all on one section, the one furthest from a corner: others may stand on it to rounding. */
function clearest(curve: readonly Section[], volts: readonly number[]): number {
  const room = (voltage: number): number => Math.min(...curve.map(({ to }) => Math.abs(voltage - to)));
  return volts.reduce((best, voltage) => (room(voltage) > room(best) ? voltage : best));
}

function sectionAt(curve: readonly Section[], volts: number): Section {
  return curve.find(({ to }) => volts <= to) ?? curve.at(-1)!;
}
