import type { Agenda } from './agenda.ts';
import type { Program } from './program.ts';
import type { Situation } from './situation.ts';
import type { Settled, SituationGraph } from './situation-graph.ts';
import type { LevelSuccession, Succession } from './succession.ts';

/** Levels of one input kept at a situation; a wave of more is looked up anew each time. */
const MOST_LEVELS = 64;

/**
 * Finds what follows an event, and keeps it at the situation in which it happened. `elapsed` is the time since the
 * situation began, `time` and `timeLow` are now.
 */
export class SuccessionFinder {
  constructor(
    private readonly program: Program,
    private readonly graph: SituationGraph,
    private readonly agenda: Agenda,
  ) {}

  /** What follows guard g of the situation. */
  ofGuard(situation: Situation, g: number, elapsed: number, time: number, timeLow: number): Succession {
    const event = this.graph.event(situation.guards[g]!.code);
    const made =
      'reactor' in event
        ? this.reacted(situation, event.reactor, event.event, elapsed, time, timeLow)
        : this.moved(situation, event.branch, event.exit.to, elapsed, time, timeLow);
    if (repeats(situation, made)) situation.afterGuard[g] = made;
    return made;
  }

  /** What follows an event of a reactor. */
  ofReactor(
    situation: Situation,
    reactor: number,
    event: number,
    elapsed: number,
    time: number,
    timeLow: number,
  ): Succession {
    const code = this.graph.codeOf(reactor, event);
    const kept = situation.afterEvent[code];
    if (kept) return kept;
    const made = this.reacted(situation, reactor, event, elapsed, time, timeLow);
    if (repeats(situation, made)) situation.afterEvent[code] = made;
    return made;
  }

  /** What follows the corner that an input has just passed. */
  ofInput(situation: Situation, input: number, elapsed: number, time: number, timeLow: number): Succession {
    const source = this.agenda.sources[input]!;
    const levels: LevelSuccession[] = (situation.afterInput[input] ??= []);
    if (source.slope === 0) {
      for (let i = 0; i < levels.length; i++) if (levels[i]!.level === source.level) return levels[i]!;
    }
    const { pieces, states } = situation;
    const settled = { pieces, states, ...this.inputsAt(time, timeLow) };
    const part = this.program.inputs[input]!.part;
    const made = this.succession(situation, settled, elapsed, {
      part,
      kind: 'source',
      reactor: -1,
      reaction: undefined,
      schedules: false,
    });
    if (repeats(situation, made) && levels.length < MOST_LEVELS) levels.push({ ...made, level: source.level });
    return made;
  }

  /** Values and slopes of all inputs at a time; the constant 1 comes last. */
  inputsAt(time: number, timeLow: number): Pick<Settled, 'inputs' | 'inputSlopes'> {
    const { sources } = this.agenda;
    const inputs = new Float64Array(sources.length + 1);
    const inputSlopes = new Float64Array(sources.length + 1);
    sources.forEach((source, j) => {
      const since = time - source.since.high + (timeLow - source.since.low);
      inputSlopes[j] = source.slope;
      inputs[j] = source.level + (source.slope === 0 ? 0 : source.slope * since);
    });
    inputs[sources.length] = 1;
    return { inputs, inputSlopes };
  }

  /** What follows when a branch takes up another piece of its curve. */
  private moved(
    situation: Situation,
    branch: number,
    piece: number,
    elapsed: number,
    time: number,
    timeLow: number,
  ): Succession {
    const pieces = situation.pieces.slice();
    pieces[branch] = piece;
    const settled = { pieces, states: situation.states, ...this.inputsAt(time, timeLow) };
    const made = this.succession(situation, settled, elapsed, {
      part: this.program.branches[branch]!.part,
      kind: 'piece',
      reactor: -1,
      reaction: undefined,
      schedules: false,
    });
    return { ...made, back: this.graph.codeOfExit(branch, piece, situation.pieces[branch]!) };
  }

  private reacted(
    situation: Situation,
    reactor: number,
    event: number,
    elapsed: number,
    time: number,
    timeLow: number,
  ): Succession {
    const behaviour = this.program.reactors[reactor]!;
    const reaction = behaviour.react(situation.states[reactor]!, event);
    const states = situation.states.slice();
    states[reactor] = reaction.state;
    const pieces = situation.pieces.slice();
    for (const [branch, piece] of reaction.pieces) pieces[branch] = piece;
    const settled = { pieces, states, ...this.inputsAt(time, timeLow) };
    const schedules = reaction.cancel.length + reaction.schedule.length > 0;
    return this.succession(situation, settled, elapsed, {
      part: behaviour.part,
      kind: 'source',
      reactor,
      reaction,
      schedules,
    });
  }

  private succession(
    situation: Situation,
    settled: Settled,
    elapsed: number,
    what: Omit<Succession, 'passage' | 'shortedParts' | 'back'>,
  ): Succession {
    const to = this.graph.find(settled);
    if ('shortedParts' in to) return { ...what, back: -1, passage: undefined, shortedParts: to.shortedParts };
    return { ...what, back: -1, passage: this.graph.passage(situation, to, elapsed), shortedParts: undefined };
  }
}

/** A succession can be kept when neither side depends on the time at which it happens. */
function repeats(situation: Situation, succession: Succession): boolean {
  return situation.steady && (succession.passage === undefined || succession.passage.to.steady);
}
