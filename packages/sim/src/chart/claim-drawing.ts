import type { ClaimMark, ClaimScene } from './claim-scene.ts';
import { labelPlace } from './quantity-axis.ts';
import { type Drawing, line, path, rect, type Shape, text } from './shape.ts';

/** What a bracket says, and how wide it must be to say it inside (pixels). */
const TOGETHER = 'together with others';
const LABELLED = 124;

/** How far off a claim is along one of its values. */
export function claimDrawing(scene: ClaimScene): Drawing {
  const { left, right, top, foot, zero, path: course, marks, holds, together, now, x, y } = scene;
  return [
    holds && rect('stretch', { x: holds[0], y: top, width: Math.max(1, holds[1] - holds[0]), height: foot - top }),
    ...(together === undefined ? [] : togetherDrawing(together, scene)),
    line('zero', [left, zero], [right, zero]),
    path('error', course),
    ...marks.map(markDrawing),
    line('axis-tick', [left, foot], [right, foot]),
    ...y.ticks.map(({ at, label }) => text('unit', [left - 8, at + 4], label, 'end')),
    text(undefined, [0, 12], `${y.title}${holds === undefined ? '' : '; shaded where it holds'}`),
    ...x.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, foot], [at, foot + 6]),
      text(undefined, [labelPlace({ at, label }, right), foot + 20], label, 'middle'),
    ]),
    text(undefined, [right, foot + 37], x.title, 'end'),
    now === undefined ? undefined : path('now', `M${now} ${foot}l-6 9h12z`),
  ];
}

/** A bracket over the stretch in which several values may change at once, its ends dashed down to the axis. */
function togetherDrawing([from, to]: readonly [number, number], { top, foot, right, marks }: ClaimScene): Shape[] {
  const at = top + 5;
  const middle = (from + to) / 2;
  // Below where the course of the claim runs close under the bracket.
  const isUnder = marks.some(({ x, y }) => Math.abs(x - middle) < LABELLED / 2 && y < at + 24);
  const isRoomy = to - from >= LABELLED;
  return [
    path('together', `M${from} ${at + 5}v-5H${Math.max(to, from + 2)}v5`),
    line('together-end', [from, at + 5], [from, foot]),
    line('together-end', [to, at + 5], [to, foot]),
    isRoomy
      ? text('unit', [middle, isUnder ? foot - 8 : at + 16], TOGETHER, 'middle')
      : text(
          'unit',
          [to > right - LABELLED ? from - 6 : to + 6, at + 8],
          TOGETHER,
          to > right - LABELLED ? 'end' : 'start',
        ),
  ];
}

/** Holds hollow round, fails a cross, open a dash. */
function markDrawing({ x, y, verdict }: ClaimMark): Shape {
  const shapes = {
    holds: `M${x - 3} ${y}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0z`,
    fails: `M${x - 3.5} ${y - 3.5}l7 7m0 -7l-7 7`,
    open: `M${x - 4} ${y}h8`,
  };
  return path(`mark ${verdict}`, shapes[verdict]);
}
