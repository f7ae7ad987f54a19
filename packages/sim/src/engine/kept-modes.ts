import type { NumberMemory } from '../core/number-memory.ts';
import type { Mode } from '../network/mode.ts';
import { ModeCompiler } from '../network/mode-compiler.ts';
import type { Short } from '../network/tree.ts';
import type { Program } from './program.ts';

/** A mode, and which of the programs that followed each other its numbers are those of. */
interface Kept {
  readonly mode: Mode | Short;
  readonly generation: number;
}

/** Compiles the modes of a program, each when it is first met, and keeps them. */
export class KeptModes {
  private readonly kept = new Map<string, Kept>();
  private readonly compiler: ModeCompiler;
  private generation = 0;

  /** @param memory where modes have their rows. */
  constructor(
    private program: Program,
    memory: NumberMemory,
  ) {
    this.compiler = new ModeCompiler(program.network, memory);
  }

  /**
   * Takes up the numbers of a program that is wired alike: each mode is worked out anew when it is met, in the memory of
   * the one before where it can be. False where its modes have another structure.
   */
  renew(program: Program): boolean {
    if (!this.compiler.renew(program.network)) return false;
    this.program = program;
    this.generation++;
    return true;
  }

  /** The mode of some pieces, or the sources that contradict each other in it. */
  of(pieces: readonly number[], key: string): Mode | Short {
    const before = this.kept.get(key);
    const { generation } = this;
    if (before?.generation === generation) return before.mode;
    const laws = this.program.branches.map((branch, index) => branch.pieces[pieces[index]!]!.law);
    const mode = this.compiler.compile(laws, before?.mode);
    this.kept.set(key, { mode, generation });
    return mode;
  }

  /** Drops all modes. */
  clear(): void {
    this.kept.clear();
  }
}
