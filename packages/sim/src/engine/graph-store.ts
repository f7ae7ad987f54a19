import type { Circuit, Part } from '../circuit/description.ts';
import { plainText } from '../core/plain-text.ts';
import type { Device } from '../device/contract.ts';
import type { Mode } from '../network/mode.ts';
import type { Short } from '../network/tree.ts';
import { buildProgram, type Program } from './program.ts';
import { SituationGraph } from './situation-graph.ts';
import { voltScale } from './volt-scale.ts';

/** Behaviours that are kept: a study goes back and forth between a few. */
const MOST_KEPT = 32;
/** Texts of parts that are kept; beyond this many all are dropped, and parts that come again count as others. */
const MOST_NUMBERED = 10_000;

/** A program, and the graph in which to run it. */
export interface Prepared {
  readonly program: Program;
  readonly graph: SituationGraph;
}

/** Circuits that behave alike, and differ in what drives them. */
interface Alike {
  readonly modes: Map<string, Mode | Short>;
  /** By their yardstick for rounding (V). */
  readonly graphs: Map<number, SituationGraph>;
}

/**
 * Keeps the graphs of situations from run to run. Where a study only changes what drives a circuit - the period of a signal,
 * the voltage of a supply - all modes stay the same, and mostly all situations; finding them is nearly all that a short run
 * costs. A run in a kept graph is the same as one in its own, bit for bit. Serves one run at a time.
 */
export class GraphStore {
  private readonly kept = new Map<string, Alike>();
  /** Parts that behave alike have one number. */
  private readonly numbers = new Map<string, number>();
  private readonly numbered = new WeakMap<Part, number>();
  private given = 0;

  constructor(private readonly devices: ReadonlyMap<string, Device>) {}

  /** The program of a circuit and the graph to run it in, without traces of earlier runs. */
  prepare(circuit: Circuit, faults = false): Prepared {
    const program = buildProgram(circuit, this.devices, faults);
    const { modes, graphs } = this.alike(circuit, faults);
    const scale = voltScale(program);
    const kept = graphs.get(scale);
    if (kept?.begin() === true) return { program, graph: kept };
    if (graphs.size >= MOST_KEPT) graphs.clear();
    const graph = new SituationGraph(program, scale, modes);
    graphs.set(scale, graph);
    return { program, graph };
  }

  private alike(circuit: Circuit, faults: boolean): Alike {
    let key = `${faults}`;
    for (const part of circuit.parts) key += ` ${this.numberOf(part)}`;
    const alike = this.kept.get(key) ?? { modes: new Map<string, Mode | Short>(), graphs: new Map() };
    // The one used last goes to the end, so that the first one is the one to give up.
    this.kept.delete(key);
    this.kept.set(key, alike);
    if (this.kept.size > MOST_KEPT) this.kept.delete(this.kept.keys().next().value!);
    return alike;
  }

  private numberOf(part: Part): number {
    let number = this.numbered.get(part);
    if (number === undefined) {
      const text = this.textOf(part);
      number = this.numbers.get(text) ?? ++this.given;
      if (this.numbers.size >= MOST_NUMBERED) this.numbers.clear();
      this.numbers.set(text, number);
      this.numbered.set(part, number);
    }
    return number;
  }

  /** A part without what only drives it, as text. */
  private textOf(part: Part): string {
    const drives = this.devices.get(part.kind)?.drives ?? [];
    const values = Object.entries(part.values).filter(([name]) => !drives.includes(name));
    return plainText([part.kind, part.name, part.nets, values]);
  }
}
