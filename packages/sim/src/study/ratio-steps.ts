import type { MeasureContext, Window } from '../measure/context.ts';
import { edgeFeed, type NetEdge } from '../measure/edge-feed.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods, type PeriodKeeper, type PeriodVisitor } from '../trace/period-visitor.ts';

/** Input edges from one output edge to the next, least and most; null where there were fewer than two output edges. */
export type StepRange = { readonly least: number; readonly most: number } | null;

/**
 * Takes in the edges of an input (which = 0) and an output (which = 1) and finds whether their ratio is the same from output to
 * output. The first step is left out where there are others: it may begin with an empty capacitor, which later ones do not.
 */
export class StepTally implements PeriodKeeper {
  readonly #outByRise: boolean;
  readonly #inByRise: boolean;
  #outs = 0;
  #ins = 0;
  #first = 0;
  #least = Infinity;
  #most = -Infinity;

  /** @param ratio a reading called `ratio`. */
  constructor({ edges }: ParsedReading) {
    this.#outByRise = edges[0] !== 'fall';
    this.#inByRise = (edges[1] ?? edges[0]) !== 'fall';
  }

  /** One edge, in the order of time; the input's comes first where they fall together: it belongs to the step before. */
  edge({ which, high }: Pick<NetEdge, 'which' | 'high'>): void {
    if (which === 1) this.output(high);
    else if (high) this.inputs(1, 0);
    else this.inputs(0, 1);
  }

  /** Begins anew. */
  clear(): void {
    this.#outs = this.#ins = this.#first = 0;
    this.#least = Infinity;
    this.#most = -Infinity;
  }

  /** So many rises and falls of the input. */
  inputs(rises: number, falls: number): void {
    this.#ins += this.#inByRise ? rises : falls;
  }

  /** An edge of the output. */
  output(high: boolean): void {
    if (high !== this.#outByRise) return;
    this.#outs++;
    if (this.#outs === 2) this.#first = this.#ins;
    else if (this.#outs > 2) {
      this.#least = Math.min(this.#least, this.#ins);
      this.#most = Math.max(this.#most, this.#ins);
    }
    this.#ins = 0;
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    this.#outs = visitor.sum(this.#outs);
    this.#ins = visitor.sum(this.#ins);
    visitor.same(this.#first);
    visitor.same(this.#least);
    visitor.same(this.#most);
  }

  /** The steps so far. */
  result(): StepRange {
    if (this.#outs < 2) return null;
    return this.#outs === 2 ? { least: this.#first, most: this.#first } : { least: this.#least, most: this.#most };
  }
}

/** Watches whether a ratio is the same from output to output, see {@link StepTally}. */
export function ratioSteps(
  ratio: ParsedReading,
  context: MeasureContext,
  window: Window,
): Observer & { result(): StepRange } {
  const [out = '', input = ''] = ratio.nets;
  const level = ratio.limit ?? context.highLevel;
  const tally = new StepTally(ratio);
  const feed = edgeFeed(
    [input, out].map((net) => ({ net, level })),
    window,
    (edge) => tally.edge(edge),
  );
  const periods = new CountedPeriods(window, {
    visit(visitor) {
      feed.visit(visitor);
      tally.visit(visitor);
    },
  });
  return { ...feed, periods, result: () => tally.result() };
}

/** How a range of steps is named: `3`, `3 to 4`, `none`. */
export function stepsText(steps: StepRange): string {
  return steps !== null && isUneven(steps) ? `${steps.least} to ${steps.most}` : ratioRegion(steps);
}

/** Whether a ratio is not the same from output to output. */
export function isUneven(steps: StepRange): boolean {
  return steps !== null && steps.least < steps.most;
}

/** The ratio, if it is the same from output to output, as text; else {@link UNEVEN} or {@link NO_RATIO}. */
export function ratioRegion(steps: StepRange): string {
  if (steps === null) return NO_RATIO;
  return isUneven(steps) ? UNEVEN : String(steps.least);
}

/** Stands for a ratio that is not the same from output to output. */
export const UNEVEN = 'uneven';
/** Stands for a ratio where there were fewer than two outputs. */
export const NO_RATIO = 'none';
