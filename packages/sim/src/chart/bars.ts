import { formatQuantity } from '../quantity/index.ts';
import type { HighSpan } from './high-spans.ts';
import { pixel, type Scale } from './scale.ts';

/** A stretch of high output. `label` is its length, where there is room for it. */
export interface Bar {
  readonly x: number;
  readonly width: number;
  readonly label?: string;
  readonly crowded?: true;
}

/** Pixels between which something is drawn. */
export interface Plot {
  readonly left: number;
  readonly right: number;
}

/** Height of a bar (pixels). */
export const BAR_HEIGHT = 24;
/** Narrowest bar (pixels) that can be seen. */
const NARROWEST_BAR = 1.5;
/** Pixels per character of a label inside a bar, roughly; labels that may not fit are left out. */
const CHARACTER = 7.5;

/** Characters of the shortest label, such as `2 s`: where that finds no room, none is written at all. */
const SHORTEST = 3;

function roomFor(characters: number): number {
  return characters * CHARACTER + 8;
}

/** A stretch of time in pixels, cut off at the edges of the plot; undefined where it lies outside. */
export function stretch(from: number, until: number, x: Scale, plot: Plot): { x: number; width: number } | undefined {
  const start = Math.max(plot.left, x(from));
  const end = Math.min(plot.right, x(until));
  if (end < plot.left || start > plot.right) return undefined;
  const width = Math.max(NARROWEST_BAR, end - start);
  return { x: pixel(Math.min(start, plot.right - width)), width: pixel(width) };
}

/** The bars of the stretches over which a net is high. */
export function barsOf(spans: readonly HighSpan[], x: Scale, plot: Plot): Bar[] {
  return spans.flatMap((span) => {
    const place = stretch(span.from, span.until, x, plot);
    if (place === undefined) return [];
    const label = span.complete && place.width > roomFor(SHORTEST) ? formatQuantity(span.until - span.from, 's') : '';
    const labelled = label !== '' && place.width > roomFor(label.length);
    return [{ ...place, ...(labelled ? { label } : {}), ...(span.crowded === true ? { crowded: true as const } : {}) }];
  });
}
