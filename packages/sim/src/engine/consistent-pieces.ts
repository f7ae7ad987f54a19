import type { Piece } from '../device/contract.ts';
import { controlsOf } from './fast-program.ts';
import type { Readout } from '../network/mode.ts';
import type { Program } from './program.ts';
import type { Situation } from './situation.ts';
import { SituationGraph } from './situation-graph.ts';

/** Moves allowed for each branch, far above what the way to a consistent state needs. */
const MOST_PER_BRANCH = 16;
/** How far below its corner every base begins, beyond what it sees there (V). */
const WELL_BELOW = 1;
/** A limit passed by no more than this share of the largest voltage is one that is stood on. */
const ROUNDING = 1e-12;

/** A way out of the piece that a branch is in, and by how much its limit is passed (V or A). */
interface WayOut {
  readonly branch: number;
  readonly to: number;
  readonly value: number;
}

/**
 * Pieces of all branches that are consistent at the instant at which a situation begins, with the capacitors as they are;
 * found where taking the first violated piece again and again does not end (Murty's rule needs that the state is unique
 * whatever the pieces of some branches are, decision 12). Undefined where no branch is controlled, or the way is lost in
 * rounding.
 *
 * The controls are the bases of transistors that amplify. With all their corners raised so far that none of them conducts,
 * current never falls with voltage, and the state is unique. The corners then come down together, by a share that goes
 * from 0 to 1, and the state follows: it is a straight line in every combination of pieces, and goes on in the next one
 * where it meets a corner. Where it can only go on with the share going back, the share does so; what drives itself on
 * has such folds. The line cannot come back to where it began, since the state there is unique, and cannot run away,
 * since resistances, junctions and transistors take up power: so it ends at the share 1 (Katzenelson, "An algorithm for
 * solving nonlinear resistor networks", 1965; Eaves and Scarf, "The solution of systems of piecewise linear equations",
 * 1976). That also shows that there always is a consistent state.
 *
 * @param graph the situations of the program.
 * @param z the modal state in the situation.
 */
export function consistentPieces(
  graph: SituationGraph,
  situation: Situation,
  z: Float64Array,
): readonly number[] | undefined {
  const { program } = graph;
  const controls = new Set(controlsOf(program));
  if (controls.size === 0) return undefined;
  const looking = new Looking(program, situation, z);
  const open = situation.pieces.map((piece, index) =>
    controls.has(index) ? openPiece(program.branches[index]!.pieces, piece) : piece,
  );
  const start = calm(looking, graph, open, controls);
  if (start === undefined) return undefined;
  const { pieces, look } = start;
  const highest = Math.max(...look.ways.map(({ branch, value }) => (controls.has(branch) ? value : 0)));
  const raised = raisedBy(WELL_BELOW + 2 * highest, program, controls);
  return followed(looking, new SituationGraph(raised, graph.voltScale), graph, pieces);
}

/** The piece of a branch that carries nothing, or the given one if there is none. */
function openPiece(pieces: readonly Piece[], otherwise: number): number {
  const open = pieces.findIndex(({ law }) => law.kind === 'open');
  return open < 0 ? otherwise : open;
}

/** The program with the curves of some branches moved to higher voltages (V). */
function raisedBy(volts: number, program: Program, branches: ReadonlySet<number>): Program {
  const raised = ({ law, exits }: Piece): Piece => ({
    law: law.kind === 'thevenin' ? { ...law, offset: law.offset + volts } : law,
    exits: exits.map((exit) => (exit.watch === 'voltage' ? { ...exit, limit: exit.limit + volts } : exit)),
  });
  return {
    ...program,
    branches: program.branches.map((branch, index) =>
      branches.has(index) ? { ...branch, pieces: branch.pieces.map(raised) } : branch,
    ),
  };
}

/** What pieces make of an instant: the ways out of them, and the voltages of all nodes (V). */
interface Look {
  readonly ways: readonly WayOut[];
  readonly nodes: readonly number[];
}

/**
 * Looks at pieces at one instant, whose capacitors stay as they are. Nets that a piece cuts off keep the voltage they had
 * before.
 */
class Looking {
  private readonly z: Float64Array;
  private readonly capacitors: readonly number[];
  private readonly start: readonly number[];
  private nodes: readonly number[];

  constructor(
    private readonly program: Program,
    private readonly now: Situation,
    z: Float64Array,
  ) {
    const { capacitors, nodeCount } = program.network;
    const { capacitorVoltages, nodes } = now.mode;
    const volts = (readout: Readout): number => now.valueOf(readout, z, 0);
    this.capacitors = capacitorVoltages.all().slice(0, capacitors.length).map(volts);
    this.start = this.nodes = nodes.all().map(volts);
    this.z = new Float64Array(capacitors.length + nodeCount);
  }

  /** Takes note of the voltages that nets have before they may be cut off. */
  leave(nodes: readonly number[]): void {
    const { held } = this.program.network;
    this.nodes = nodes.map((voltage, node) => (held.includes(node) ? this.start[node]! : voltage));
  }

  /** What there is to see in some pieces; undefined where these make a short. */
  at(graph: SituationGraph, pieces: readonly number[]): Look | undefined {
    const { states, inputs, inputSlopes } = this.now;
    const situation = graph.find({ pieces, states, inputs, inputSlopes, recurs: false });
    if ('shortedParts' in situation) return undefined;
    graph.stateOf(situation, this.capacitors, this.nodes, this.z);
    const ways = graph.program.branches.flatMap(({ pieces: all }, branch) =>
      all[pieces[branch]!]!.exits.map(({ watch, rising, limit, to, less }) => {
        let value = watch === 'voltage' ? this.voltage(situation, branch) : this.current(situation, branch);
        if (less !== undefined) value -= less.times * this.current(situation, less.branch);
        return { branch, to, value: rising ? value - limit : limit - value };
      }),
    );
    return { ways, nodes: situation.mode.nodes.all().map((readout) => situation.valueOf(readout, this.z, 0)) };
  }

  private voltage(situation: Situation, branch: number): number {
    const { a, b } = this.program.branches[branch]!;
    const { nodes } = situation.mode;
    return situation.valueOf(nodes.at(a), this.z, 0) - situation.valueOf(nodes.at(b), this.z, 0);
  }

  private current(situation: Situation, branch: number): number {
    return situation.valueOf(situation.mode.branchCurrents.at(branch), this.z, 0);
  }
}

/** Moves the first branch that is past a limit, controls left as they are, until there is none. */
function calm(
  looking: Looking,
  graph: SituationGraph,
  pieces: readonly number[],
  controls: ReadonlySet<number>,
): { readonly pieces: readonly number[]; readonly look: Look } | undefined {
  let now = pieces;
  const least = ROUNDING * graph.voltScale;
  for (let move = 0; move <= MOST_PER_BRANCH * pieces.length; move++) {
    const look = looking.at(graph, now);
    const next = look?.ways.find(({ branch, value }) => value > least && !controls.has(branch));
    if (next === undefined) return look && { pieces: now, look };
    looking.leave(look!.nodes);
    now = moved(now, next);
  }
  return undefined;
}

/** Follows the consistent state from the first graph's program to the second one's. */
function followed(
  looking: Looking,
  first: SituationGraph,
  last: SituationGraph,
  start: readonly number[],
): readonly number[] | undefined {
  let pieces = start;
  let share = 0;
  let direction = 1;
  /** The way back to the pieces before. */
  let back: { readonly branch: number; readonly to: number } | undefined;
  for (let move = 0; move <= MOST_PER_BRANCH * start.length; move++) {
    const from = looking.at(first, pieces);
    const to = looking.at(last, pieces);
    if (from === undefined || to === undefined) return undefined;
    const slopes = from.ways.map(({ value }, k) => to.ways[k]!.value - value);
    const opposite = from.ways.findIndex((other) => other.branch === back?.branch && other.to === back.to);
    if (opposite >= 0) direction = slopes[opposite]! > 0 ? -1 : 1;
    let met = direction > 0 ? 1 : -Infinity;
    let way = -1;
    from.ways.forEach(({ value }, k) => {
      if (!(slopes[k]! * direction > 0)) return;
      const at = direction > 0 ? Math.max(share, -value / slopes[k]!) : Math.min(share, -value / slopes[k]!);
      if (direction > 0 ? at < met : at > met) [met, way] = [at, k];
    });
    if (way < 0) return direction > 0 ? pieces : undefined;
    share = met;
    looking.leave(from.nodes.map((voltage, node) => voltage + share * (to.nodes[node]! - voltage)));
    const { branch } = from.ways[way]!;
    back = { branch, to: pieces[branch]! };
    pieces = moved(pieces, from.ways[way]!);
  }
  return undefined;
}

function moved(pieces: readonly number[], { branch, to }: WayOut): readonly number[] {
  return pieces.map((piece, index) => (index === branch ? to : piece));
}
