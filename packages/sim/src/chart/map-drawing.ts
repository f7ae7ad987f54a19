import { labelPlace } from './quantity-axis.ts';
import { UNEVEN, WITHOUT } from './map-classes.ts';
import type { MapScene } from './map-scene.ts';
import { RAMP_STEPS } from './ramp.ts';
import { type Drawing, line, path, rect, type Shape, shape, text } from './shape.ts';
import { studyPatterns } from './study-patterns.ts';

/**
 * The map itself with its axes: what does not change while a pointer moves.
 *
 * @param former where boundaries were before, as path data.
 */
export function mapDrawing(scene: MapScene, former: readonly string[] = []): Drawing {
  const { left, top, right, bottom, shapes, lines, labels, classes, narrow } = scene;
  return [
    studyPatterns,
    shape(
      'g',
      { transform: `translate(${left} ${top})`, 'shape-rendering': 'crispEdges' },
      shapes.map(({ value, path: d }) => path(fillOf(scene, value), d)),
    ),
    ...(classes.isNamed ? [] : lines.map((d) => path('halo', d))),
    ...lines.map((d) => path(classes.isNamed ? 'contour border' : 'contour', d)),
    ...['former-halo', 'former'].flatMap((look) => former.map((d) => path(look, d))),
    rect('outline', { x: left, y: top, width: right - left, height: bottom - top }),
    ...labels.map(({ x, y, text: words, on }) => {
      if (on === undefined) return text('line-name', [x, y + 4], words);
      const small = words.length > 2 || narrow ? ' small' : '';
      return text(`region-name on-step-${classes.stepOf(on)}${small}`, [x, y + 7], words);
    }),
    axes(scene),
  ];
}

/** The class that fills a region. */
export function fillOf({ classes }: MapScene, value: number): string {
  if (value === UNEVEN) return 'uneven';
  return value === WITHOUT ? 'without' : `step-${classes.stepOf(value)}`;
}

/** A ring around the place where the board stands now. */
export function nowRing(at: readonly [number, number] | undefined): Drawing {
  if (at === undefined) return [];
  const [cx, cy] = at;
  return ['ring', 'ring ink'].map((look) => shape('circle', { class: look, cx, cy, r: 8 }));
}

/** The colours of a scale as a bar, low values left. */
export function rampBar(x: number, y: number, width: number, height: number): Drawing {
  const step = width / RAMP_STEPS;
  return [
    ...Array.from({ length: RAMP_STEPS }, (_, index) =>
      rect(`step-${index}`, { x: x + index * step, y, width: step + 0.5, height }, { 'shape-rendering': 'crispEdges' }),
    ),
    rect('outline', { x, y, width, height }),
  ];
}

function axes({ x, y, left, top, right, bottom }: MapScene): Shape {
  return shape('g', { class: 'axis' }, [
    ...x.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, bottom], [at, bottom + 5]),
      text(undefined, [labelPlace({ at, label }, right), bottom + 19], label, 'middle'),
    ]),
    text(undefined, [right, bottom + 37], x.title, 'end'),
    ...y.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [left - 5, at], [left, at]),
      text(undefined, [left - 8, at + 4], label, 'end'),
    ]),
    text(undefined, [0, top - 14], y.title),
  ]);
}
