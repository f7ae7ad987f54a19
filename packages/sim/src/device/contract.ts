import type { Law } from '../network/element.ts';
import type { EventKind, FaultNote } from '../trace/event.ts';
import type { Wave } from '../signal/wave.ts';
import type { Part } from '../circuit/description.ts';

/**
 * How a part turns into network elements and behaviour.
 *
 * 1. `build` is called once per part, in the order of the circuit, and describes the part to the host; it keeps nothing.
 * 2. All behaviour in time is data for the engine: branches whose curves consist of straight pieces, capacitors, inputs
 *    that follow waves, and reactors.
 * 3. A device never sees the time, the state of the network, or another device.
 */
export interface Device {
  readonly kind: string;
  /** Fields that only make the waves of inputs: parts that differ in these alone behave alike. */
  readonly drives?: readonly string[];
  build(part: Part, host: DeviceHost): void;
}

/** What a device may ask of whoever builds the circuit. Nodes are numbers; 0 is ground. */
export interface DeviceHost {
  /** The node of a net; a dotted name such as `U1.lower` makes an inner net of the part. */
  node(net: string): number;
  /** Adds a branch and returns its index. */
  branch(branch: BranchDescription): number;
  /** Adds a capacitor (F, initial V of a minus b) and returns its index. */
  capacitor(part: string, a: number, b: number, capacitance: number, initial: number): number;
  /** Adds a time-dependent voltage and returns its input index. */
  input(part: string, wave: Wave): number;
  /** Adds discrete behaviour. */
  reactor(reactor: Reactor): void;
  /** Adds discrete behaviour that only records faults; left out of runs that do not ask for them. */
  watch(reactor: Reactor): void;
  /** Says of which branches and capacitors the part's current (first terminal to second) is the sum. */
  current(part: string, elements: readonly CurrentElement[]): void;
}

/** One element of a part's current, with the direction in which it counts. */
export interface CurrentElement {
  readonly element: 'branch' | 'capacitor';
  readonly index: number;
  readonly sign: 1 | -1;
}

/**
 * A branch whose voltage-current curve consists of straight pieces that meet at corners; current never falls with
 * voltage, which makes the state of all branches unique. A piece may also follow the current of another branch (decision
 * 12). The engine moves it from piece to piece at the exits.
 */
export interface BranchDescription {
  readonly part: string;
  readonly a: number;
  readonly b: number;
  readonly pieces: readonly Piece[];
  /** Piece in force before time 0. */
  readonly start: number;
}

/** One straight piece of a branch's curve and the ways out of it. */
export interface Piece {
  readonly law: Law;
  readonly exits: readonly Exit[];
}

/**
 * Leave the piece when the branch voltage (V) or current (A) rises above, or falls below, the limit. With `less`, so many
 * times (Ω or 1) the current of another branch are taken off what is watched.
 */
export interface Exit {
  readonly watch: 'voltage' | 'current';
  readonly rising: boolean;
  readonly limit: number;
  readonly to: number;
  readonly less?: { readonly branch: number; readonly times: number };
}

/**
 * Discrete behaviour: a small state machine that watches voltages and currents and answers with other pieces.
 *
 * 1. `guards` and `react` are pure functions of the state (a small whole number) and the event; the engine caches them.
 * 2. A guard fires when what it watches goes past its offset while its state lasts, also when that is so already on
 *    entering the state.
 * 3. `timetable` events come at fixed times; `after` in a reaction schedules one relative to now. Slots are first in,
 *    first out.
 */
export interface Reactor {
  readonly part: string;
  readonly start: number;
  /** Set for contacts that a hand can work: event 0 takes them to their other position, event 1 back. */
  readonly contact?: true;
  /** Set for what does nothing but record faults: which limit of the part it watches. */
  readonly watches?: Omit<FaultNote, 'phase'>;
  /** Number of slots for scheduled events. */
  readonly slots: number;
  readonly timetable: readonly { readonly at: number; readonly event: number }[];
  guards(state: number): readonly Guard[];
  react(state: number, event: number): Reaction;
}

/** At one instant guards of lower rank fire first. Rank 0 is for the pieces of branches, ranks from 4 on for watching. */
export interface Guard {
  readonly event: number;
  readonly rank: number;
  readonly watch: VoltageWatch | CurrentWatch;
  /** Fires when what is watched, less this (V or A), becomes positive. */
  readonly offset: number;
}

/**
 * v(plus) - v(minus). People want to see what `seen` names: one of the nodes (the other one, with the offset, is its
 * limit), or the voltage between them, plus above minus or the other way round.
 */
interface VoltageWatch {
  readonly plus: number;
  readonly minus: number;
  readonly seen: 'plus' | 'minus' | 'plus above minus' | 'minus above plus';
}

/** sign times the current of a branch, from its first node to its second. */
interface CurrentWatch {
  readonly branch: number;
  readonly sign: 1 | -1;
}

/** What a reactor answers to an event: its new state, other pieces for branches, and what it schedules and records. */
export interface Reaction {
  readonly state: number;
  /** Branches that take up another piece. */
  readonly pieces: readonly (readonly [branch: number, piece: number])[];
  readonly schedule: readonly { readonly slot: number; readonly after: number; readonly event: number }[];
  /** Slots emptied before anything is scheduled. */
  readonly cancel: readonly number[];
  readonly records: readonly { readonly kind: EventKind; readonly cause?: EventKind; readonly fault?: FaultNote }[];
}
