import type { Circuit, Part } from '#sim/circuit/description.ts';
import type { TimerParameters } from '#sim/device/families.ts';
import type { Wave } from '#sim/signal/wave.ts';
import { cornersOf, supplyCorners } from './corners.ts';
import {
  type Corner,
  type Curve,
  fading,
  limited,
  line,
  type NodalBranch,
  type NodalBuzzer,
  type NodalCapacitor,
  type NodalContact,
  type NodalModel,
  type NodalSource,
  type NodalSurge,
  type NodalTimer,
  type NodalTransistor,
  type NodalWinding,
  OPEN,
  oneWay,
} from './model.ts';

/** Volts over which a timer's bias currents and its supply current fade, and where an open RESET floats (V). */
const [BIAS_HEADROOM, SUPPLY_HEADROOM, RESET_FLOAT] = [0.5, 1, 1.4];
/** Share of its drive below which a transistor lets go. */
const RELEASE = 0.5;

type Numbers = Readonly<Record<string, number>>;
type Presses = readonly { readonly at: number; readonly for: number }[];

/** The plain model of a checked circuit; sources are worked out up to `until` (s). */
export function nodalModelOf(circuit: Circuit, until: number): NodalModel {
  const reader = new Reader(until);
  for (const part of circuit.parts) reader.read(part);
  return reader;
}

class Reader implements NodalModel {
  readonly nodes = new Map([['ground', 0]]);
  readonly branches: NodalBranch[] = [];
  readonly capacitors: NodalCapacitor[] = [];
  readonly sources: NodalSource[] = [];
  readonly contacts: NodalContact[] = [];
  readonly timers: NodalTimer[] = [];
  readonly transistors: NodalTransistor[] = [];
  readonly windings: NodalWinding[] = [];
  readonly buzzers: NodalBuzzer[] = [];

  /** The part being read. */
  private part = '';

  constructor(private readonly until: number) {}

  get nodeCount(): number {
    return this.nodes.size;
  }

  read(part: Part): void {
    this.part = part.name;
    const { kind, name, nets, values } = part;
    const numbers = values as Numbers;
    const a = this.node(nets['a'] ?? nets['plus'] ?? 'ground');
    const b = this.node(nets['b'] ?? nets['minus'] ?? 'ground');
    switch (kind) {
      case 'supply':
        return this.source(a, b, numbers['resistance']!, supplyCorners(numbers['voltage']!, values['changes'] as []));
      case 'signal':
        return this.source(a, b, numbers['resistance']!, cornersOf(values['wave'] as Wave, this.until));
      case 'resistor':
      case 'speaker':
        return this.resistance(a, b, numbers['resistance']!);
      case 'pot': {
        const { resistance, position, end } = numbers as { resistance: number; position: number; end: number };
        const wiper = this.node(nets['wiper']!);
        this.resistance(a, wiper, end + position * resistance);
        return this.resistance(wiper, b, end + (1 - position) * resistance);
      }
      case 'capacitor':
        return this.capacitor(name, a, b, numbers);
      case 'probe':
        this.resistance(a, b, numbers['resistance']!);
        if (numbers['capacitance']! > 0) this.farads(a, b, numbers['capacitance']!, 0);
        return;
      case 'diode':
      case 'led':
        this.branch(a, b, [oneWay(numbers['forward']!, numbers['slope']!)]);
        return;
      case 'source':
        this.branch(a, b, [fading(numbers['current']!, numbers['headroom']!)]);
        return;
      case 'button':
      case 'jumper':
      case 'switch':
        return this.contact(name, a, b, numbers['resistance']!, values['closed'] as boolean, part);
      case 'finger': {
        const body = this.body(part);
        return this.contact(name, a, body, numbers['resistance']!, false, part);
      }
      case 'transistor':
        return this.transistor(part);
      case 'buzzer':
        this.resistance(a, b, numbers['resistance']!);
        this.buzzers.push({ part: name, plus: a, minus: b, least: numbers['least']! });
        return;
      case 'relay':
      case 'solenoid':
        return this.winding(part, a, b);
      case 'timer':
        return this.timer(part);
      default:
        throw new RangeError(`nodal model: no part kind ${kind}`);
    }
  }

  private node(net: string): number {
    const known = this.nodes.get(net) ?? this.nodes.size;
    this.nodes.set(net, known);
    return known;
  }

  private branch(a: number, b: number, curves: readonly Curve[], start = 0, source?: number): number {
    return (
      this.branches.push({ part: this.part, a, b, curves, start, ...(source === undefined ? {} : { source }) }) - 1
    );
  }

  private resistance(a: number, b: number, ohms: number): void {
    if (ohms < Infinity) this.branch(a, b, [line(0, ohms)]);
  }

  private farads(a: number, b: number, farads: number, initial: number): void {
    this.capacitors.push({ a, b, farads, initial });
  }

  private source(a: number, b: number, ohms: number, corners: readonly Corner[]): void {
    this.branch(a, b, [line(0, ohms)], 0, this.sources.push({ corners }) - 1);
  }

  private capacitor(name: string, a: number, b: number, numbers: Numbers): void {
    const inner = numbers['series']! > 0 ? this.node(`${name}.inner`) : a;
    if (inner !== a) this.resistance(a, inner, numbers['series']!);
    this.farads(inner, b, numbers['capacitance']!, numbers['initial']!);
    this.resistance(inner, b, numbers['leakage']!);
  }

  /**
   * Somebody's body: a capacitance and a leak to earth, and mains that couples into it. Seen from the body the mains
   * voltage and its small capacitance are a smaller voltage behind both capacitances (Thevenin); a board that is not at
   * earth has nothing but stray capacitance to it.
   */
  private body({ name, values }: Part): number {
    const { capacitance, earth, hum, frequency, coupling, stray } = values as Numbers;
    const body = this.node(`${name}.body`);
    const room = values['earthed'] === true ? 0 : this.node(`${name}.earth`);
    if (room !== 0) this.farads(room, 0, stray!, 0);
    this.resistance(body, room, earth!);
    if (hum === 0) {
      this.farads(body, room, capacitance!, 0);
      return body;
    }
    const both = capacitance! + coupling!;
    const amplitude = hum! * (coupling! / both);
    const mains = this.node(`${name}.hum`);
    const wave: Wave = { shape: 'sine', frequency: frequency!, amplitude, offset: 0, phase: 0 };
    this.source(mains, room, 0, cornersOf(wave, this.until));
    this.farads(body, mains, both, 0);
    return body;
  }

  private contact(part: string, a: number, b: number, ohms: number, closed: boolean, { values }: Part): void {
    const presses = (values['presses'] ?? values['touches']) as Presses;
    const bounces = values['bounce'] !== undefined;
    const branch = this.branch(a, b, [OPEN, line(0, ohms)], closed ? 1 : 0);
    const changes = presses.flatMap(({ at, for: length }) => [
      { at, closed: !closed },
      { at: at + length, closed },
    ]);
    this.contacts.push({ part, branch, changes, bounces });
  }

  private transistor({ name, nets, values }: Part): void {
    const { gain, drive, forward, saturation, slope } = values as Numbers;
    const npn = values['polarity'] === 'npn';
    const [basis, collector, emitter] = ['base', 'collector', 'emitter'].map((pin) => this.node(nets[pin]!));
    const [plus, minus] = npn ? [basis!, emitter!] : [emitter!, basis!];
    const base = this.branch(plus, minus, [oneWay(forward!, slope!)]);
    const [from, to] = npn ? [collector!, emitter!] : [emitter!, collector!];
    if (gain !== undefined) {
      const amplifies = { by: base, gain };
      this.branches.push({
        part: name,
        a: from,
        b: to,
        curves: [OPEN, oneWay(saturation!, slope!)],
        start: 0,
        amplifies,
      });
      return;
    }
    this.transistors.push({
      part: name,
      plus,
      minus,
      on: forward! + slope! * drive!,
      off: forward! + slope! * drive! * RELEASE,
      collector: this.branch(from, to, [OPEN, oneWay(saturation!, slope!)]),
    });
  }

  private winding({ name, nets, values }: Part, plus: number, minus: number): void {
    const { resistance, pullIn, dropOut, operateTime, releaseTime } = values as Numbers;
    this.resistance(plus, minus, resistance!);
    const common = nets['common'];
    const contact = (terminal: string, closed: boolean): number[] =>
      common === undefined || nets[terminal] === undefined
        ? []
        : [
            this.branch(
              this.node(common),
              this.node(nets[terminal]),
              [OPEN, line(0, (values as Numbers)['contactResistance']!)],
              closed ? 1 : 0,
            ),
          ];
    if (common !== undefined) this.resistance(minus, this.node(common), (values as Numbers)['insulation']!);
    this.windings.push({
      part: name,
      plus,
      minus,
      on: pullIn! * resistance!,
      off: dropOut! * resistance!,
      operate: operateTime!,
      release: releaseTime!,
      makes: contact('normallyOpen', false),
      breaks: contact('normallyClosed', true),
      bounces: values['bounce'] !== undefined,
    });
  }

  private timer({ name, nets, values }: Part): void {
    const p = values['parameters'] as TimerParameters;
    const set = values['start'] === 'set';
    const pin = (terminal: string): number => this.node(nets[terminal] ?? `${name}.${terminal}`);
    const [supply, ground, trigger, threshold, output, control] = [
      'supply',
      'ground',
      'trigger',
      'threshold',
      'output',
      'control',
    ].map(pin) as [number, number, number, number, number, number];
    const lower = this.node(`${name}.lower`);
    const reset = nets['reset'] === undefined ? undefined : this.node(nets['reset']);
    this.resistance(supply, control, p.dividerResistance);
    this.resistance(control, lower, p.dividerResistance);
    this.resistance(lower, ground, p.dividerResistance);
    if (threshold !== ground) this.branch(threshold, ground, [fading(p.thresholdCurrent, BIAS_HEADROOM)]);
    if (trigger !== supply) this.branch(supply, trigger, [fading(p.triggerCurrent, BIAS_HEADROOM)]);
    // Out of RESET while it is below its floating level, so ground to RESET, with that level as a source against it.
    if (reset !== undefined && p.resetCurrent > 0) {
      this.branch(ground, reset, [oneWay(-RESET_FLOAT, RESET_FLOAT / p.resetCurrent)]);
    }
    // Two junctions for every input, whatever else is on its net (the user's documentation).
    for (const input of ['trigger', 'threshold', 'control', ...(reset === undefined ? [] : ['reset'])]) {
      const at = pin(input);
      const up = input === 'trigger' ? p.triggerClampDrop : p.clampDrop;
      if (at !== supply && at !== ground && p.clampDrop < Infinity) {
        this.branch(ground, at, [oneWay(p.clampDrop, p.clampResistance)]);
      }
      if (at !== supply && at !== ground && up < Infinity) this.branch(at, supply, [oneWay(up, p.clampResistance)]);
    }
    const stage = p.outputOneWay ? oneWay : line;
    const start = set ? 1 : 0;
    const upper = stage(p.outputHighDrop, p.outputHighResistance);
    const below = stage(p.outputLowSaturation, p.outputLowResistance);
    const followers = [
      this.branch(supply, output, [OPEN, upper], start),
      this.branch(output, ground, [below, OPEN], start),
      this.branch(
        supply,
        ground,
        [fading(p.supplyCurrentLow, SUPPLY_HEADROOM), fading(p.supplyCurrentHigh, SUPPLY_HEADROOM)],
        start,
      ),
    ];
    if (nets['discharge'] !== undefined) {
      const sink = limited(p.dischargeSaturation, p.dischargeResistance, p.dischargeCurrent);
      const leak = fading(p.dischargeLeakage, BIAS_HEADROOM);
      followers.push(this.branch(this.node(nets['discharge']), ground, [sink, leak], start));
    }
    const { resetLevel, delay, minimumTrigger } = p;
    const pins = { trigger, threshold, control, lower, ground, reset };
    const surge = this.surge(supply, ground, p);
    this.timers.push({ part: name, set, ...pins, resetLevel, delay, minimumTrigger, followers, surge });
  }

  /** A charge from supply to ground as a constant current for a time; it fades as the supply current does. */
  private surge(supply: number, ground: number, p: TimerParameters): NodalSurge | undefined {
    if (p.transitionCharge === 0) return undefined;
    const flowing = fading(p.transitionCharge / p.transitionTime, SUPPLY_HEADROOM);
    return { branch: this.branch(supply, ground, [OPEN, flowing]), time: p.transitionTime };
  }
}
