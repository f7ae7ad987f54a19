import { type Drawing, shape, text } from './shape.ts';

/** One entry of a legend: a sample of what is drawn, and what it means. */
export interface LegendEntry {
  /** Drawn from its left edge with its middle at a height of 0. */
  readonly sample: Drawing;
  /** Room of the sample (pixels). */
  readonly width: number;
  readonly words: string;
}

/** A legend laid out in lines. */
export interface Legend {
  readonly drawing: Drawing;
  /** Pixels; 0 where there is nothing in it. */
  readonly height: number;
}

const LINE = 26;
/** Room of a letter, of the gap behind a sample and of that between entries (pixels), letters taken wide. */
const LETTER = 6.9;
const AFTER_SAMPLE = 7;
const BETWEEN = 22;

/** Lays out a legend from a place on, in as many lines as its width asks for. */
export function legend(entries: readonly LegendEntry[], top: number, width: number): Legend {
  let x = 0;
  let y = top + LINE / 2;
  const drawing = entries.flatMap(({ sample, width: room, words }) => {
    const needed = room + AFTER_SAMPLE + words.length * LETTER;
    if (x > 0 && x + needed > width) [x, y] = [0, y + LINE];
    const at = x;
    x += needed + BETWEEN;
    return [
      shape('g', { transform: `translate(${at} ${y})` }, sample),
      text('unit', [at + (room === 0 ? 0 : room + AFTER_SAMPLE), y + 4], words),
    ];
  });
  return { drawing, height: entries.length === 0 ? 0 : y + LINE / 2 - top };
}
