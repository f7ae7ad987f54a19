import type { Circuit, Part } from '../circuit/description.ts';
import { sameData } from '../core/same-data.ts';
import type { CycleCounter, EdgeTeller } from '../engine/one-state-edges.ts';
import { OneStateRun } from '../engine/one-state-run.ts';
import type { SituationGraph } from '../engine/situation-graph.ts';
import type { MeasureContext, ReadingOutcome } from '../measure/context.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import { RatioTally } from '../measure/readings/pairs.ts';
import { prepareRun } from '../run/simulate.ts';
import type { PeriodVisitor } from '../trace/period-visitor.ts';
import { type Beat, beatOf } from '../signal/beat.ts';
import type { Wave } from '../signal/wave.ts';
import type { Question, StopSignal } from './evaluate.ts';
import { isUneven, type StepRange, StepTally } from './ratio-steps.ts';
import type { Subject } from './subject.ts';

/** Beats that are kept; beyond this many all are dropped. */
const MOST_BEATS = 1024;
/** Circuits that are kept: a tile of a map has nine. */
const MOST_CIRCUITS = 16;

/** The two quantities of a field, by the names that its subject knows, and a value of each that makes a circuit. */
export interface FieldAxes {
  readonly x: { readonly name: string; readonly at: number };
  readonly y: { readonly name: string; readonly at: number };
}

/** What a field tells of a point. */
export interface FieldPoint {
  readonly reading: ReadingOutcome;
  readonly steps: StepRange;
}

/**
 * The ratio of a circuit over two quantities, of which one only changes the beat of one signal: its period, width or delay.
 * Then what costs time, the modes of the circuit, need only be found once for each value of the other one; and
 * where the circuit has one capacitor, the runs themselves go the short way (see `OneStateRun`). It gives what
 * {@link evaluate} gives, or leaves a point to it.
 */
export class RatioField {
  /** By the value of the quantity, the first one that was met first; null where the short way does not lead. */
  private readonly circuits = new Map<number, FieldCircuit | null>();
  private readonly beats = new Map<number, Beat | null>();
  /** The graph of a circuit that does not come again: it takes up the numbers of the next. */
  private spare: SituationGraph | undefined;
  private readonly tally: FieldTally;

  private constructor(
    private readonly subject: Subject,
    private readonly axes: FieldAxes,
    private readonly question: Question,
    private readonly reading: ParsedReading,
    /** Whether it is y that changes the beat; x otherwise. */
    private readonly beatIsY: boolean,
    /** The circuit at the values of the axes, and the signal in it. */
    private readonly base: Circuit,
    private readonly signal: Part,
  ) {
    this.tally = new FieldTally(reading);
  }

  /**
   * The field of a question.
   *
   * @param others a second value of each quantity.
   * @returns undefined where there is none: another reading, or no quantity that only changes a beat.
   */
  static of(
    subject: Subject,
    axes: FieldAxes,
    others: readonly [x: number, y: number],
    question: Question,
  ): RatioField | undefined {
    const [reading] = question.readings;
    if (reading?.name !== 'ratio' || question.readings.length > 1 || question.faults === true) return undefined;
    const { x, y } = axes;
    const base = contextAt(subject, axes, x.at, y.at)?.circuit;
    const alongX = contextAt(subject, axes, others[0], y.at)?.circuit;
    const alongY = contextAt(subject, axes, x.at, others[1])?.circuit;
    if (!base || !alongX || !alongY) return undefined;
    for (const [beatIsY, moved] of [
      [true, alongY],
      [false, alongX],
    ] as const) {
      const changed = changedParts(base, moved);
      const signal = changed[0];
      if (changed.length !== 1 || signal === undefined || !differOnlyInWave(signal, moved)) continue;
      return new RatioField(subject, axes, question, reading, beatIsY, base, signal);
    }
    return undefined;
  }

  /** The quantity that only changes the beat: another value of it costs next to nothing. */
  get beat(): 'x' | 'y' {
    return this.beatIsY ? 'y' : 'x';
  }

  /**
   * The ratio at a point; undefined where the general engine has to be asked, or when stopped.
   *
   * @param comesAgain whether other points have the same values.
   */
  at(x: number, y: number, signal?: StopSignal, comesAgain = true): FieldPoint | undefined {
    const [beatAt, circuitAt] = this.beatIsY ? [y, x] : [x, y];
    const beat = this.beatOf(beatAt, comesAgain);
    const circuit = beat && this.circuitOf(circuitAt, comesAgain);
    if (!circuit) return undefined;
    const point = this.ratioOf(circuit.run, beat, signal);
    if (!comesAgain && !this.circuits.has(circuitAt)) this.spare = circuit.graph;
    return point;
  }

  private ratioOf(run: OneStateRun, beat: Beat, signal: StopSignal | undefined): FieldPoint | undefined {
    const { window, maxEvents } = this.question;
    const { tally } = this;
    tally.clear(run.edges);
    const done = run.run(beat, window, maxEvents, tally.onEdge, tally, signal);
    const steps = tally.steps.result();
    // A ratio that is not the same from output to output hangs on the last bits of every output before: where the capacitor has
    // no time to empty, a difference of rounding doubles about with each output. There is one answer to give, the engine's.
    return done && !isUneven(steps) ? { reading: tally.ratio.outcome(window), steps } : undefined;
  }

  private beatOf(at: number, comesAgain: boolean): Beat | null {
    const known = this.beats.get(at);
    if (known !== undefined) return known;
    const { x, y } = this.axes;
    const circuit = (this.beatIsY ? this.contextAt(x.at, at) : this.contextAt(at, y.at))?.circuit;
    const onlyBeat =
      circuit !== undefined &&
      changedParts(this.base, circuit).every((part) => part === this.signal) &&
      differOnlyInWave(this.signal, circuit);
    const wave = circuit?.parts.find(({ name }) => name === this.signal.name)?.values['wave'] as Wave;
    const beat = onlyBeat ? (beatOf(wave) ?? null) : null;
    if (!comesAgain) return beat;
    if (this.beats.size >= MOST_BEATS) this.beats.clear();
    this.beats.set(at, beat);
    return beat;
  }

  /** The circuit at a value of the other quantity, ready to be run in many beats. */
  private circuitOf(at: number, comesAgain: boolean): FieldCircuit | null {
    const { circuits } = this;
    const known = circuits.get(at);
    if (known !== undefined) return known;
    const { x, y } = this.axes;
    const context = this.beatIsY ? this.contextAt(at, y.at) : this.contextAt(x.at, at);
    // Where it changes the signal as well, what the beat is depends on both quantities.
    const fits = context !== undefined && !changedParts(this.base, context.circuit).includes(this.signal);
    if (comesAgain && circuits.size >= MOST_CIRCUITS) {
      const [oldest, circuit] = circuits.entries().next().value!;
      circuits.delete(oldest);
      this.spare ??= circuit?.graph;
    }
    const circuit = fits ? this.prepare(context) : null;
    if (comesAgain) circuits.set(at, circuit);
    return circuit;
  }

  private contextAt(x: number, y: number): MeasureContext | undefined {
    return contextAt(this.subject, this.axes, x, y);
  }

  private prepare({ circuit, highLevel }: MeasureContext): FieldCircuit | null {
    const { nets, limit } = this.reading;
    const [out = '', input = ''] = nets;
    const level = limit ?? highLevel;
    const { spare } = this;
    this.spare = undefined;
    const prepared = prepareRun(circuit, spare);
    // The input comes first, as in the reading itself.
    const watched = [input, out].map((net) => ({ signal: prepared.program.nodeNames.indexOf(net), level }));
    const run = OneStateRun.of(prepared, watched, this.signal.name);
    return run ? { run, graph: prepared.graph } : null;
  }
}

/** A circuit that can go the short way, and the graph in which it does. */
interface FieldCircuit {
  readonly run: OneStateRun;
  readonly graph: SituationGraph;
}

/** What is counted of one run after the other: a map makes ten thousands, and new counters for each cost as much as the run. */
class FieldTally implements CycleCounter {
  readonly steps: StepTally;
  readonly ratio: RatioTally;
  private edges: EdgeTeller | undefined;
  /** The sums when the cycle began that comes again, and how many times it does. */
  private readonly sums: number[] = [];
  private at = 0;
  private times = 0;
  private readonly noting = visitorOf((value) => (this.sums[this.at++] = value));
  private readonly growing = visitorOf((value) => value + this.times * (value - this.sums[this.at++]!));

  constructor(reading: ParsedReading) {
    this.steps = new StepTally(reading);
    this.ratio = new RatioTally(reading);
  }

  /** Begins anew, with the edges of another run. */
  clear(edges: EdgeTeller): void {
    this.edges = edges;
    this.steps.clear();
    this.ratio.clear();
  }

  /** An edge of the output, and those of the input since the one before. */
  readonly onEdge = (_: number, high: boolean): void => {
    const { rises, falls } = this.edges!;
    this.steps.inputs(rises, falls);
    this.ratio.inputs(rises, falls);
    this.steps.output(high);
    this.ratio.output(high);
  };

  /** See {@link CycleCounter}. */
  begin(): void {
    this.visit(this.noting);
  }

  /** See {@link CycleCounter}: sums grow by as much again; least and most are met in the first two cycles. */
  again(times: number): void {
    this.times = times;
    this.visit(this.growing);
  }

  private visit(visitor: PeriodVisitor): void {
    this.at = 0;
    this.steps.visit(visitor);
    this.ratio.visit(visitor);
  }
}

/** Gives sums other values, and leaves all else. */
function visitorOf(sum: (value: number) => number): PeriodVisitor {
  return { sum, date: (value) => value, same: () => {}, again: () => {}, isNew: () => true };
}

function contextAt(subject: Subject, { x, y }: FieldAxes, atX: number, atY: number): MeasureContext | undefined {
  const built = subject(
    new Map([
      [x.name, atX],
      [y.name, atY],
    ]),
  );
  return built.ok ? built.context : undefined;
}

/** The parts of a circuit that another one of the same parts has otherwise. */
function changedParts(one: Circuit, other: Circuit): readonly Part[] {
  return one.parts.filter((part, index) => !sameData(part, other.parts[index]));
}

/** Whether a part has the same levels and the same all else in another circuit, but another wave. */
function differOnlyInWave(part: Part, circuit: Circuit): boolean {
  const other = circuit.parts.find(({ name }) => name === part.name);
  if (other === undefined || part.kind !== 'signal') return false;
  const [one, two] = [part, other].map(({ values }) => beatOf(values['wave'] as Wave));
  if (one === undefined || two === undefined || one.rest !== two.rest || one.raised !== two.raised) return false;
  return sameData(
    { ...part, values: { ...part.values, wave: null } },
    { ...other, values: { ...other.values, wave: null } },
  );
}
