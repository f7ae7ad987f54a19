import type { MeasureContext, Window } from '../measure/context.ts';
import { edgeFeed } from '../measure/edge-feed.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';

/** Input edges from one output edge to the next, least and most; null where there were fewer than two output edges. */
export type StepRange = { readonly least: number; readonly most: number } | null;

/**
 * Watches whether a ratio is the same from output to output. The first step is left out where there are others: it may
 * begin with an empty capacitor, which later ones do not.
 *
 * @param ratio a reading called `ratio`.
 */
export function ratioSteps(
  ratio: ParsedReading,
  context: MeasureContext,
  window: Window,
): Observer & { result(): StepRange } {
  const [out = '', input = ''] = ratio.nets;
  const level = ratio.limit ?? context.highLevel;
  const outByRise = ratio.edges[0] !== 'fall';
  const inByRise = (ratio.edges[1] ?? ratio.edges[0]) !== 'fall';
  let outs = 0;
  let ins = 0;
  let first = 0;
  let least = Infinity;
  let most = -Infinity;
  // The input comes first, as in the reading itself: an input edge at an output edge belongs to the step before.
  const feed = edgeFeed(
    [input, out].map((net) => ({ net, level })),
    window,
    ({ which, high }) => {
      if (which === 0) {
        if (high === inByRise) ins++;
        return;
      }
      if (high !== outByRise) return;
      outs++;
      if (outs === 2) first = ins;
      else if (outs > 2) {
        least = Math.min(least, ins);
        most = Math.max(most, ins);
      }
      ins = 0;
    },
  );
  const periods = new CountedPeriods(window, {
    visit(visitor) {
      feed.visit(visitor);
      outs = visitor.sum(outs);
      ins = visitor.sum(ins);
      for (const kept of [first, least, most]) visitor.same(kept);
    },
  });
  return {
    ...feed,
    periods,
    result: () => {
      if (outs < 2) return null;
      return outs === 2 ? { least: first, most: first } : { least, most };
    },
  };
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
