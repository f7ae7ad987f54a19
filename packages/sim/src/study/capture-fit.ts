import { leastSquares, type LeastSquaresResult } from '../core/levenberg-marquardt.ts';
import type { Capture } from '../capture/capture.ts';
import { type AlignBy, alignCapture } from './capture-align.ts';
import { type Prediction, predictCapture, type PredictionQuestion } from './capture-prediction.ts';
import { ComparedCapture, type GroupWeights } from './capture-residuals.ts';
import type { StopSignal } from './evaluate.ts';
import { type Identified, identify } from './identify.ts';
import type { Subject } from './subject.ts';

/** A measurement and what its prediction needs. */
export interface CaptureTask extends PredictionQuestion {
  readonly capture: Capture;
  readonly align: AlignBy;
}

/** A positive value to be estimated. */
export interface FreeValue {
  readonly name: string;
  /** What the board states; null for none (no leakage). */
  readonly marked: number | null;
  /** Values tried before the search, which begins at the best of them. */
  readonly tries: readonly number[];
}

/** What a fit found. Plain data. */
export interface CaptureFit {
  /** In the order of the values to be estimated. */
  readonly values: readonly number[];
  /** What is added to a time of the capture to have the time of the run (s). */
  readonly offset: number;
  /** Sum of squared residuals, each divided by its uncertainty, and how many were compared. */
  readonly cost: number;
  readonly edges: number;
  readonly samples: number;
  /** Residuals less values estimated. */
  readonly degrees: number;
  /** Root of the mean square: edges (s), samples (V); null where none is compared. */
  readonly edgeResidual: number | null;
  readonly sampleResidual: number | null;
  readonly converged: boolean;
  readonly identified: Identified;
}

/** A fit, why there is none, or undefined when it was stopped. */
export type CaptureFitOutcome = CaptureFit | { readonly failed: string } | undefined;

/** Half the distance of derivatives: of the logarithm of a value, and of the offset in distances of samples. */
const VALUE_DIFFERENCE = 1e-4;
const OFFSET_DIFFERENCE = 1e-3;
/** Longest step: a factor of e, and a third of all samples. */
const LONGEST_VALUE_STEP = 1;
/** Steps between which the choice of samples compared stays, and how often it is made anew. */
const STEPS_PER_ROUND = 3;
const MOST_ROUNDS = 20;
/** From so many residuals on, a group's own scatter says more of its uncertainty than what was assumed. */
const SCATTER_FROM = 5;

const EVEN: GroupWeights = { edges: 1, samples: 1 };

/** Lays the capture over the run of a subject as it is. @returns undefined when stopped. */
function layCapture(
  task: CaptureTask,
  subject: Subject,
  signal: StopSignal | undefined,
): ComparedCapture | { failed: string } | undefined {
  const first = predictCapture(subject, new Map(), task, [], signal);
  if (first === undefined || 'failed' in first) return first;
  const alignment = alignCapture(task.capture, first.edges, task.align);
  if ('failed' in alignment) return alignment;
  return new ComparedCapture(task.capture, alignment, task.until);
}

/**
 * Estimates values of a subject so that its run comes closest to the capture, by least squares in the logarithms of the
 * values; the offset of the time is estimated with them where it came from an edge.
 *
 * @param nominal the subject as the board states it, which decides which edges belong together.
 * @param rescale whether the scatter of the edges, and that of the samples, sets how much they count against each other,
 *   in place of the uncertainties assumed: for estimates, not for comparing one fit with another.
 */
export function fitCapture(
  task: CaptureTask,
  nominal: Subject,
  subject: Subject,
  free: readonly FreeValue[],
  { rescale, signal }: { readonly rescale: boolean; readonly signal?: StopSignal | undefined },
): CaptureFitOutcome {
  const compared = layCapture(task, nominal, signal);
  if (compared === undefined || 'failed' in compared) return compared;
  if (compared.count <= free.length) return { failed: 'the capture has too few edges and samples for so many values' };
  const search = new Search(task, subject, free, compared, signal);
  return search.run(rescale);
}

/** One search for values. Parameters are logarithms of the values over their start, then the offset's change in samples. */
class Search {
  readonly #task: CaptureTask;
  readonly #subject: Subject;
  readonly #free: readonly FreeValue[];
  readonly #compared: ComparedCapture;
  readonly #signal: StopSignal | undefined;
  #starts: readonly number[] = [];
  #failed = 'the values tried make no circuit that runs';

  constructor(
    task: CaptureTask,
    subject: Subject,
    free: readonly FreeValue[],
    compared: ComparedCapture,
    signal: StopSignal | undefined,
  ) {
    this.#task = task;
    this.#subject = subject;
    this.#free = free;
    this.#compared = compared;
    this.#signal = signal;
  }

  run(rescale: boolean): CaptureFitOutcome {
    this.#starts = this.#free.map(({ marked, tries }) => marked ?? tries[0]!);
    for (const [index, { tries }] of this.#free.entries()) this.#try(index, tries);
    if (this.#stopped) return undefined;
    let weights = EVEN;
    let found = this.#settle(new Float64Array(this.#size), weights);
    if (found !== undefined && rescale) {
      weights = this.#scatter(found);
      if (weights !== EVEN) found = this.#settle(found.best.parameters, weights);
    }
    if (this.#stopped) return undefined;
    return found === undefined ? { failed: this.#failed } : this.#outcome(found, weights);
  }

  get #stopped(): boolean {
    return this.#signal?.aborted === true;
  }

  get #size(): number {
    return this.#free.length + (this.#compared.alignment.byEdge ? 1 : 0);
  }

  /** Moves one start to the best of some values. */
  #try(index: number, tries: readonly number[]): void {
    let least = Infinity;
    let best = this.#starts;
    for (const value of tries) {
      if (this.#stopped) return;
      this.#starts = this.#starts.with(index, value);
      const zero = new Float64Array(this.#size);
      const prediction = this.#predict(zero);
      if (prediction === undefined) continue;
      const mask = this.#compared.mask(prediction, this.#offset(zero));
      const cost = squares(this.#compared.residuals(prediction, this.#offset(zero), mask, EVEN));
      if (cost < least) [least, best] = [cost, this.#starts];
    }
    this.#starts = best;
  }

  /** Searches with the samples chosen anew until the choice stays. */
  #settle(from: Float64Array, weights: GroupWeights): Found | undefined {
    let parameters = from;
    let found: Found | undefined;
    let mask = this.#maskAt(parameters);
    for (let round = 0; round < MOST_ROUNDS && mask !== undefined; round++) {
      const chosen = mask;
      const best = leastSquares({
        start: parameters,
        residuals: (at) => {
          const prediction = this.#predict(at);
          return prediction && this.#compared.residuals(prediction, this.#offset(at), chosen, weights);
        },
        differences: this.#perParameter(VALUE_DIFFERENCE, OFFSET_DIFFERENCE),
        longest: this.#perParameter(LONGEST_VALUE_STEP, this.#compared.times.length / 3),
        mostSteps: STEPS_PER_ROUND,
        stopped: () => this.#stopped,
      });
      if (best === undefined) return undefined;
      found = { best, mask: chosen };
      parameters = best.parameters;
      mask = this.#maskAt(parameters);
      if (best.converged && mask?.every((kept, index) => kept === chosen[index]) === true) break;
    }
    return found;
  }

  #scatter({ best, mask }: Found): GroupWeights {
    const edges = this.#compared.edges.length;
    const samples = mask.reduce((sum, kept) => sum + kept, 0);
    if (edges < SCATTER_FROM + this.#size || samples < SCATTER_FROM + this.#size) return EVEN;
    const share = (cost: number, count: number): number => Math.sqrt(cost / count);
    const edgeScatter = share(squares(best.residuals.subarray(0, edges)), edges);
    const sampleScatter = share(squares(best.residuals.subarray(edges)), samples);
    return edgeScatter > 0 && sampleScatter > 0 ? { edges: 1 / edgeScatter, samples: 1 / sampleScatter } : EVEN;
  }

  #outcome({ best, mask }: Found, weights: GroupWeights): CaptureFit | undefined {
    const jacobian = best.jacobian();
    if (jacobian === undefined) return undefined;
    const { edges } = this.#compared;
    const samples = mask.reduce((sum, kept) => sum + kept, 0);
    const degrees = edges.length + samples - this.#size;
    const values = this.#valuesAt(best.parameters);
    const inSeconds = edges.map(({ uncertainty }, at) => (best.residuals[at]! * uncertainty) / weights.edges);
    const inVolts = this.#compared.samples.map(
      ({ uncertainty }, at) => (best.residuals[edges.length + at]! * uncertainty) / weights.samples,
    );
    return {
      values,
      offset: this.#offset(best.parameters),
      cost: best.cost,
      edges: edges.length,
      samples,
      degrees,
      edgeResidual: edges.length === 0 ? null : Math.sqrt(squares(inSeconds) / edges.length),
      sampleResidual: samples === 0 ? null : Math.sqrt(squares(inVolts) / samples),
      converged: best.converged,
      identified: identify(
        jacobian,
        this.#free.map(({ name, marked }, index) => ({ name, value: values[index]!, marked })),
        best.cost,
        degrees,
      ),
    };
  }

  #maskAt(parameters: Float64Array): Uint8Array | undefined {
    const prediction = this.#predict(parameters);
    return prediction && this.#compared.mask(prediction, this.#offset(parameters));
  }

  #predict(parameters: Float64Array): Prediction | undefined {
    const values = this.#valuesAt(parameters);
    const offset = this.#offset(parameters);
    const instants = this.#compared.samples.length === 0 ? [] : this.#compared.times.map((time) => time + offset);
    const named = new Map(this.#free.map(({ name }, index) => [name, values[index]!]));
    const found = predictCapture(this.#subject, named, this.#task, instants, this.#signal);
    if (found !== undefined && 'failed' in found) {
      this.#failed = found.failed;
      return undefined;
    }
    return found;
  }

  #valuesAt(parameters: Float64Array): number[] {
    return this.#starts.map((start, index) => start * Math.exp(parameters[index]!));
  }

  #offset(parameters: Float64Array): number {
    const { offset, byEdge } = this.#compared.alignment;
    return byEdge ? offset + parameters[this.#free.length]! * this.#compared.spacing : offset;
  }

  #perParameter(ofValues: number, ofOffset: number): number[] {
    return Array.from({ length: this.#size }, (_, index) => (index < this.#free.length ? ofValues : ofOffset));
  }
}

interface Found {
  readonly best: LeastSquaresResult;
  readonly mask: Uint8Array;
}

function squares(values: ArrayLike<number>): number {
  let sum = 0;
  for (let index = 0; index < values.length; index++) sum += values[index]! ** 2;
  return sum;
}
