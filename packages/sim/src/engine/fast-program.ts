import type { BranchDescription, Piece } from '../device/contract.ts';
import type { Capacitor } from '../network/element.ts';
import { NodeSets } from '../network/node-sets.ts';
import { alwaysHeld } from '../network/strays.ts';
import { isIdealSource } from '../network/tree.ts';
import type { Program } from './program.ts';

/** Capacitance across a junction (F); only ratios between the junctions count, since nothing else has a time. */
const JUNCTION_CAPACITANCE = 1e-12;
/** Junctions of the same resistance with the same capacitance would have the same time constant. */
const SPREAD = (Math.sqrt(5) - 1) / 2;
/**
 * Resistance (ohm) behind a capacitor that closes a loop of capacitors and sources: its voltage is that of the rest of the
 * loop, and may differ by rounding.
 */
const LOOP_RESISTANCE = 1e-6;

/** The branches whose currents control others: the bases of transistors that amplify. */
export function controlsOf({ branches }: Program): readonly number[] {
  // Every run asks, however short: nothing is allocated where there are none, as is usual.
  const controls: number[] = [];
  for (const { pieces } of branches) {
    for (const { law } of pieces) {
      if (law.kind === 'controlled' && !controls.includes(law.by)) controls.push(law.by);
    }
  }
  return controls;
}

/** A program of what happens at one instant, see `fastProgram`. */
export interface FastProgram {
  readonly program: Program;
  /** The junctions that have a capacitor, as branches: its capacitors are theirs, in this order. */
  readonly junctions: readonly number[];
}

/**
 * A circuit as it behaves while it snaps from one state to another: in the time that stray capacitances take, in which the
 * capacitors of the circuit do not move. Its branches are those of the program and one for each capacitor, a source of its
 * voltage; inputs after those of the program are the voltages of the capacitors, then of the nets that strays hold. Across
 * the base of every transistor that amplifies there is a small capacitance. Bases across which the circuit holds a voltage
 * anyhow have none.
 *
 * @param times how much larger than the others the capacitance of each control is, in the order of `controlsOf`.
 */
export function fastProgram(program: Program, times: readonly number[]): FastProgram {
  const { network, branches, inputs, nodeNames } = program;
  const sets = new NodeSets(network.nodeCount);
  for (const { a, b, pieces } of branches) if (pieces.some(({ law }) => isIdealSource(law))) sets.join(a, b);
  const fixed = new NodeSets(network.nodeCount);
  for (const { a, b, pieces } of branches) if (pieces.every(({ law }) => isIdealSource(law))) fixed.join(a, b);
  const held = network.held.map((node) => ({ part: nodeNames[node]!, a: node, b: 0 }));
  const frozen = [...network.capacitors, ...held].map(({ part, a, b }, index): BranchDescription => {
    fixed.join(a, b);
    const resistance = sets.join(a, b) ? 0 : LOOP_RESISTANCE;
    const law = { kind: 'thevenin', input: inputs.length + index, offset: 0, resistance } as const;
    return { part, a, b, pieces: [{ law, exits: [] }], start: 0 };
  });
  const controls = controlsOf(program);
  const junctions: number[] = [];
  const capacitors: Capacitor[] = [];
  controls.forEach((control, k) => {
    const { part, a, b } = branches[control]!;
    if (fixed.find(a) === fixed.find(b)) return;
    junctions.push(control);
    capacitors.push({ part, a, b, capacitance: JUNCTION_CAPACITANCE * (1 + ((k * SPREAD) % 1)) * times[k]! });
  });
  const all = [...branches, ...frozen];
  const laws = ({ pieces }: { readonly pieces: readonly Piece[] }) => pieces.map(({ law }) => law);
  const stands = { part: '', wave: { shape: 'constant', level: 0 } } as const;
  const inputCount = inputs.length + frozen.length;
  return {
    junctions,
    program: {
      network: {
        nodeCount: network.nodeCount,
        branches: all,
        capacitors,
        held: alwaysHeld(
          network.nodeCount,
          all.map((branch) => ({ ...branch, laws: laws(branch) })),
          capacitors,
        ),
        inputCount,
      },
      branches: all,
      initial: capacitors.map(() => 0),
      inputs: Array.from({ length: inputCount }, () => stands),
      reactors: [],
      nodeNames,
      currents: [],
    },
  };
}
