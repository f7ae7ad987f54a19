import type { Part } from '../circuit/description.ts';
import type { Device, DeviceHost, Piece } from './contract.ts';
import type { TimerFamily, TimerParameters } from './families.ts';
import { always, fadingCurrent, OPEN, oneWay, thevenin } from './pieces.ts';
import { buildClamps } from './timer-clamps.ts';
import { SET_AT_START, timerReactor } from './timer-latch.ts';
import { watchTimerLimits } from './timer-limits.ts';
import { type Pins, timerNodes } from './timer-pins.ts';
import { buildSpike, buildSupplyCurrent, type Follower } from './timer-supply.ts';

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
    const start = part.values['start'] === 'set' ? SET_AT_START : 0;
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
