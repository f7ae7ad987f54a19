import { NumberMemory } from '../core/number-memory.ts';
import type { Mode } from '../network/mode.ts';
import type { Short } from '../network/tree.ts';
import { ArmedGuards, type EventCode } from './armed-guards.ts';
import type { Checkpoint } from './checkpoint.ts';
import { KeptModes } from './kept-modes.ts';
import type { Program } from './program.ts';
import { type Settled, Situation } from './situation.ts';

/** Kept modes and situations; beyond this many all are dropped and met again. */
const MOST_KEPT = 4096;

/**
 * Finds, compiles once and keeps the situations of a program. Those that begin on a slope of an input, not at its corner,
 * are made afresh each time: their constants depend on when they begin.
 *
 * A graph can take up the numbers of another program that is wired alike. Which situations there are, and how they follow
 * each other, is then known but for what the numbers decide, and each is worked out anew where it is met.
 */
export class SituationGraph {
  /** Largest number of states of any mode of the program. */
  readonly largestStateCount: number;
  private whole = true;
  private generation = 0;
  /** What the inputs do in the situations that are kept. */
  private readonly drives: { readonly inputs: Float64Array; readonly slopes: Float64Array }[] = [];
  private readonly situations = new Map<string, Situation>();
  /** Those with the numbers of this program, in the order in which they were met. */
  private readonly met: Situation[] = [];
  private readonly remembered = new Map<string, Checkpoint['roots'][number]>();
  private readonly armed: ArmedGuards;
  /** Where its modes and situations have their rows, and runs in it theirs. */
  readonly memory = new NumberMemory();
  private readonly modes: KeptModes;

  constructor(
    private now: Program,
    /** Largest voltage in the circuit (V), the yardstick for rounding. */
    private scale: number,
    /** The modes of the program, where they are known from another graph of programs that differ in what drives them. */
    modes?: KeptModes,
  ) {
    const { network } = now;
    this.modes = modes ?? new KeptModes(now, this.memory);
    this.armed = new ArmedGuards(now);
    this.largestStateCount = network.capacitors.length + network.nodeCount;
  }

  /** The program whose situations these are. */
  get program(): Program {
    return this.now;
  }

  /** Largest voltage in the circuit (V), the yardstick for rounding. */
  get voltScale(): number {
    return this.scale;
  }

  /**
   * Makes the graph ready for another run of a program that differs in what drives it: what a run leaves behind, its
   * guesses, is gone. False where parts of the graph are forgotten, so that this cannot be known.
   */
  begin(): boolean {
    this.remembered.clear();
    for (const situation of this.met) situation.begin();
    return this.whole;
  }

  /**
   * Takes up another program that is wired alike, with its yardstick for rounding; nothing may still be in use of the one
   * before. A run is then the same, bit for bit, as in a graph of its own. False where the programs have another structure
   * after all: the graph is of no use then.
   */
  renew(program: Program, voltScale: number): boolean {
    if (!this.modes.renew(program) || !this.armed.renew(program)) return false;
    this.now = program;
    this.scale = voltScale;
    this.generation++;
    this.met.length = 0;
    this.drives.length = 0;
    this.remembered.clear();
    return true;
  }

  /** The event behind a number. */
  event(code: number): EventCode {
    return this.armed.event(code);
  }

  /** The number of the exit that takes a branch from one piece to another; -1 if there is none. */
  codeOfExit(branch: number, from: number, to: number): number {
    return this.armed.codeOfExit(branch, from, to);
  }

  /** The number of a reactor's event. */
  codeOf(reactor: number, event: number): number {
    return this.armed.codeOf(reactor, event);
  }

  /**
   * The situation that a settled state makes, or the sources that contradict each other in it.
   *
   * @param guess which one it may be: looking is cheaper than searching.
   */
  find(settled: Settled, guess?: Situation): Situation | Short {
    const { pieces, states, inputs, inputSlopes, recurs } = settled;
    if (!recurs) {
      const mode = this.modes.of(pieces, keyOf(pieces));
      return 'shortedParts' in mode ? mode : this.make(settled, mode);
    }
    const drive = this.numberOf(inputs, inputSlopes);
    const isGuess = guess?.drive === drive && sameNumbers(guess.pieces, pieces) && sameNumbers(guess.states, states);
    if (isGuess && guess.generation === this.generation) return guess;
    const modeKey = isGuess ? guess.modeKey : keyOf(pieces);
    const key = isGuess ? guess.key : `${modeKey}|${keyOf(states)}|${drive}`;
    const known = this.situations.get(key);
    if (known?.generation === this.generation) return known;
    const mode = this.modes.of(pieces, modeKey);
    if ('shortedParts' in mode) return mode;
    if (known?.mode === mode) {
      known.renew(settled, this.scale);
      this.meet(known);
      return known;
    }
    const situation = this.make(settled, mode);
    known?.retire();
    if (this.situations.size >= MOST_KEPT) this.forget();
    this.situations.set(key, situation);
    situation.drive = drive;
    situation.modeKey = modeKey;
    situation.key = key;
    this.meet(situation);
    return situation;
  }

  /** The mode that pieces make, whatever else is settled. */
  modeOf(pieces: readonly number[]): Mode | Short {
    return this.modes.of(pieces, keyOf(pieces));
  }

  private make(settled: Settled, mode: Mode): Situation {
    const armed = this.armed.of(settled.pieces, settled.states);
    return new Situation(this.now, mode, settled, this.scale, armed, this.memory);
  }

  /** A number for what the inputs do: the same for the same, as long as it is kept. */
  private numberOf(inputs: Float64Array, slopes: Float64Array): number {
    const { drives } = this;
    for (let i = 0; i < drives.length; i++) {
      if (sameNumbers(drives[i]!.inputs, inputs) && sameNumbers(drives[i]!.slopes, slopes)) return i;
    }
    return drives.push({ inputs: inputs.slice(), slopes: slopes.slice() }) - 1;
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
    const met = this.met.map((situation) => {
      const { likely, roots } = situation;
      return { situation: nameOf(situation), likely, roots: [...roots] };
    });
    // Those of situations that the run has not met again since it was taken up are still to come.
    return [...met, ...this.remembered.values()];
  }

  /** The same numbers in one list, without the names. */
  guesses(): number[] {
    const guesses: number[] = [];
    for (const { likely, roots } of this.met) guesses.push(likely, ...roots);
    return guesses;
  }

  /** Takes up the roots of a checkpoint; each situation gets its own when it is met. */
  remember(roots: Checkpoint['roots']): void {
    for (const entry of roots) this.remembered.set(entry.situation, entry);
  }

  /** Takes note of a situation that the run has come to for the first time. */
  private meet(situation: Situation): void {
    this.met.push(situation);
    situation.generation = this.generation;
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
    // Situations that are still in use go on; they are not to be found any more.
    this.generation++;
    this.modes.clear();
    this.situations.clear();
    this.met.length = 0;
    this.drives.length = 0;
  }
}

/** Numbers of pieces or states as a text to look up. */
function keyOf(numbers: readonly number[]): string {
  return String.fromCharCode(...numbers);
}

function sameNumbers(one: ArrayLike<number>, other: ArrayLike<number>): boolean {
  for (let j = 0; j < one.length; j++) if (one[j] !== other[j]) return false;
  return true;
}

/** What tells a situation from all others of its program, as text. */
function nameOf({ pieces, states, inputs, inputSlopes }: Situation): string {
  return [pieces, states, inputs, inputSlopes].map((numbers) => numbers.join()).join('|');
}
