import type { SnapChange } from '../trace/event.ts';
import type { Source } from '../signal/source.ts';
import { passageBetween } from './passage.ts';
import type { Program } from './program.ts';
import type { Settled, Situation } from './situation.ts';
import type { SituationGraph } from './situation-graph.ts';
import type { Succession } from './succession.ts';

/** Levels of one input kept at a situation; a wave of more is looked up anew each time. */
const MOST_LEVELS = 64;

/** Where the inputs stand now: see `Agenda`. */
export interface InputsNow {
  readonly sources: readonly Pick<Source, 'level' | 'slope'>[];
  sinceCorner(input: number): number;
}

/**
 * Finds what follows an event that happens now, and keeps it at the situation in which it happened. `elapsed` is the time
 * since the situation began.
 */
export class SuccessionFinder {
  private readonly inputs: Float64Array;
  private readonly slopes: Float64Array;

  constructor(
    private readonly program: Program,
    private readonly graph: SituationGraph,
    private readonly agenda: InputsNow,
  ) {
    this.inputs = new Float64Array(program.inputs.length + 1);
    this.slopes = new Float64Array(program.inputs.length + 1);
  }

  /** What follows guard g of the situation. */
  ofGuard(situation: Situation, g: number, elapsed: number): Succession {
    const event = this.graph.event(situation.guards[g]!.code);
    const former = situation.former?.afterGuard[g];
    const made =
      'reactor' in event
        ? this.reacted(situation, event.reactor, event.event, elapsed, former)
        : this.moved(situation, event.branch, event.exit.to, elapsed, former);
    if (situation.steady && leadsToKept(made)) situation.afterGuard[g] = made;
    return made;
  }

  /** What follows an event of a reactor. */
  ofReactor(situation: Situation, reactor: number, event: number, elapsed: number): Succession {
    const code = this.graph.codeOf(reactor, event);
    const kept = situation.afterEvent[code];
    if (kept) return kept;
    const made = this.reacted(situation, reactor, event, elapsed, situation.former?.afterEvent[code]);
    if (situation.steady && leadsToKept(made)) situation.afterEvent[code] = made;
    return made;
  }

  /** What follows the corner that an input has just passed. */
  ofInput(situation: Situation, input: number, elapsed: number): Succession {
    const source = this.agenda.sources[input]!;
    const levels: Succession[] = (situation.afterInput[input] ??= []);
    // On a slope it also matters how long the situation has lasted: that is how far its inputs have come.
    const lasted = situation.steady ? 0 : elapsed;
    for (const kept of levels) {
      if (kept.level === source.level && kept.slope === source.slope && kept.lasted === lasted) return kept;
    }
    const { pieces, states } = situation;
    const { part } = this.program.inputs[input]!;
    const { level, slope } = source;
    const former = situation.former?.afterInput[input]?.[levels.length];
    const made = this.succession(situation, pieces, states, elapsed, { part, level, slope, lasted }, former);
    if (situation.recurs && leadsToKept(made) && levels.length < MOST_LEVELS) levels.push(made);
    return made;
  }

  /** Values and slopes of all inputs now; the constant 1 comes last. They hold until the next ones are asked for. */
  inputsNow(): Pick<Settled, 'inputs' | 'inputSlopes' | 'recurs'> {
    const { sources } = this.agenda;
    const { inputs, slopes } = this;
    const count = sources.length;
    let recurs = true;
    for (let j = 0; j < count; j++) {
      const { level, slope } = sources[j]!;
      slopes[j] = slope;
      const since = slope === 0 ? 0 : this.agenda.sinceCorner(j);
      if (since !== 0) recurs = false;
      inputs[j] = level + slope * since;
    }
    inputs[count] = 1;
    return { inputs, inputSlopes: slopes, recurs };
  }

  /** What follows when a branch takes up another piece of its curve. */
  private moved(
    situation: Situation,
    branch: number,
    piece: number,
    elapsed: number,
    former: Succession | undefined,
  ): Succession {
    const pieces = situation.pieces.slice();
    pieces[branch] = piece;
    const { part } = this.program.branches[branch]!;
    const back = this.graph.codeOfExit(branch, piece, situation.pieces[branch]!);
    return this.succession(situation, pieces, situation.states, elapsed, { part, kind: 'piece', back }, former);
  }

  /**
   * What follows when branches take up other pieces together, just as the situation begins; a snap if transistors change by
   * it.
   */
  ofPieces(situation: Situation, pieces: readonly number[], changes: readonly SnapChange[]): Succession {
    const branch = pieces.findIndex((piece, index) => piece !== situation.pieces[index]);
    const { part } = changes[0] ?? this.program.branches[Math.max(branch, 0)]!;
    const what =
      changes.length > 0 ? ({ part, kind: 'snap', snap: changes } as const) : { part, kind: 'piece' as const };
    return this.succession(situation, pieces, situation.states, 0, what, undefined);
  }

  private reacted(
    situation: Situation,
    reactor: number,
    event: number,
    elapsed: number,
    former: Succession | undefined,
  ): Succession {
    const behaviour = this.program.reactors[reactor]!;
    const reaction = behaviour.react(situation.states[reactor]!, event);
    const states = situation.states.slice();
    states[reactor] = reaction.state;
    const pieces = situation.pieces.slice();
    for (const [branch, piece] of reaction.pieces) pieces[branch] = piece;
    return this.succession(situation, pieces, states, elapsed, { part: behaviour.part, reactor, reaction }, former);
  }

  private succession(
    situation: Situation,
    pieces: readonly number[],
    states: readonly number[],
    elapsed: number,
    what: { readonly part: string } & Partial<Succession>,
    former: Succession | undefined,
  ): Succession {
    const { inputs, inputSlopes, recurs } = this.inputsNow();
    // What followed with other numbers mostly follows again.
    const to = this.graph.find({ pieces, states, inputs, inputSlopes, recurs }, former?.passage?.to);
    const short = 'shortedParts' in to;
    const { snap, part, kind = 'source', reactor = -1, reaction, back = -1, level = 0, slope = 0, lasted = 0 } = what;
    return {
      passage: short ? undefined : passageBetween(situation, to, elapsed, this.program.network.capacitors.length),
      shortedParts: short ? to.shortedParts : undefined,
      reactor,
      reaction,
      schedules: reaction !== undefined && reaction.cancel.length + reaction.schedule.length > 0,
      part,
      kind,
      snap,
      back,
      level,
      slope,
      lasted,
    };
  }
}

/** A succession can be kept when it leads to a situation that is kept. */
function leadsToKept({ passage }: Succession): boolean {
  return passage === undefined || passage.to.recurs;
}
