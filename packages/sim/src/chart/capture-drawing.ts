import type { CaptureLane, CaptureScene, EdgeLane, EdgeStem } from './capture-scene.ts';
import { type Drawing, line, path, rect, type Shape, shape, text } from './shape.ts';

/** Fill of stretches without samples. */
const missingPattern = shape('defs', {}, [
  shape(
    'pattern',
    { id: 'missing', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
    [line('missing-line', [0, 0], [0, 7])],
  ),
]);

/** A capture over its prediction, without any cursor. */
export function captureDrawing(scene: CaptureScene): Drawing {
  const { left, right, lanes, edges, axis, gaps, aligned } = scene;
  return [
    missingPattern,
    ...gaps.map(({ x, width }) => rect('gap', { x, y: 4, width: Math.max(1, width), height: axis.top - 8 })),
    ...(aligned === undefined
      ? []
      : [
          line('aligned', [aligned, 0], [aligned, axis.top]),
          text('unit', [aligned + 5, 5], 'laid over each other here'),
        ]),
    ...lanes.map((lane) => laneDrawing(lane, scene)),
    edges && edgeDrawing(edges, scene),
    line('axis-tick', [left, axis.top], [right, axis.top]),
    ...axis.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, axis.top], [at, axis.top + 5]),
      text(undefined, [at, axis.top + 20], label, 'middle'),
    ]),
    text(undefined, [right, axis.top + 37], `${axis.title} of the run`, 'end'),
  ];
}

function laneDrawing(lane: CaptureLane, scene: CaptureScene): Shape {
  const { left, right } = scene;
  const { kind, title, unit, top, ticks, zero, measured, band, predicted, noise } = lane;
  return shape('g', { class: kind }, [
    noise && rect('noise', { x: left, y: noise[0], width: right - left, height: Math.max(1, noise[1] - noise[0]) }),
    line('zero', [left, zero], [right, zero]),
    ...tickTexts(ticks, left),
    ...names(scene, title, unit, top),
    band === '' ? undefined : path('band', band),
    path('measured', measured),
    predicted === '' ? undefined : path('predicted', predicted),
  ]);
}

function edgeDrawing({ top, zero, ticks, unit, stems }: EdgeLane, scene: CaptureScene): Shape {
  const { left, right } = scene;
  return shape('g', {}, [
    line('zero', [left, zero], [right, zero]),
    ...tickTexts(ticks, left),
    ...names(scene, 'edges apart', unit, top),
    ...stems.flatMap((stem) => stemDrawing(stem, zero)),
  ]);
}

function tickTexts(ticks: CaptureLane['ticks'], left: number): Shape[] {
  return ticks.map(({ at, label }) => text('unit', [left - 7, at + 4], label, 'end'));
}

/** An edge: a stem from no difference to its own, with a head that points where the edge goes. */
function stemDrawing({ x, y, to }: EdgeStem, zero: number): Shape[] {
  const head = to === 'high' ? `M${x - 4} ${y + 3}h8l-4 -7z` : `M${x - 4} ${y - 3}h8l-4 7z`;
  return [path('stem', `M${x} ${zero}V${y}`), path('head', head)];
}

function names({ narrow, left }: CaptureScene, title: string, unit: string, top: number): Shape[] {
  if (!narrow) return [text('name', [0, top + 13], title), text('unit', [0, top + 30], unit)];
  return [text('name', [left - 40, top - 8], [title, shape('tspan', { class: 'unit', dx: 8 }, [unit])])];
}
