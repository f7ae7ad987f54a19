import type { HistogramMark, HistogramScene } from './histogram.ts';
import { type Drawing, line, rect, type Shape, shape, text } from './shape.ts';

/** Labels nearer than this to an end of the axis stand inside of it (pixels). */
const EDGE = 16;

/** The distribution of one reading with its limits and worst cases. */
export function histogramDrawing(scene: HistogramScene): Drawing {
  const { bars, marks, middle, axis, left, right, top, foot } = scene;
  return [
    ...bars.map(({ x, top: y, width, isOutside }) =>
      rect(isOutside ? 'samples outside' : 'samples', { x, y, width, height: foot - y }),
    ),
    middle && line('middle', [middle[0], foot + 3], [middle[1], foot + 3]),
    line('axis-tick', [left, foot], [right, foot]),
    // All lines first: a name keeps its rim where the line of a neighbour runs through it.
    ...marks.flatMap((mark) => markLine(mark, top, foot)),
    ...marks.flatMap((mark) => markName(mark, top)),
    ...axis.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, foot], [at, foot + 6]),
      text(undefined, [at, foot + 20], label, at < left + EDGE ? 'start' : at > right - EDGE ? 'end' : 'middle'),
    ]),
    text(undefined, [right, foot + 37], axis.title, 'end'),
  ];
}

function markLine({ kind, at, label }: HistogramMark, top: number, foot: number): Shape[] {
  if (kind === 'now') {
    return [shape('path', { class: 'now', d: `M${at} ${foot}l-6 9h12z` }, [shape('title', {}, [label])])];
  }
  return [line(kind, [at, nameHeight(kind, top) - 8], [at, foot])];
}

function markName({ kind, at, label, isLeft }: HistogramMark, top: number): Shape[] {
  if (kind === 'now') return [];
  return [text('mark-name', [at + (isLeft ? -5 : 5), nameHeight(kind, top)], label, isLeft ? 'end' : 'start')];
}

/** Limits and worst cases are named at different heights, so that they stay apart where they lie near each other. */
function nameHeight(kind: HistogramMark['kind'], top: number): number {
  return kind === 'limit' ? top - 12 : top + 2;
}
