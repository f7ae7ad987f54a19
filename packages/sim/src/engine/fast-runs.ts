import { NumberMemory } from '../core/number-memory.ts';
import { Audience } from './audience.ts';
import type { Checkpoint } from './checkpoint.ts';
import { controlsOf, type FastProgram, fastProgram } from './fast-program.ts';
import { KeptModes } from './kept-modes.ts';
import type { Program } from './program.ts';
import type { Situation } from './situation.ts';
import { SituationGraph } from './situation-graph.ts';
import { Stepper } from './stepper.ts';

/** How much larger than all others each base's capacitance is taken to be in turn. */
const APART = 1e3;
/** Events that one run may take, far more than there are corners on any way. */
const MOST_EVENTS = 2000;
/** Longer than any stray capacitance takes (s). */
const LONG = 1e9;
/**
 * By how much of the largest voltage what changes is taken to have gone on when a run begins; the next where a run comes to
 * rest on a limit to rounding, so that it may not have left the state that ceases to be.
 */
const ONWARDS = [1e-6, 1e-5, 1e-4];

/** Where a circuit has come to rest: pieces of all branches of its program, and the voltages of all nodes (V). */
export interface Rest {
  readonly pieces: readonly number[];
  readonly nodes: readonly number[];
  /** How many guards stand on their limits to rounding. */
  readonly onLimits: number;
}

type Rests = readonly (Rest | 'balanced' | undefined)[];

/**
 * Lets a circuit run in the time of stray capacitances across the bases, its capacitors held (see `fastProgram`), from the
 * voltages that the bases had before. A run by the same engine as any other, so it is exact.
 */
export class FastRuns {
  private readonly controls: readonly number[];
  private readonly variants: { readonly fast: FastProgram; readonly modes: KeptModes }[] = [];

  constructor(
    private readonly program: Program,
    private readonly voltScale: number,
  ) {
    this.controls = controlsOf(program);
  }

  /**
   * Where the circuit comes to rest with each ratio of the stray capacitances: all much the same, then each base's much
   * larger than the others. `balanced` where it stands between states by rounding alone, undefined where no sum of
   * exponentials tells, or it never rests.
   */
  rests(situation: Situation, z: Float64Array, before: NonNullable<Checkpoint['before']>): Rests {
    let found: { readonly rests: Rests; readonly onLimits: number } | undefined;
    for (const share of ONWARDS) {
      const levels = this.levels(situation, z, before, share * this.voltScale);
      const rests = Array.from({ length: this.controls.length + 1 }, (_, k) =>
        this.rest(k, levels, situation.pieces, before),
      );
      const onLimits = rests.reduce((sum, rest) => sum + (typeof rest === 'object' ? rest.onLimits : 0), 0);
      if (found === undefined || onLimits < found.onLimits) found = { rests, onLimits };
      if (onLimits === 0) break;
    }
    return found!.rests;
  }

  /** The voltages (V) of all inputs of the fast program, a little further on: the one that changes most by some volts. */
  private levels(
    situation: Situation,
    z: Float64Array,
    { speeds }: NonNullable<Checkpoint['before']>,
    volts: number,
  ): number[] {
    const { network } = this.program;
    const { mode } = situation;
    const inputs = [...situation.inputs.subarray(0, network.inputCount)];
    const slopes = [...situation.inputSlopes.subarray(0, network.inputCount)];
    const held = [
      ...network.capacitors.map((_, c) => mode.capacitorVoltages.at(c)),
      ...network.held.map((node) => mode.nodes.at(node)),
    ].map((readout) => situation.valueOf(readout, z, 0));
    const changes = [...slopes, ...speeds];
    const steepest = Math.max(...changes.map(Math.abs), 0);
    const onwards = steepest > 0 ? volts / steepest : 0;
    return [...inputs, ...held].map((level, j) => level + onwards * changes[j]!);
  }

  private rest(
    variant: number,
    levels: readonly number[],
    pieces: readonly number[],
    before: NonNullable<Checkpoint['before']>,
  ): Rest | 'balanced' | undefined {
    const { fast, modes } = this.variant(variant);
    const program: Program = {
      ...fast.program,
      branches: fast.program.branches.map((branch, index) => ({ ...branch, start: pieces[index] ?? 0 })),
      initial: fast.junctions.map((junction) => before.controls[this.controls.indexOf(junction)]!),
      inputs: fast.program.inputs.map(({ part }, j) => ({ part, wave: { shape: 'constant', level: levels[j]! } })),
    };
    const audience = new Audience([], { nets: program.nodeNames, currents: [] });
    const stepper = new Stepper(program, audience, undefined, new SituationGraph(program, this.voltScale, modes));
    let goesOn = true;
    while (goesOn) goesOn = stepper.step(LONG, { maxEvents: MOST_EVENTS });
    if (stepper.failure) return stepper.failure.code === 'undecided' ? 'balanced' : undefined;
    stepper.settleNow();
    // It has begun: in the pieces of a situation no sources contradict each other, and capacitors add none that do.
    const situation = stepper.situation!;
    return {
      pieces: situation.pieces.slice(0, this.program.branches.length),
      nodes: situation.mode.nodes.all().map((readout) => situation.valueOf(readout, stepper.z, 0)),
      onLimits: situation.constants.filter((value, g) => Math.abs(value) <= situation.tolerances[g]!).length,
    };
  }

  private variant(number: number): { readonly fast: FastProgram; readonly modes: KeptModes } {
    const { variants, controls, program } = this;
    const known = variants[number];
    if (known !== undefined) return known;
    const fast = fastProgram(
      program,
      controls.map((_, k) => (k + 1 === number ? APART : 1)),
    );
    return (variants[number] = { fast, modes: new KeptModes(fast.program, new NumberMemory()) });
  }
}
