import { readingObserver } from '../measure/reading-observer.ts';
import { envelopeObserver } from '../trace/envelope-observer.ts';
import type { Observer } from '../trace/observer.ts';
import type { RunNames } from './cell-names.ts';
import type { Lane } from './results.ts';

/** A limit that moves by less than this share of itself is drawn as standing still. */
const STANDS_STILL = 1e-3;

/** Watches a comparator limit through a run. */
export interface LimitWatch {
  readonly observers: readonly Observer[];
  result(): Lane['limits'][number];
}

/**
 * Watches the net that a comparator refers to: its mean in the window, whether it moves, and if it does, its course in
 * the same columns as the lane it belongs to.
 *
 * @param columns how many columns the lane has.
 */
export function watchLimit(
  timer: string,
  name: 'threshold limit' | 'trigger limit',
  net: string,
  names: RunNames,
  window: { readonly from: number; readonly until: number },
  columns: number,
): LimitWatch {
  const mean = readingObserver({ name: 'mean', text: `mean(${net})`, nets: [net], edges: [] }, names.context, window);
  const course = envelopeObserver([{ net }], { ...window, columns });
  return {
    observers: [mean, course],
    result() {
      const value = mean.result().value;
      const { low, high } = course.range(0);
      const limit = typeof value === 'number' ? value : low <= high ? (low + high) / 2 : 0;
      const moves = high - low > STANDS_STILL * Math.abs(limit);
      if (!moves) return { timer, name, value: limit, moves };
      const [shape = { first: [], last: [], low: [], high: [] }] = course.result();
      return { timer, name, value: limit, moves, course: shape };
    },
  };
}
