import { labelPlace } from './quantity-axis.ts';
import type { RowDot, RowLook, RowPanel, RowScene } from './row-scene.ts';
import { type Drawing, line, path, rect, type Shape, shape, text } from './shape.ts';

/** Rows of names, and their readings as dots along an axis each. */
export function rowDrawing({ rows, panels, more, leftOut, height }: RowScene): Drawing {
  return [
    ...rows.map(({ y, label, look }) => text(look === 'harm' ? 'row-name harm' : 'row-name', [0, y + 4], label)),
    ...panels.map(panelDrawing),
    more > 0 ? text('unit', [0, height - (leftOut.length > 0 ? 42 : 24)], `and ${more} more`) : undefined,
    leftOut.length > 0 ? text('unit', [0, height - 4], `no room for ${leftOut.join(', ')}`) : undefined,
  ];
}

function panelDrawing({ name, left, right, top, foot, axis, mark, allowed, dots }: RowPanel): Shape {
  return shape('g', {}, [
    text('name', [left, 14], name),
    allowed &&
      rect('allowed', { x: allowed[0], y: top, width: Math.max(1, allowed[1] - allowed[0]), height: foot - top }),
    mark === undefined ? undefined : line('now-line', [mark, top], [mark, foot]),
    ...dots.flatMap((dot) => dotDrawing(dot, left)),
    line('axis-tick', [left, foot], [right, foot]),
    ...axis.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, foot], [at, foot + 6]),
      text(undefined, [labelPlace({ at, label }, right), foot + 20], label, 'middle'),
    ]),
    text(undefined, [right, foot + 37], axis.title, 'end'),
  ]);
}

function dotDrawing({ x, y, look, label, isLeft }: RowDot, left: number): Shape[] {
  if (x === undefined) return [text('unit', [left + 6, y + 4], label)];
  return [
    rowMark(look, [x, y]),
    isLeft ? text('unit', [x - 8, y + 4], label, 'end') : text('unit', [x + 8, y + 4], label),
  ];
}

/** The mark of a value: shape and fill alone tell what it says. */
export function rowMark(look: RowLook, [x, y]: readonly [number, number]): Shape {
  return look === 'harm'
    ? path('row-mark harm', `M${x - 3.5} ${y - 3.5}l7 7m0 -7l-7 7`)
    : path(`row-mark ${look}`, `M${x - 4} ${y}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z`);
}
