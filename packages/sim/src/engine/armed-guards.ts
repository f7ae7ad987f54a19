import type { BranchDescription, Exit, Guard, Reactor } from '../device/contract.ts';
import { isIdealSource } from '../network/tree.ts';
import type { Program } from './program.ts';

/** What a guard of a situation watches, what it does when it fires, and what to show for it. */
export interface ArmedGuard {
  /** Global number of the event, see `ArmedGuards`. */
  readonly code: number;
  readonly rank: number;
  /** Set for the guards of reactors, so that the event can tell value and limit. */
  readonly guard: Guard | undefined;
  /** It watches sign (v(plus) - v(minus)) - offset, or with a branch sign i(branch) - offset. */
  readonly plus: number;
  readonly minus: number;
  /** -1 where a voltage is watched. */
  readonly branch: number;
  readonly sign: 1 | -1;
  readonly offset: number;
  /** Taken off what is watched, before the sign: so many times the current of a branch. */
  readonly less?: { readonly branch: number; readonly times: number } | undefined;
}

/** What event a number stands for: an exit of a branch's piece, or an event of a reactor. */
export type EventCode =
  | { readonly branch: number; readonly exit: Exit }
  | { readonly reactor: number; readonly event: number };

/** Its numbers change with those of the program. */
type Changing = { -readonly [K in keyof ArmedGuard]: ArmedGuard[K] };

/** The guards of all pieces and reactor states of a program, made once each, and the events they stand for, by number. */
export class ArmedGuards {
  private readonly codes: EventCode[] = [];
  private readonly exitCodes: number[][][];
  private readonly reactorCodes: number[][];
  private readonly ofPieces: (readonly Changing[] | undefined)[][];
  private readonly ofStates: Map<number, readonly Changing[]>[];

  constructor(private program: Program) {
    const { branches, reactors } = program;
    this.reactorCodes = reactors.map(() => []);
    this.ofPieces = branches.map(() => []);
    this.ofStates = reactors.map(() => new Map<number, readonly Changing[]>());
    this.exitCodes = branches.map((branch, index) =>
      branch.pieces.map((piece) => piece.exits.map((exit) => this.codes.push({ branch: index, exit }) - 1)),
    );
  }

  /**
   * Takes up the numbers of a program that is wired alike: the limits of guards that have been made change. False where
   * its guards are others; they must be made anew then.
   */
  renew(program: Program): boolean {
    const former = this.program;
    this.program = program;
    for (let b = 0; b < this.ofPieces.length; b++) {
      const branch = program.branches[b]!;
      if (branch === former.branches[b]) continue;
      const codes = this.exitCodes[b]!;
      if (branch.pieces.length !== codes.length) return false;
      for (let p = 0; p < codes.length; p++) {
        if (!this.renewExits(b, p, branch.pieces[p]!.exits)) return false;
      }
    }
    for (let r = 0; r < this.ofStates.length; r++) {
      if (program.reactors[r] === former.reactors[r]) continue;
      for (const [state, known] of this.ofStates[r]!) {
        if (!renewGuards(known, program.reactors[r]!.guards(state))) return false;
      }
    }
    return true;
  }

  /** The event behind a number. */
  event(code: number): EventCode {
    return this.codes[code]!;
  }

  /** The number of the exit that takes a branch from one piece to another; -1 if there is none. */
  codeOfExit(branch: number, from: number, to: number): number {
    const exits = this.program.branches[branch]!.pieces[from]!.exits;
    const exit = exits.findIndex((each) => each.to === to);
    return this.exitCodes[branch]![from]![exit] ?? -1;
  }

  /** The number of a reactor's event. */
  codeOf(reactor: number, event: number): number {
    return (this.reactorCodes[reactor]![event] ??= this.codes.push({ reactor, event }) - 1);
  }

  /** The guards of all pieces and states, in the order in which they fire at one instant. */
  of(pieces: readonly number[], states: readonly number[]): readonly ArmedGuard[] {
    const armed: ArmedGuard[] = [];
    for (let b = 0; b < pieces.length; b++) line(armed, this.ofPiece(b, pieces[b]!));
    for (let r = 0; r < states.length; r++) line(armed, this.ofState(r, states[r]!));
    return armed;
  }

  /** Takes up the exits of a piece, and their limits for the guards that watch for them. */
  private renewExits(branch: number, piece: number, exits: readonly Exit[]): boolean {
    const codes = this.exitCodes[branch]![piece]!;
    if (codes.length !== exits.length) return false;
    const guards = this.ofPieces[branch]![piece];
    for (let e = 0; e < codes.length; e++) {
      const { exit: before } = this.codes[codes[e]!] as { readonly exit: Exit };
      const exit = exits[e]!;
      if (before.to !== exit.to || before.watch !== exit.watch || before.rising !== exit.rising) return false;
      if (before.less?.branch !== exit.less?.branch) return false;
      this.codes[codes[e]!] = { branch, exit };
      const guard = guards?.[e];
      if (guard === undefined) continue;
      if (guard.rank !== this.rankOf(branch, exit)) return false;
      guard.offset = guard.sign * exit.limit;
      guard.less = exit.less;
    }
    return true;
  }

  /** Within rank 0, a piece whose law would force a capacitor in an instant is entered last. */
  private rankOf(branch: number, exit: Exit): number {
    return isIdealSource(this.program.branches[branch]!.pieces[exit.to]!.law) ? 0.5 : 0;
  }

  private ofPiece(index: number, number: number): readonly ArmedGuard[] {
    const known = this.ofPieces[index]!;
    return (known[number] ??= this.guardsOfPiece(index, number));
  }

  private guardsOfPiece(index: number, number: number): Changing[] {
    const branch: BranchDescription = this.program.branches[index]!;
    return branch.pieces[number]!.exits.map((exit, e) => {
      const sign = exit.rising ? 1 : -1;
      return {
        code: this.exitCodes[index]![number]![e]!,
        rank: this.rankOf(index, exit),
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
    const known = this.ofStates[index]!;
    let guards = known.get(state);
    if (guards === undefined) {
      guards = this.guardsOfState(index, state);
      known.set(state, guards);
    }
    return guards;
  }

  private guardsOfState(index: number, state: number): Changing[] {
    const reactor: Reactor = this.program.reactors[index]!;
    return reactor.guards(state).map((guard) => {
      const { watch, offset, rank } = guard;
      const code = this.codeOf(index, guard.event);
      return 'plus' in watch
        ? { code, rank, guard, plus: watch.plus, minus: watch.minus, branch: -1, sign: 1, offset, less: undefined }
        : { code, rank, guard, plus: 0, minus: 0, branch: watch.branch, sign: watch.sign, offset, less: undefined };
    });
  }
}

/** Lets guards join a line in which those of a lower rank, or that came before, stand before them. */
function line(armed: ArmedGuard[], guards: readonly ArmedGuard[]): void {
  for (const guard of guards) {
    let place = armed.push(guard) - 1;
    for (; place > 0 && armed[place - 1]!.rank > guard.rank; place--) armed[place] = armed[place - 1]!;
    armed[place] = guard;
  }
}

/** Gives the guards of a state the limits of others; false where those do not watch the same. */
function renewGuards(known: readonly Changing[], others: readonly Guard[]): boolean {
  if (known.length !== others.length) return false;
  for (let g = 0; g < known.length; g++) {
    const own = known[g]!;
    const other = others[g]!;
    const { watch } = other;
    if (own.rank !== other.rank || own.guard?.event !== other.event) return false;
    if ('plus' in watch) {
      if (own.branch >= 0 || own.plus !== watch.plus || own.minus !== watch.minus) return false;
    } else if (own.branch !== watch.branch || own.sign !== watch.sign) return false;
    own.guard = other;
    own.offset = other.offset;
  }
  return true;
}
