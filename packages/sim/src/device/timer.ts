import type { Part } from '../circuit/description.ts';
import type { EventKind } from '../trace/event.ts';
import type { Device, DeviceHost, Guard, Piece, Reaction, Reactor } from './contract.ts';
import type { TimerFamily, TimerParameters } from './families.ts';
import { always, fadingCurrent, OPEN, oneWay, thevenin } from './pieces.ts';
import { buildClamps } from './timer-clamps.ts';
import { watchTimerLimits } from './timer-limits.ts';
import { buildSpike, buildSupplyCurrent, type Follower, type Spike } from './timer-supply.ts';

/** Bits of the timer's discrete state. */
const LATCH = 1;
const TRIGGERED = 2;
const ACCEPTED = 4;
const RESET = 8;
const OUTPUT = 16;

/** Events of the timer's reactor. */
const TRIGGER_LOW = 0;
const TRIGGER_HIGH = 1;
const RESET_LOW = 2;
const RESET_HIGH = 3;
const THRESHOLD_OVER = 4;
const ACCEPT = 5;
const DELIVER = 6;
const SPIKE_OVER = 7;

const ACCEPT_SLOT = 0;
const DELIVER_SLOT = 1;
/** Only there where changes of the output draw a charge. */
const SPIKE_SLOT = 2;

/**
 * Volts over which an input's bias current fades as the pin nears the rail it comes from: 0.5 V, about a junction's
 * share; from memory.
 */
const BIAS_HEADROOM = 0.5;
/** Level that an open RESET pin floats to (V): two junctions; from memory. */
const RESET_FLOAT = 1.4;

/**
 * The 555-type timer. CONTROL is the upper tap of the divider, the trigger reference half of it. RESET beats TRIGGER,
 * TRIGGER beats THRESHOLD (truth table: sources page section 3, ICM 8-172). The latch acts at once; output stage and
 * discharge switch follow after the delay. Because TRIGGER beats THRESHOLD, the upper comparator matters only while the
 * latch is set and no trigger holds it: it is watched only then.
 */
export const timer: Device = {
  kind: 'timer',
  build(part, host) {
    const parameters = part.values['parameters'] as TimerParameters;
    const pins = timerNodes(part, host);
    const start = part.values['start'] === 'set' ? LATCH | OUTPUT : 0;
    buildDivider(part, host, parameters, pins);
    buildInputCurrents(part, host, parameters, pins);
    buildClamps(part.name, host, parameters, pins);
    const output = buildOutput(part, host, parameters, pins, start !== 0);
    const followers = [
      ...output,
      ...buildDischarge(part, host, parameters, pins, start !== 0),
      ...buildSupplyCurrent(part.name, host, parameters, pins, start !== 0),
    ];
    const spike = buildSpike(part.name, host, parameters, pins);
    host.reactor(timerReactor(part.name, parameters, pins, { followers, spike }, start));
    const branches = { high: output[0].branch, low: output[1].branch };
    watchTimerLimits(part.name, host, part.values['family'] as TimerFamily, parameters, pins, branches);
  },
};

interface Pins {
  readonly supply: number;
  readonly ground: number;
  readonly trigger: number;
  readonly threshold: number;
  readonly output: number;
  readonly control: number;
  readonly lower: number;
  readonly reset: number | undefined;
  readonly discharge: number | undefined;
}

function timerNodes(part: Part, host: DeviceHost): Pins {
  const optional = (pin: string): number | undefined =>
    part.nets[pin] === undefined ? undefined : host.node(part.nets[pin]);
  return {
    supply: host.node(part.nets['supply']!),
    ground: host.node(part.nets['ground']!),
    trigger: host.node(part.nets['trigger']!),
    threshold: host.node(part.nets['threshold']!),
    output: host.node(part.nets['output']!),
    control: host.node(part.nets['control'] ?? `${part.name}.control`),
    lower: host.node(`${part.name}.lower`),
    reset: optional('reset'),
    discharge: optional('discharge'),
  };
}

function buildDivider(part: Part, host: DeviceHost, parameters: TimerParameters, pins: Pins): void {
  const taps = [pins.supply, pins.control, pins.lower, pins.ground];
  for (let i = 0; i < 3; i++) {
    const pieces = always(thevenin(0, parameters.dividerResistance));
    host.branch({ part: part.name, a: taps[i]!, b: taps[i + 1]!, pieces, start: 0 });
  }
}

function buildInputCurrents(part: Part, host: DeviceHost, parameters: TimerParameters, pins: Pins): void {
  const { thresholdCurrent, triggerCurrent, resetCurrent } = parameters;
  const bias = (a: number, b: number, current: number): void => {
    if (current <= 0 || a === b) return;
    host.branch({ part: part.name, a, b, pieces: fadingCurrent(0, current, BIAS_HEADROOM), start: 2 });
  };
  bias(pins.threshold, pins.ground, thresholdCurrent);
  bias(pins.supply, pins.trigger, triggerCurrent);
  if (pins.reset !== undefined && resetCurrent > 0) {
    // A pull towards RESET_FLOAT that gives the published current at 0 V. It is drawn from the timer's ground: its small
    // share of the supply current is left out.
    const pieces: Piece[] = [
      { law: OPEN, exits: [{ watch: 'voltage', rising: false, limit: RESET_FLOAT, to: 1 }] },
      {
        law: thevenin(RESET_FLOAT, RESET_FLOAT / resetCurrent),
        exits: [{ watch: 'voltage', rising: true, limit: RESET_FLOAT, to: 0 }],
      },
    ];
    host.branch({ part: part.name, a: pins.reset, b: pins.ground, pieces, start: 0 });
  }
}

function buildOutput(
  part: Part,
  host: DeviceHost,
  p: TimerParameters,
  pins: Pins,
  high: boolean,
): [Follower, Follower] {
  const stage = (drop: number, resistance: number): Piece[] =>
    p.outputOneWay
      ? [...always(OPEN), ...oneWay(1, drop, resistance)]
      : [...always(OPEN), ...always(thevenin(drop, resistance))];
  const conducting = p.outputOneWay ? 2 : 1;
  const upper = host.branch({
    part: part.name,
    a: pins.supply,
    b: pins.output,
    pieces: stage(p.outputHighDrop, p.outputHighResistance),
    start: high ? conducting : 0,
  });
  const lower = host.branch({
    part: part.name,
    a: pins.output,
    b: pins.ground,
    pieces: stage(p.outputLowSaturation, p.outputLowResistance),
    start: high ? 0 : conducting,
  });
  return [
    { branch: upper, low: 0, high: conducting },
    { branch: lower, low: conducting, high: 0 },
  ];
}

/** Open (but for leakage), or a one-way sink with saturation voltage, resistance and current limit. */
function buildDischarge(part: Part, host: DeviceHost, p: TimerParameters, pins: Pins, high: boolean): Follower[] {
  if (pins.discharge === undefined) return [];
  const off = p.dischargeLeakage > 0 ? fadingCurrent(0, p.dischargeLeakage, BIAS_HEADROOM) : always(OPEN);
  const blocked = off.length;
  const [sleeping, sinking] = oneWay(blocked, p.dischargeSaturation, p.dischargeResistance);
  const on = [sleeping!, sinking!];
  // A sink without resistance empties its capacitor in the instant it is taken up, so it is only entered from the blocked
  // piece, when the voltage is known to be on its side, and from the limited one, when the rest can be taken at once.
  const abrupt = p.dischargeResistance === 0;
  if (Number.isFinite(p.dischargeCurrent)) {
    const limited = blocked + 2;
    const corner = p.dischargeSaturation + p.dischargeResistance * p.dischargeCurrent;
    const overload = { watch: 'current', rising: true, limit: p.dischargeCurrent, to: limited } as const;
    on[1] = { law: sinking!.law, exits: [...sinking!.exits, overload] };
    if (abrupt) on[0] = { law: OPEN, exits: [{ watch: 'voltage', rising: true, limit: corner, to: limited }] };
    on.push({
      law: { kind: 'current', current: p.dischargeCurrent },
      exits: [{ watch: 'voltage', rising: false, limit: corner, to: blocked + 1 }],
    });
  }
  const entry = abrupt ? blocked : blocked + 1;
  const leaking = off.length - 1;
  const branch = host.branch({
    part: part.name,
    a: pins.discharge,
    b: pins.ground,
    pieces: [...off, ...on],
    start: high ? leaking : entry,
  });
  return [{ branch, low: entry, high: leaking }];
}

function timerReactor(part: string, p: TimerParameters, pins: Pins, acts: Acts, start: number): Reactor {
  return {
    part,
    start,
    slots: acts.spike === undefined ? 2 : 3,
    mostGuards: 3,
    timetable: [],
    guards: (state) => timerGuards(state, p, pins),
    react(state, event) {
      const change = new Change(state, p, acts);
      switch (event) {
        case TRIGGER_LOW:
          change.record('triggerLow');
          change.state |= TRIGGERED;
          if (p.minimumTrigger > 0) change.schedule.push({ slot: ACCEPT_SLOT, after: p.minimumTrigger, event: ACCEPT });
          else change.accept('triggerLow');
          break;
        case TRIGGER_HIGH:
          change.record('triggerHigh');
          change.state &= ~(TRIGGERED | ACCEPTED);
          if (p.minimumTrigger > 0) change.cancel.push(ACCEPT_SLOT);
          break;
        case ACCEPT:
          change.record('accepted');
          change.accept('accepted');
          break;
        case RESET_LOW:
          change.record('resetLow');
          change.state |= RESET;
          change.latch(false, 'resetLow');
          break;
        case RESET_HIGH:
          change.record('resetHigh');
          change.state &= ~RESET;
          if (change.state & ACCEPTED) change.latch(true, 'resetHigh');
          break;
        case THRESHOLD_OVER:
          change.record('thresholdOver');
          change.latch(false, 'thresholdOver');
          break;
        case DELIVER:
          change.follow();
          break;
        case SPIKE_OVER:
          change.endSpike();
          break;
      }
      return change;
    },
  };
}

/** Which comparators matter in a state. RESET and TRIGGER always do; TRIGGER also because every pulse gets its fate. */
function timerGuards(state: number, p: TimerParameters, pins: Pins): Guard[] {
  const guards: Guard[] = [];
  if (pins.reset !== undefined) {
    guards.push(
      state & RESET
        ? {
            event: RESET_HIGH,
            // After TRIGGER: a trigger that ends at the same instant starts no interval any more.
            rank: 2.5,
            watch: { plus: pins.reset, minus: pins.ground, seen: 'plus' },
            offset: p.resetLevel,
          }
        : {
            event: RESET_LOW,
            rank: 1,
            watch: { plus: pins.ground, minus: pins.reset, seen: 'minus' },
            offset: -p.resetLevel,
          },
    );
  }
  guards.push(
    state & TRIGGERED
      ? { event: TRIGGER_HIGH, rank: 2, watch: { plus: pins.trigger, minus: pins.lower, seen: 'plus' }, offset: 0 }
      : { event: TRIGGER_LOW, rank: 2, watch: { plus: pins.lower, minus: pins.trigger, seen: 'minus' }, offset: 0 },
  );
  if (state & LATCH && !(state & ACCEPTED)) {
    guards.push({
      event: THRESHOLD_OVER,
      rank: 3,
      watch: { plus: pins.threshold, minus: pins.control, seen: 'plus' },
      offset: 0,
    });
  }
  return guards;
}

/** What follows the output of a timer. */
interface Acts {
  readonly followers: readonly Follower[];
  readonly spike: Spike | undefined;
}

/** A reaction under construction. */
class Change implements Reaction {
  readonly pieces: [number, number][] = [];
  readonly cancel: number[] = [];
  readonly records: { kind: EventKind; cause?: EventKind }[] = [];
  readonly schedule: { slot: number; after: number; event: number }[] = [];

  constructor(
    public state: number,
    private readonly parameters: TimerParameters,
    private readonly acts: Acts,
  ) {}

  record(kind: EventKind, cause?: EventKind): void {
    this.records.push(cause === undefined ? { kind } : { kind, cause });
  }

  accept(cause: EventKind): void {
    this.state |= ACCEPTED;
    if (!(this.state & RESET)) this.latch(true, cause);
  }

  latch(set: boolean, cause: EventKind): void {
    if (set === ((this.state & LATCH) !== 0)) return;
    this.state ^= LATCH;
    this.record(set ? 'set' : 'cleared', cause);
    if (this.parameters.delay > 0)
      this.schedule.push({ slot: DELIVER_SLOT, after: this.parameters.delay, event: DELIVER });
    else this.follow();
  }

  follow(): void {
    this.state ^= OUTPUT;
    const high = (this.state & OUTPUT) !== 0;
    for (const follower of this.acts.followers)
      this.pieces.push([follower.branch, high ? follower.high : follower.low]);
    this.record(high ? 'outputHigh' : 'outputLow');
    const { spike } = this.acts;
    if (spike === undefined) return;
    this.pieces.push([spike.branch, spike.flowing]);
    this.cancel.push(SPIKE_SLOT);
    this.schedule.push({ slot: SPIKE_SLOT, after: this.parameters.transitionTime, event: SPIKE_OVER });
  }

  endSpike(): void {
    const spike = this.acts.spike!;
    this.pieces.push([spike.branch, spike.idle]);
  }
}
