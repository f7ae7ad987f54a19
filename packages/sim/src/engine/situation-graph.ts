import type { Exit } from '../device/contract.ts';
import { compileMode, type Mode, type Readout } from '../network/mode.ts';
import { isIdealSource, type Short } from '../network/tree.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { Program } from './program.ts';
import { type ArmedGuard, Situation } from './situation.ts';
import type { Passage } from './succession.ts';

/** Kept modes and situations; beyond this many all are dropped and met again. */
const MOST_KEPT = 4096;

/** The settled part of a run at one instant, from which a situation is found. */
export interface Settled {
  readonly pieces: readonly number[];
  readonly states: readonly number[];
  readonly inputs: Float64Array;
  readonly inputSlopes: Float64Array;
  /** Whether inputs on a slope are all just at the corner where it begins, so that they can be found like this again. */
  readonly recurs: boolean;
}

/** What event a number stands for: an exit of a branch's piece, or an event of a reactor. */
export type EventCode =
  | { readonly branch: number; readonly exit: Exit }
  | { readonly reactor: number; readonly event: number };

/**
 * Finds, compiles once and keeps the modes and situations of a program. Situations that begin on a slope of an input, not
 * at its corner, are made afresh each time: their constants depend on when they begin.
 */
export class SituationGraph {
  /** Largest number of states of any mode of the program. */
  readonly largestStateCount: number;
  /** Largest number of guards that can be armed at once. */
  readonly mostGuards: number;
  private whole = true;
  private readonly situations = new Map<string, Situation>();
  private readonly remembered = new Map<string, Checkpoint['roots'][number]>();
  private readonly codes: EventCode[] = [];
  private readonly exitCodes: number[][][];
  private readonly reactorCodes: Map<string, number> = new Map();

  constructor(
    readonly program: Program,
    private readonly voltScale: number,
    private readonly modes: Map<string, Mode | Short> = new Map(),
  ) {
    const { network, branches } = program;
    this.largestStateCount = network.capacitors.length + network.nodeCount;
    const exits = branches.map((branch) => Math.max(...branch.pieces.map((piece) => piece.exits.length)));
    const guards = program.reactors.map((reactor) => reactor.mostGuards);
    this.mostGuards = [...exits, ...guards].reduce((sum, count) => sum + count, 0);
    this.exitCodes = branches.map((branch, index) =>
      branch.pieces.map((piece) => piece.exits.map((exit) => this.codes.push({ branch: index, exit }) - 1)),
    );
  }

  /**
   * Makes the graph ready for another run of a program that differs in what drives it: what a run leaves behind, its
   * guesses, is gone. False where parts of the graph are forgotten, so that this cannot be known.
   */
  begin(): boolean {
    this.remembered.clear();
    for (const situation of this.situations.values()) situation.begin();
    return this.whole;
  }

  /** The event behind a number. */
  event(code: number): EventCode {
    return this.codes[code]!;
  }

  /** The number of the exit that takes a branch from one piece to another; -1 if there is none. */
  codeOfExit(branch: number, from: number, to: number): number {
    const exit = this.program.branches[branch]!.pieces[from]!.exits.findIndex((each) => each.to === to);
    return this.exitCodes[branch]![from]![exit] ?? -1;
  }

  /** The number of a reactor's event. */
  codeOf(reactor: number, event: number): number {
    const key = `${reactor} ${event}`;
    let code = this.reactorCodes.get(key);
    if (code === undefined) {
      code = this.codes.push({ reactor, event }) - 1;
      this.reactorCodes.set(key, code);
    }
    return code;
  }

  /** The situation that a settled state makes, or the sources that contradict each other in it. */
  find(settled: Settled): Situation | Short {
    const modeKey = settled.pieces.join();
    const key = `${modeKey}|${settled.states.join()}|${settled.inputs.join()}|${settled.inputSlopes.join()}`;
    if (settled.recurs) {
      const known = this.situations.get(key);
      if (known) return known;
    }
    const mode = this.mode(modeKey, settled.pieces);
    if ('shortedParts' in mode) return mode;
    const situation = new Situation(
      this.program,
      mode,
      settled.pieces,
      settled.states,
      settled.inputs,
      settled.inputSlopes,
      settled.recurs,
      this.voltScale,
      this.arm(mode, settled),
    );
    if (settled.recurs) {
      if (this.situations.size >= MOST_KEPT) this.forget();
      this.situations.set(key, situation);
      this.recall(key, situation);
    }
    return situation;
  }

  /** How the modal state goes over from one situation, `elapsed` seconds after its start, to another. */
  passage(from: Situation, to: Situation, elapsed: number): Passage {
    const n = to.stateCount;
    const m = from.stateCount;
    const nU = from.inputs.length;
    const mode = to.mode;
    const offset = new Float64Array(n);
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < nU; j++) offset[k]! += mode.projectInput[k * nU + j]! * to.inputs[j]!;
    }
    const before = (j: number): number => from.inputs[j]! + from.inputSlopes[j]! * elapsed;
    if (from.mode === mode) {
      for (let k = 0; k < n; k++) {
        for (let j = 0; j < nU; j++) offset[k]! -= mode.projectInput[k * nU + j]! * before(j);
      }
      return { to, same: offset.every((value) => value === 0), matrix: unit(n), offset };
    }
    const own = this.program.network.capacitors.length;
    const matrix = new Float64Array(n * m);
    for (let c = 0; c < mode.capacitorCount; c++) {
      const readout = c < own ? from.mode.capacitorVoltages.at(c) : from.mode.nodes.at(mode.held[c - own]!);
      let fixed = 0;
      for (let j = 0; j < nU; j++) {
        fixed += readout.input[j]! * before(j) + readout.inputSlope[j]! * from.inputSlopes[j]!;
      }
      for (let k = 0; k < n; k++) {
        const weight = mode.project[k * mode.capacitorCount + c]!;
        if (weight === 0) continue;
        for (let i = 0; i < m; i++) matrix[k * m + i]! += weight * readout.state[i]!;
        offset[k]! += weight * fixed;
      }
    }
    const same = n === m && offset.every((value) => value === 0) && isUnit(matrix, n);
    return { to, same, matrix, offset };
  }

  /**
   * Writes the modal state that given capacitor voltages (V) make of a situation; where its mode ties capacitors together,
   * charge is conserved. `nodes` are the voltages of all nodes, for nets that only a stray capacitor holds; none means 0.
   */
  stateOf(situation: Situation, capacitors: readonly number[], nodes: readonly number[], z: Float64Array): void {
    const { mode, inputs } = situation;
    const own = capacitors.length;
    for (let k = 0; k < mode.stateCount; k++) {
      let value = 0;
      for (let c = 0; c < mode.capacitorCount; c++) {
        const voltage = c < own ? capacitors[c]! : (nodes[mode.held[c - own]!] ?? 0);
        value += mode.project[k * mode.capacitorCount + c]! * voltage;
      }
      for (let j = 0; j < inputs.length; j++) value += mode.projectInput[k * inputs.length + j]! * inputs[j]!;
      z[k] = value;
    }
  }

  /** The last roots of all kept situations, for a checkpoint. */
  roots(): Checkpoint['roots'] {
    return [...this.situations].map(([situation, { likely, roots }]) => ({ situation, likely, roots: [...roots] }));
  }

  /** Takes up the roots of a checkpoint; each situation gets its own when it is met. */
  remember(roots: Checkpoint['roots']): void {
    for (const entry of roots) this.remembered.set(entry.situation, entry);
  }

  private recall(key: string, situation: Situation): void {
    const entry = this.remembered.get(key);
    if (!entry) return;
    situation.likely = entry.likely;
    situation.roots.set(entry.roots);
    this.remembered.delete(key);
  }

  private forget(): void {
    this.whole = false;
    this.modes.clear();
    this.situations.clear();
  }

  private mode(key: string, pieces: readonly number[]): Mode | Short {
    let mode = this.modes.get(key);
    if (!mode) {
      const laws = this.program.branches.map((branch, index) => branch.pieces[pieces[index]!]!.law);
      mode = compileMode(this.program.network, laws);
      this.modes.set(key, mode);
    }
    return mode;
  }

  private arm(
    mode: Mode,
    settled: Settled,
  ): { readonly armed: ArmedGuard; readonly readout: Readout; readonly volts: boolean }[] {
    const { branches, reactors } = this.program;
    const armed: { armed: ArmedGuard; readout: Readout; volts: boolean }[] = [];
    branches.forEach((branch, index) => {
      const number = settled.pieces[index]!;
      branch.pieces[number]!.exits.forEach((exit, e) => {
        const sign = exit.rising ? 1 : -1;
        const volts = exit.watch === 'voltage';
        const readout = volts
          ? combine(mode.nodes.at(branch.a), mode.nodes.at(branch.b), sign, exit.limit)
          : signed(mode.branchCurrents.at(index), sign, sign * exit.limit);
        // Within rank 0, a piece whose law would force a capacitor in an instant is entered last.
        const abrupt = isIdealSource(branch.pieces[exit.to]!.law);
        const code = this.exitCodes[index]![number]![e]!;
        armed.push({ armed: { code, rank: abrupt ? 0.5 : 0, guard: undefined }, readout, volts });
      });
    });
    reactors.forEach((reactor, index) => {
      for (const guard of reactor.guards(settled.states[index]!)) {
        const { watch, offset } = guard;
        const volts = 'plus' in watch;
        const readout = volts
          ? combine(mode.nodes.at(watch.plus), mode.nodes.at(watch.minus), 1, offset)
          : signed(mode.branchCurrents.at(watch.branch), watch.sign, offset);
        const code = this.codeOf(index, guard.event);
        armed.push({ armed: { code, rank: guard.rank, guard }, readout, volts });
      }
    });
    return armed.sort((p, q) => p.armed.rank - q.armed.rank);
  }
}

/** sign (plus - minus - limit) */
function combine(plus: Readout, minus: Readout, sign: 1 | -1, limit: number): Readout {
  const difference = (p: Float64Array, q: Float64Array): Float64Array =>
    p.map((value, k) => {
      const result = sign * (value - q[k]!);
      return Math.abs(result) <= 8 * Number.EPSILON * (Math.abs(value) + Math.abs(q[k]!)) ? 0 : result;
    });
  const input = difference(plus.input, minus.input);
  input[input.length - 1]! -= sign * limit;
  return {
    state: difference(plus.state, minus.state),
    input,
    inputSlope: difference(plus.inputSlope, minus.inputSlope),
    scale: plus.scale + minus.scale,
  };
}

/** sign times a readout, less an offset */
function signed(readout: Readout, sign: 1 | -1, offset: number): Readout {
  const input = readout.input.map((value) => sign * value);
  input[input.length - 1]! -= offset;
  return {
    state: readout.state.map((value) => sign * value),
    input,
    inputSlope: readout.inputSlope.map((value) => sign * value),
    scale: readout.scale,
  };
}

/** Two modes with the same independent capacitors and vectors pass the state on unchanged; what else is there is rounding. */
function isUnit(matrix: Float64Array, n: number): boolean {
  return matrix.every((value, index) => {
    const expected = index % (n + 1) === 0 ? 1 : 0;
    return Math.abs(value - expected) <= 4 * Number.EPSILON;
  });
}

function unit(n: number): Float64Array {
  const result = new Float64Array(n * n);
  for (let i = 0; i < n; i++) result[i * n + i] = 1;
  return result;
}
