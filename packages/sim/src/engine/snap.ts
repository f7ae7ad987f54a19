import type { EventKind } from '../trace/event.ts';
import type { ArmedGuard } from './armed-guards.ts';
import type { Checkpoint } from './checkpoint.ts';
import { consistentPieces } from './consistent-pieces.ts';
import { controlsOf } from './fast-program.ts';
import { FastRuns, type Rest } from './fast-runs.ts';
import { forks, SeveralStates } from './several-states.ts';
import type { Situation } from './situation.ts';
import type { SituationGraph } from './situation-graph.ts';
import type { Followed, Snapping, Undecided } from './snapping.ts';
import type { Standing } from './standing.ts';
import type { WaysBack } from './ways-back.ts';

/** Moves of branches one after the other at one instant, far more than where that ends. */
const MOST_IN_TURN = 64;
/** Two states whose voltages differ by no more than this share of the largest one are the same. */
const SAME = 1e-4;

/**
 * Finds the state in which a circuit goes on where there may be several, see `docs/decisions/0016-snaps.md`: the one that
 * it comes to in the time of stray capacitances across the bases, from where it was before. Where it hangs on their ratio
 * it is not decided.
 */
export class Snap implements Snapping {
  before: Checkpoint['before'];
  private readonly controls: readonly number[];
  private readonly states: SeveralStates;
  private readonly runs: FastRuns;
  private begun = false;

  private constructor(private readonly graph: SituationGraph) {
    this.controls = controlsOf(graph.program);
    this.states = new SeveralStates(graph);
    this.runs = new FastRuns(graph.program, graph.voltScale);
  }

  /**
   * For one run in a graph; undefined where its program has no transistors that may drive each other on.
   *
   * @param from what the run takes up, if it does not begin.
   */
  static of(graph: SituationGraph, from?: Checkpoint | Standing): Snap | undefined {
    if (controlsOf(graph.program).length < 2) return undefined;
    const snap = new Snap(graph);
    if (from !== undefined) snap.takeUp(from);
    return snap;
  }

  private takeUp(from: Checkpoint | Standing): void {
    if ('modal' in from) {
      this.before = from.before;
      return;
    }
    const { branches, network } = this.graph.program;
    const controls = this.controls.map((index) => from.nodes[branches[index]!.a]! - from.nodes[branches[index]!.b]!);
    const speeds = [...network.capacitors, ...network.held].map(() => 0);
    this.before = { pieces: from.pieces, controls, speeds, jumped: true, followed: false };
  }

  leave(situation: Situation, z: Float64Array, elapsed: number): void {
    const { branches, network } = this.graph.program;
    const { mode } = situation;
    const volts = (node: number): number => situation.valueOf(mode.nodes.at(node), z, elapsed);
    const held = [
      ...network.capacitors.map((_, c) => mode.capacitorVoltages.at(c)),
      ...network.held.map((node) => mode.nodes.at(node)),
    ];
    this.before = {
      pieces: situation.pieces,
      controls: this.controls.map((control) => volts(branches[control]!.a) - volts(branches[control]!.b)),
      speeds: held.map((readout) => situation.speedOf(readout, z, elapsed)),
      jumped: false,
      followed: false,
    };
  }

  jump(kind: EventKind): void {
    if (kind === 'piece' || kind === 'snap') return;
    if (this.before !== undefined) this.before = { ...this.before, jumped: true };
  }

  next(
    situation: Situation,
    z: Float64Array,
    guard: ArmedGuard | undefined,
    back: WaysBack,
  ): Followed | Undecided | undefined {
    const settled = guard === undefined || guard.rank >= 1;
    const turnsBack = guard !== undefined && back.has(guard.code);
    const found =
      this.before === undefined
        ? settled && this.begin(situation, z)
        : this.wants(situation, settled, turnsBack) && this.follow(situation, z, turnsBack);
    if (found) return found;
    if (!settled && guard.guard === undefined && back.count === MOST_IN_TURN) {
      const pieces = consistentPieces(this.graph, situation, z);
      if (pieces !== undefined) return { pieces, changes: [] };
    }
    if (guard !== undefined && settled) this.leave(situation, z, 0);
    return undefined;
  }

  /** At the first instant there is no state before: of several states it is the one that a slow rise of all supplies ends in. */
  private begin(situation: Situation, z: Float64Array): Followed | undefined {
    if (this.begun) return undefined;
    this.begun = true;
    if (!forks(situation.mode) && !this.states.possible(situation.pieces)) return undefined;
    const pieces = consistentPieces(this.graph, situation, z);
    if (pieces === undefined || forks(this.graph.modeOf(pieces))) return undefined;
    return otherThan(situation, { pieces, changes: [] });
  }

  /** Whether it is not plain that the circuit goes on as the branches have moved one by one. */
  private wants(situation: Situation, settled: boolean, turnsBack: boolean): boolean {
    const before = this.before!;
    if (before.followed || !(settled || turnsBack)) return false;
    if (forks(situation.mode)) return true;
    const moved = before.jumped && situation.pieces.some((piece, index) => piece !== before.pieces[index]);
    return (turnsBack || moved) && [situation.pieces, before.pieces].some((pieces) => this.states.possible(pieces));
  }

  private follow(situation: Situation, z: Float64Array, turnsBack: boolean): Followed | Undecided | undefined {
    const before = this.before!;
    this.before = { ...before, followed: true };
    const rests = this.runs.rests(situation, z, before);
    const known = rests.filter((rest): rest is Rest => typeof rest === 'object');
    const [first] = known;
    const least = SAME * this.graph.voltScale;
    const differs = ({ nodes }: Rest): boolean => nodes.some((v, k) => Math.abs(v - first!.nodes[k]!) > least);
    const others = known.filter(differs);
    if (rests.includes('balanced') || others.length > 0) {
      const parts = others.flatMap((other) => this.states.changes(first!.pieces, other.pieces)).map(({ part }) => part);
      return { parts: parts.length > 0 ? [...new Set(parts)] : situation.amplifying };
    }
    if (first === undefined) return undefined;
    const { pieces } = first;
    const snaps = turnsBack || forks(situation.mode);
    return otherThan(situation, { pieces, changes: snaps ? this.states.changes(before.pieces, pieces) : [] });
  }
}

/** A state to go on in, unless a situation is in it. */
function otherThan({ pieces }: Situation, followed: Followed): Followed | undefined {
  return followed.pieces.every((piece, index) => piece === pieces[index]) ? undefined : followed;
}
