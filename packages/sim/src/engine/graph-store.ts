import type { Circuit, Part } from '../circuit/description.ts';
import { sameData } from '../core/same-data.ts';
import type { Device } from '../device/contract.ts';
import type { Program } from './program.ts';
import { ProgramSeries } from './program-series.ts';
import { SituationGraph } from './situation-graph.ts';
import { voltScale } from './volt-scale.ts';
import { wiredAlike } from './wired-alike.ts';

/** Graphs that are kept: a study goes back and forth between a few circuits. */
const MOST_KEPT = 32;
/** Of these, graphs that no second circuit has asked for, where circuits may come again. */
const MOST_USED_ONCE = 4;

/** A program, and the graph in which to run it. */
export interface Prepared {
  readonly program: Program;
  readonly graph: SituationGraph;
}

interface Kept {
  readonly circuit: Circuit;
  readonly faults: boolean;
  readonly graph: SituationGraph;
  /** Whether a second circuit has asked for it. */
  readonly usedAgain: boolean;
}

/**
 * Keeps the graphs of situations from run to run. Where a study only changes what drives a circuit - the period of a signal,
 * the pulses of a source - all modes stay the same, and mostly all situations; finding them is nearly all that a short run
 * costs. Where it changes parts, which situations there are mostly stays, and a graph that nobody has asked for again takes
 * up the new numbers. A run in a kept graph is the same as one in its own, bit for bit. Serves one run at a time: the frames
 * that a run shows hold until the next is prepared.
 */
export class GraphStore {
  /** The one used last is the last. */
  private readonly kept: Kept[] = [];

  /** Without and with the limits of the parts. */
  private readonly series: readonly [ProgramSeries, ProgramSeries];

  /**
   * @param mostUsedOnce graphs that no second circuit has asked for, before one of them takes up a circuit that is wired
   *   alike. With 1, circuits that come but once all run in the same memory, which stays near the processor.
   */
  constructor(
    private readonly devices: ReadonlyMap<string, Device>,
    private readonly mostUsedOnce = MOST_USED_ONCE,
  ) {
    this.series = [new ProgramSeries(devices, false), new ProgramSeries(devices, true)];
  }

  /** The program of a circuit and the graph to run it in, without traces of earlier runs. */
  prepare(circuit: Circuit, faults = false): Prepared {
    const { kept } = this;
    const program = this.series[faults ? 1 : 0].build(circuit);
    const scale = voltScale(program);
    const known = kept.findIndex(
      (each) => each.faults === faults && each.graph.voltScale === scale && this.behaveAlike(each.circuit, circuit),
    );
    if (known >= 0) {
      const [{ graph }] = kept.splice(known, 1) as [Kept];
      if (graph.begin()) {
        kept.push({ circuit, faults, graph, usedAgain: true });
        return { program, graph };
      }
    }
    const graph = this.renewed(program, scale) ?? new SituationGraph(program, scale);
    if (kept.length >= MOST_KEPT) kept.shift();
    kept.push({ circuit, faults, graph, usedAgain: false });
    return { program, graph };
  }

  /** A graph that takes up the program, if there is one to spare. */
  private renewed(program: Program, scale: number): SituationGraph | undefined {
    const { kept } = this;
    const isFull = kept.length >= MOST_KEPT;
    if (!isFull && kept.filter(({ usedAgain }) => !usedAgain).length < this.mostUsedOnce) return undefined;
    const spare = kept.findIndex(
      ({ graph, usedAgain }) => (isFull || !usedAgain) && wiredAlike(graph.program, program),
    );
    if (spare < 0) return undefined;
    const [{ graph }] = kept.splice(spare, 1) as [Kept];
    return graph.renew(program, scale) ? graph : undefined;
  }

  /** Whether circuits differ at most in what only drives them. */
  private behaveAlike(one: Circuit, other: Circuit): boolean {
    if (one.parts.length !== other.parts.length) return false;
    for (let index = 0; index < one.parts.length; index++) {
      const part = one.parts[index]!;
      const second = other.parts[index]!;
      if (part !== second && !this.partsAlike(part, second)) return false;
    }
    return true;
  }

  private partsAlike(one: Part, other: Part): boolean {
    if (one.kind !== other.kind || one.name !== other.name) return false;
    const drives = this.devices.get(one.kind)?.drives ?? [];
    const [own, others] = [one.values, other.values];
    for (const name of Object.keys(own)) {
      if (!sameData(own[name], others[name]) && !drives.includes(name)) return false;
    }
    for (const name of Object.keys(others)) {
      if (own[name] === undefined && others[name] !== undefined && !drives.includes(name)) return false;
    }
    return sameData(one.nets, other.nets);
  }
}
