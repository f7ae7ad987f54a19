import type { Circuit, Part } from '../circuit/description.ts';
import type { BranchDescription, CurrentElement, Device, DeviceHost, Reactor } from '../device/contract.ts';
import type { Capacitor, Network } from '../network/element.ts';
import { alwaysHeld, holdAlike } from '../network/strays.ts';
import type { Wave } from '../signal/wave.ts';
import type { SignalTable } from '../trace/frame.ts';

/** A circuit as the engine runs it: a network whose branches have pieces, inputs that follow waves, and reactors. */
export interface Program {
  readonly network: Network;
  readonly branches: readonly BranchDescription[];
  /** Initial voltage of each capacitor (V). */
  readonly initial: readonly number[];
  readonly inputs: readonly { readonly part: string; readonly wave: Wave }[];
  readonly reactors: readonly Reactor[];
  /** Name of each node; node 0 is `ground`. */
  readonly nodeNames: readonly string[];
  readonly currents: readonly { readonly part: string; readonly elements: readonly CurrentElement[] }[];
}

/**
 * Builds the program of a checked circuit. Throws when a part's kind has no device: a mistake of the caller.
 *
 * @param faults whether the limits of the parts are watched; it costs time.
 */
export function buildProgram(circuit: Circuit, devices: ReadonlyMap<string, Device>, faults = false): Program {
  const builder = new ProgramBuilder(circuit.nets, faults);
  for (const part of circuit.parts) {
    deviceOf(part, devices).build(part, builder);
  }
  return builder.program();
}

/** What builds a part. Throws when its kind has no device: a mistake of the caller. */
export function deviceOf({ kind }: Part, devices: ReadonlyMap<string, Device>): Device {
  const device = devices.get(kind);
  if (!device) throw new TypeError(`No device is known for parts of kind "${kind}".`);
  return device;
}

/** What a run of the program can show, by name. */
export function signalTable(program: Program): SignalTable {
  return { nets: program.nodeNames, currents: program.currents.map((current) => current.part) };
}

/** How many entries the lists of a program have. */
export interface Lengths {
  readonly nodes: number;
  readonly branches: number;
  readonly capacitors: number;
  readonly inputs: number;
  readonly reactors: number;
  readonly currents: number;
}

/** Takes in what the parts of a circuit are made of, one after the other. */
export class ProgramBuilder implements DeviceHost {
  private readonly nodeNames: string[];
  private readonly nodes: Map<string, number>;
  private readonly branches: BranchDescription[] = [];
  private readonly capacitors: Capacitor[] = [];
  private readonly initial: number[] = [];
  private readonly inputs: { part: string; wave: Wave }[] = [];
  private readonly reactors: Reactor[] = [];
  private readonly currents: { part: string; elements: readonly CurrentElement[] }[] = [];

  constructor(
    nets: readonly string[],
    private readonly faults: boolean,
  ) {
    this.nodeNames = ['ground', ...nets.filter((net) => net !== 'ground')];
    this.nodes = new Map(this.nodeNames.map((name, index) => [name, index]));
  }

  node(net: string): number {
    let node = this.nodes.get(net);
    if (node === undefined) {
      node = this.nodeNames.length;
      this.nodeNames.push(net);
      this.nodes.set(net, node);
    }
    return node;
  }

  branch(branch: BranchDescription): number {
    return this.branches.push(branch) - 1;
  }

  capacitor(part: string, a: number, b: number, capacitance: number, initial: number): number {
    this.initial.push(initial);
    return this.capacitors.push({ part, a, b, capacitance }) - 1;
  }

  input(part: string, wave: Wave): number {
    return this.inputs.push({ part, wave }) - 1;
  }

  reactor(reactor: Reactor): void {
    this.reactors.push(reactor);
  }

  watch(reactor: Reactor): void {
    if (this.faults) this.reactors.push(reactor);
  }

  current(part: string, elements: readonly CurrentElement[]): void {
    this.currents.push({ part, elements });
  }

  /** What has been taken in so far. */
  get lengths(): Lengths {
    const { nodeNames, branches, capacitors, inputs, reactors, currents } = this;
    return {
      nodes: nodeNames.length,
      branches: branches.length,
      capacitors: capacitors.length,
      inputs: inputs.length,
      reactors: reactors.length,
      currents: currents.length,
    };
  }

  /** Takes in what a part was made of in another program in which as much came before it. */
  takeOver(other: Program, from: Lengths, to: Lengths): void {
    for (let i = from.nodes; i < to.nodes; i++) this.node(other.nodeNames[i]!);
    for (let i = from.branches; i < to.branches; i++) this.branches.push(other.branches[i]!);
    for (let i = from.capacitors; i < to.capacitors; i++) {
      this.capacitors.push(other.network.capacitors[i]!);
      this.initial.push(other.initial[i]!);
    }
    for (let i = from.inputs; i < to.inputs; i++) this.inputs.push(other.inputs[i]!);
    for (let i = from.reactors; i < to.reactors; i++) this.reactors.push(other.reactors[i]!);
    for (let i = from.currents; i < to.currents; i++) this.currents.push(other.currents[i]!);
  }

  /** @param like a program before: what is the same list is that list, so that this can be seen at a glance. */
  program(like?: Program): Program {
    const { initial } = this;
    const nodeNames = sameList(this.nodeNames, like?.nodeNames);
    const branches = sameList(this.branches, like?.branches);
    const capacitors = sameList(this.capacitors, like?.network.capacitors);
    const inputs = sameList(this.inputs, like?.inputs);
    const reactors = sameList(this.reactors, like?.reactors);
    const currents = sameList(this.currents, like?.currents);
    const nodeCount = nodeNames.length;
    const held =
      like !== undefined && heldAlike(like, branches, capacitors)
        ? like.network.held
        : alwaysHeld(
            nodeCount,
            branches.map(({ part, a, b, pieces }) => ({ part, a, b, laws: pieces.map(({ law }) => law) })),
            capacitors,
          );
    return {
      network: { nodeCount, branches, capacitors, held, inputCount: inputs.length },
      branches,
      initial,
      inputs,
      reactors,
      nodeNames,
      currents,
    };
  }
}

/** A list, or the one before where it has the same entries. */
function sameList<Entry>(list: readonly Entry[], before: readonly Entry[] | undefined): readonly Entry[] {
  if (before?.length !== list.length) return list;
  for (let index = 0; index < list.length; index++) if (list[index] !== before[index]) return list;
  return before;
}

/** Whether what decides on the nodes that are always held is what it was in a program before. */
function heldAlike(
  { network, branches: former }: Program,
  branches: Program['branches'],
  capacitors: readonly Capacitor[],
): boolean {
  if (branches.length !== former.length || capacitors.length !== network.capacitors.length) return false;
  for (let index = 0; index < capacitors.length; index++) {
    if (!sameEnds(capacitors[index]!, network.capacitors[index]!)) return false;
  }
  for (let index = 0; index < branches.length; index++) {
    const [one, other] = [branches[index]!, former[index]!];
    if (one === other) continue;
    if (!sameEnds(one, other) || one.pieces.length !== other.pieces.length) return false;
    for (let piece = 0; piece < one.pieces.length; piece++) {
      if (!holdAlike(one.pieces[piece]!.law, other.pieces[piece]!.law)) return false;
    }
  }
  return true;
}

function sameEnds(one: { readonly a: number; readonly b: number }, other: { readonly a: number; readonly b: number }) {
  return one.a === other.a && one.b === other.b;
}
