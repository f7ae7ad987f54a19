import type { Circuit } from '../circuit/description.ts';
import type { BranchDescription, CurrentElement, Device, DeviceHost, Reactor } from '../device/contract.ts';
import type { Capacitor, Network } from '../network/element.ts';
import { alwaysHeld } from '../network/strays.ts';
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
    const device = devices.get(part.kind);
    if (!device) throw new TypeError(`No device is known for parts of kind "${part.kind}".`);
    device.build(part, builder);
  }
  return builder.program();
}

/** What a run of the program can show, by name. */
export function signalTable(program: Program): SignalTable {
  return { nets: program.nodeNames, currents: program.currents.map((current) => current.part) };
}

class ProgramBuilder implements DeviceHost {
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

  program(): Program {
    const { branches, capacitors, initial, inputs, reactors, nodeNames, currents } = this;
    const nodeCount = nodeNames.length;
    const held = alwaysHeld(
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
