import type { Exit } from '../device/contract.ts';
import type { Mode } from '../network/mode.ts';
import { ModeCompiler } from '../network/mode-compiler.ts';
import { isIdealSource, type Short } from '../network/tree.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { ArmedGuard } from './guard-lines.ts';
import type { Program } from './program.ts';
import { Situation } from './situation.ts';
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
  private whole = true;
  /** What the inputs do in the situations that are kept. */
  private readonly drives: { readonly inputs: Float64Array; readonly slopes: Float64Array }[] = [];
  private readonly situations = new Map<string, Situation>();
  private readonly compiler: ModeCompiler;
  private readonly remembered = new Map<string, Checkpoint['roots'][number]>();
  private readonly codes: EventCode[] = [];
  private readonly exitCodes: number[][][];
  private readonly reactorCodes: number[][];
  private readonly pieceGuards: (readonly ArmedGuard[])[][];
  private readonly stateGuards: Map<number, readonly ArmedGuard[]>[];

  constructor(
    readonly program: Program,
    /** Largest voltage in the circuit (V), the yardstick for rounding. */
    readonly voltScale: number,
    private readonly modes: Map<string, Mode | Short> = new Map(),
  ) {
    const { network, branches } = program;
    this.compiler = new ModeCompiler(network);
    this.largestStateCount = network.capacitors.length + network.nodeCount;
    this.reactorCodes = program.reactors.map(() => []);
    this.pieceGuards = branches.map(() => []);
    this.stateGuards = program.reactors.map(() => new Map<number, readonly ArmedGuard[]>());
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
    return (this.reactorCodes[reactor]![event] ??= this.codes.push({ reactor, event }) - 1);
  }

  /** The situation that a settled state makes, or the sources that contradict each other in it. */
  find(settled: Settled): Situation | Short {
    const { pieces, states, inputs, inputSlopes, recurs } = settled;
    const modeKey = String.fromCharCode(...pieces);
    let key = '';
    if (recurs) {
      key = `${modeKey}|${String.fromCharCode(...states)}|${this.numberOf(inputs, inputSlopes)}`;
      const known = this.situations.get(key);
      if (known) return known;
    }
    const mode = this.mode(modeKey, pieces);
    if ('shortedParts' in mode) return mode;
    const armed = this.arm(pieces, states);
    const { program, voltScale } = this;
    const situation = new Situation(program, mode, pieces, states, inputs, inputSlopes, recurs, voltScale, armed);
    if (recurs) {
      if (this.situations.size >= MOST_KEPT) this.forget();
      this.situations.set(key, situation);
      this.recall(situation);
    }
    return situation;
  }

  /** A number for what the inputs do: the same for the same, as long as it is kept. */
  private numberOf(inputs: Float64Array, slopes: Float64Array): number {
    const { drives } = this;
    for (let i = 0; i < drives.length; i++) {
      if (same(drives[i]!.inputs, inputs) && same(drives[i]!.slopes, slopes)) return i;
    }
    return drives.push({ inputs, slopes }) - 1;
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
    const before = new Float64Array(nU);
    for (let j = 0; j < nU; j++) before[j] = from.inputs[j]! + from.inputSlopes[j]! * elapsed;
    if (from.mode === mode) {
      for (let k = 0; k < n; k++) {
        for (let j = 0; j < nU; j++) offset[k]! -= mode.projectInput[k * nU + j]! * before[j]!;
      }
      return { to, same: offset.every((value) => value === 0), matrix: unit(n), offset };
    }
    const own = this.program.network.capacitors.length;
    const matrix = new Float64Array(n * m);
    for (let c = 0; c < mode.capacitorCount; c++) {
      const readout = c < own ? from.mode.capacitorVoltages.at(c) : from.mode.nodes.at(mode.held[c - own]!);
      let fixed = 0;
      for (let j = 0; j < nU; j++) {
        fixed += readout.input[j]! * before[j]! + readout.inputSlope[j]! * from.inputSlopes[j]!;
      }
      for (let k = 0; k < n; k++) {
        const weight = mode.project[k * mode.capacitorCount + c]!;
        if (weight === 0) continue;
        for (let i = 0; i < m; i++) matrix[k * m + i]! += weight * readout.state[i]!;
        offset[k]! += weight * fixed;
      }
    }
    const unchanged = n === m && offset.every((value) => value === 0) && isUnit(matrix, n);
    return { to, same: unchanged, matrix, offset };
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
    const met = [...this.situations.values()].map((situation) => {
      const { likely, roots } = situation;
      return { situation: nameOf(situation), likely, roots: [...roots] };
    });
    // Those of situations that the run has not met again since it was taken up are still to come.
    return [...met, ...this.remembered.values()];
  }

  /** The same numbers in one list, without the names. */
  guesses(): number[] {
    const guesses: number[] = [];
    for (const { likely, roots } of this.situations.values()) guesses.push(likely, ...roots);
    return guesses;
  }

  /** Takes up the roots of a checkpoint; each situation gets its own when it is met. */
  remember(roots: Checkpoint['roots']): void {
    for (const entry of roots) this.remembered.set(entry.situation, entry);
  }

  private recall(situation: Situation): void {
    if (this.remembered.size === 0) return;
    const name = nameOf(situation);
    const entry = this.remembered.get(name);
    if (!entry) return;
    situation.likely = entry.likely;
    situation.roots.set(entry.roots);
    this.remembered.delete(name);
  }

  private forget(): void {
    this.whole = false;
    this.modes.clear();
    this.situations.clear();
    this.drives.length = 0;
  }

  private mode(key: string, pieces: readonly number[]): Mode | Short {
    let mode = this.modes.get(key);
    if (!mode) {
      const laws = this.program.branches.map((branch, index) => branch.pieces[pieces[index]!]!.law);
      mode = this.compiler.compile(laws);
      this.modes.set(key, mode);
    }
    return mode;
  }

  /** The guards of all pieces and states, in the order in which they fire at one instant. */
  private arm(pieces: readonly number[], states: readonly number[]): readonly ArmedGuard[] {
    const armed: ArmedGuard[] = [];
    for (let b = 0; b < pieces.length; b++) armed.push(...this.ofPiece(b, pieces[b]!));
    for (let r = 0; r < states.length; r++) armed.push(...this.ofState(r, states[r]!));
    return armed.sort((p, q) => p.rank - q.rank);
  }

  private ofPiece(index: number, number: number): readonly ArmedGuard[] {
    const known = this.pieceGuards[index]!;
    return (known[number] ??= this.guardsOfPiece(index, number));
  }

  private guardsOfPiece(index: number, number: number): ArmedGuard[] {
    const branch = this.program.branches[index]!;
    return branch.pieces[number]!.exits.map((exit, e) => {
      const sign = exit.rising ? 1 : -1;
      return {
        code: this.exitCodes[index]![number]![e]!,
        // Within rank 0, a piece whose law would force a capacitor in an instant is entered last.
        rank: isIdealSource(branch.pieces[exit.to]!.law) ? 0.5 : 0,
        guard: undefined,
        plus: branch.a,
        minus: branch.b,
        branch: exit.watch === 'voltage' ? -1 : index,
        sign,
        offset: sign * exit.limit,
        less: exit.less,
      };
    });
  }

  private ofState(index: number, state: number): readonly ArmedGuard[] {
    const known = this.stateGuards[index]!;
    let guards = known.get(state);
    if (guards === undefined) {
      guards = this.guardsOfState(index, state);
      known.set(state, guards);
    }
    return guards;
  }

  private guardsOfState(index: number, state: number): ArmedGuard[] {
    return this.program.reactors[index]!.guards(state).map((guard) => {
      const { watch, offset, rank } = guard;
      const code = this.codeOf(index, guard.event);
      return 'plus' in watch
        ? { code, rank, guard, plus: watch.plus, minus: watch.minus, branch: -1, sign: 1, offset, less: undefined }
        : { code, rank, guard, plus: 0, minus: 0, branch: watch.branch, sign: watch.sign, offset, less: undefined };
    });
  }
}

function same(one: Float64Array, other: Float64Array): boolean {
  for (let j = 0; j < one.length; j++) if (one[j] !== other[j]) return false;
  return true;
}

/** What tells a situation from all others of its program, as text. */
function nameOf({ pieces, states, inputs, inputSlopes }: Situation): string {
  return [pieces, states, inputs, inputSlopes].map((numbers) => numbers.join()).join('|');
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
