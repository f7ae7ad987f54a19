import type { LegendEntry } from './legend.ts';
import { path, rect } from './shape.ts';

/** The triangle below an axis. */
export const nowEntry: LegendEntry = {
  sample: [path('now', 'M6 -5l-6 9h12z')],
  width: 12,
  words: 'the board as it stands',
};

/** The hatching of regions in which a ratio is not the same from output to output. */
export const unevenEntry: LegendEntry = {
  sample: [rect('region uneven', { x: 0, y: -7, width: 22, height: 14 })],
  width: 22,
  words: 'not the same from output to output',
};
