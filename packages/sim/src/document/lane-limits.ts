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

/** Watches the net that a comparator refers to: its mean in the window, and whether it moves. */
export function watchLimit(
  timer: string,
  name: 'threshold limit' | 'trigger limit',
  net: string,
  names: RunNames,
  window: { readonly from: number; readonly until: number },
): LimitWatch {
  const mean = readingObserver({ name: 'mean', text: `mean(${net})`, nets: [net], edges: [] }, names.context, window);
  const range = envelopeObserver([{ net }], { ...window, columns: 1 });
  return {
    observers: [mean, range],
    result() {
      const value = mean.result().value;
      const [shape] = range.result();
      const low = shape?.low[0] ?? 0;
      const high = shape?.high[0] ?? 0;
      const limit = typeof value === 'number' ? value : (low + high) / 2;
      return { timer, name, value: limit, moves: high - low > STANDS_STILL * Math.abs(limit) };
    },
  };
}
