/**
 * A circuit as a plain list of branches and capacitors between numbered nodes (0 is ground), written for tests alone: it
 * reads a checked circuit's parts by the part table of the user's documentation and shares no code with the simulator.
 */
export interface NodalModel {
  readonly nodeCount: number;
  /** Node of every net and inner net. */
  readonly nodes: ReadonlyMap<string, number>;
  readonly branches: readonly NodalBranch[];
  readonly capacitors: readonly NodalCapacitor[];
  readonly sources: readonly NodalSource[];
  readonly contacts: readonly NodalContact[];
  readonly timers: readonly NodalTimer[];
  readonly transistors: readonly NodalTransistor[];
  readonly windings: readonly NodalWinding[];
  readonly buzzers: readonly NodalBuzzer[];
}

/**
 * One straight section of a branch's curve, for voltages between `from` and `to`:
 * i = (v - volts - source) / ohms + amperes. Endless `ohms` carry `amperes` alone, 0 ohms join the nodes.
 */
export interface Section {
  readonly ohms: number;
  readonly volts: number;
  readonly amperes: number;
  readonly from: number;
  readonly to: number;
}

/** Sections in the order of voltage. */
export type Curve = readonly Section[];

/** A branch from `a` to `b`; which of its curves holds is a matter of the part it belongs to. */
export interface NodalBranch {
  readonly part: string;
  readonly a: number;
  readonly b: number;
  readonly curves: readonly Curve[];
  /** Curve at the start. */
  readonly start: number;
  /** Source in series, if any. */
  readonly source?: number;
  /** On curve 0 it carries so many times the current of another branch instead; on curve 1 no more than that. */
  readonly amplifies?: { readonly by: number; readonly gain: number };
}

/** A capacitance with the voltage (a minus b) it starts with. */
export interface NodalCapacitor {
  readonly a: number;
  readonly b: number;
  readonly farads: number;
  readonly initial: number;
}

/** A voltage that is `level + slope (t - at)` from each corner on; the first corner is at 0. */
export interface NodalSource {
  readonly corners: readonly Corner[];
}

/** See {@link NodalSource}. */
export interface Corner {
  readonly at: number;
  readonly level: number;
  readonly slope: number;
}

/** A branch with curves 0 (open) and 1 (closed), and when it changes over. */
export interface NodalContact {
  readonly part: string;
  readonly branch: number;
  /** Without what bouncing adds. */
  readonly changes: readonly { readonly at: number; readonly closed: boolean }[];
  readonly bounces: boolean;
}

/** A timer's pins, numbers and the branches that follow its output: their curves are 0 for low and 1 for high. */
export interface NodalTimer {
  readonly part: string;
  readonly set: boolean;
  readonly trigger: number;
  readonly threshold: number;
  readonly control: number;
  readonly lower: number;
  readonly ground: number;
  readonly reset: number | undefined;
  readonly resetLevel: number;
  readonly delay: number;
  readonly minimumTrigger: number;
  readonly followers: readonly number[];
  /** What every change of the output draws from supply to ground, if anything: a branch whose curve 1 holds for `time` (s). */
  readonly surge: NodalSurge | undefined;
}

/** See {@link NodalTimer}. */
export interface NodalSurge {
  readonly branch: number;
  readonly time: number;
}

/** A transistor: saturates when `base` is `on` volts above `emitter` (in its own direction), lets go below `off`. */
export interface NodalTransistor {
  readonly part: string;
  readonly plus: number;
  readonly minus: number;
  readonly on: number;
  readonly off: number;
  readonly collector: number;
}

/**
 * A winding from `plus` to `minus` that pulls in when there are `on` volts across it, either way round, for `operate`
 * seconds, and drops out after `release` seconds below `off`. Contacts have curves 0 (open) and 1 (closed).
 */
export interface NodalWinding {
  readonly part: string;
  readonly plus: number;
  readonly minus: number;
  readonly on: number;
  readonly off: number;
  readonly operate: number;
  readonly release: number;
  /** Branches closed while it is pulled in, and while it has dropped out. */
  readonly makes: readonly number[];
  readonly breaks: readonly number[];
  readonly bounces: boolean;
}

/** A buzzer: sounds while `plus` is `least` volts or more above `minus`. */
export interface NodalBuzzer {
  readonly part: string;
  readonly plus: number;
  readonly minus: number;
  readonly least: number;
}

/** A curve of nothing. */
export const OPEN: Curve = [{ ohms: Infinity, volts: 0, amperes: 0, from: -Infinity, to: Infinity }];

/** A straight line v = volts + ohms i. */
export function line(volts: number, ohms: number): Curve {
  return [{ ohms, volts, amperes: 0, from: -Infinity, to: Infinity }];
}

/** Nothing below `volts`, a straight line above. */
export function oneWay(volts: number, ohms: number): Curve {
  return [
    { ohms: Infinity, volts: 0, amperes: 0, from: -Infinity, to: volts },
    { ohms, volts, amperes: 0, from: volts, to: Infinity },
  ];
}

/** Nothing below `volts`, a straight line up to a current, that current above. */
export function limited(volts: number, ohms: number, amperes: number): Curve {
  if (amperes === Infinity) return oneWay(volts, ohms);
  const [blocked, sinking] = oneWay(volts, ohms) as [Section, Section];
  const corner = volts + ohms * amperes;
  return [blocked, { ...sinking, to: corner }, { ohms: Infinity, volts: 0, amperes, from: corner, to: Infinity }];
}

/** A constant current that fades to nothing over its headroom (V). */
export function fading(amperes: number, headroom: number): Curve {
  return amperes > 0 ? limited(0, headroom / amperes, amperes) : OPEN;
}
