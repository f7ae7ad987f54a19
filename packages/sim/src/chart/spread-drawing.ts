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
    ...marks.flatMap((mark) => markDrawing(mark, top, foot)),
    ...axis.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, foot], [at, foot + 6]),
      text(undefined, [at, foot + 20], label, at < left + EDGE ? 'start' : at > right - EDGE ? 'end' : 'middle'),
    ]),
    text(undefined, [right, foot + 37], axis.title, 'end'),
  ];
}

function markDrawing({ kind, at, label, isLeft }: HistogramMark, top: number, foot: number): Shape[] {
  if (kind === 'now') {
    return [shape('path', { class: 'now', d: `M${at} ${foot}l-6 9h12z` }, [shape('title', {}, [label])])];
  }
  // Limits and worst cases are named at different heights, so that they stay apart where they lie near each other.
  const y = kind === 'limit' ? top - 12 : top + 2;
  return [
    line(kind, [at, y - 8], [at, foot]),
    text('mark-name', [at + (isLeft ? -5 : 5), y], label, isLeft ? 'end' : 'start'),
  ];
}
