import type { AnalogLane } from './analog-lane.ts';
import type { Bar } from './bars.ts';
import { fatesDrawing, stripePattern } from './fate-drawing.ts';
import { pixelText } from './scale.ts';
import { type Box, boxes, type Drawing, line, path, type Shape, shape, text } from './shape.ts';
import type { StripLane } from './strip-lane.ts';
import type { ContactLane, LogicLane, Scene } from './trace-scene.ts';

type Lane = Scene['lanes'][number];

/** A label whose middle is nearer than this to the left edge of the page would be cut (pixels). */
const EDGE = 12;
/** Left edge of the names above narrow lanes (pixels). */
const NARROW_NAME = 2;
const CLIPPED = { 'clip-path': 'url(#plot)' };

/** The lanes of a trace with their axis of time; their names stand in {@link laneName}, above a cursor if there is one. */
export function lanesDrawing(scene: Scene): Drawing {
  return [
    stripePattern,
    plotClip(scene),
    ...scene.lanes.map((lane) => laneDrawing(lane, scene)),
    timeAxisDrawing(scene),
  ];
}

/** One lane, without its name. */
export function laneDrawing(lane: Lane, scene: Scene): Shape {
  switch (lane.kind) {
    case 'analog':
      return analog(lane, scene);
    case 'logic':
      return logic(lane, scene);
    case 'contact':
      return contact(lane, scene);
    case 'strip':
      return strip(lane, scene);
  }
}

/** The name of a lane, with its unit. @param value what it is at a cursor. */
export function laneName(lane: Lane, scene: Scene, value?: string): Drawing {
  switch (lane.kind) {
    case 'analog':
      return analogName(lane, scene, value);
    case 'logic':
      return [nameAt(scene, lane.title, lane.top + (scene.narrow ? 0 : 3))];
    case 'contact':
      return contactName(lane, scene, value);
    case 'strip':
      return stripNames(lane, scene);
  }
}

/** What keeps lines inside the lanes where only a part of a run is looked at. */
export function plotClip({ left, right, height }: Scene): Shape {
  const place = { x: left - 1, y: -20, width: right - left + 2, height: height + 40 };
  return shape('defs', {}, [shape('clipPath', { id: 'plot' }, [shape('rect', place)])]);
}

function nameAt(scene: Scene, title: string, top: number): Shape {
  return text('name', [scene.narrow ? NARROW_NAME : 0, top + (scene.narrow ? -8 : 13)], title);
}

/** Name, unit and value at the cursor: in one line above a narrow lane, below each other beside a wide one. */
function analogName(lane: AnalogLane, scene: Scene, value = ''): Drawing {
  const { title, unit, top } = lane;
  if (scene.narrow) {
    const aside = (look: string, words: string): Shape => shape('tspan', { class: look, dx: 8 }, [words]);
    return [text('name', [NARROW_NAME, top - 8], [title, aside('unit', unit), aside('readout', value)])];
  }
  return [
    nameAt(scene, title, top),
    text('unit', [0, top + 30], unit),
    value === '' ? undefined : text('readout', [0, top + 48], value),
  ];
}

function analog(lane: AnalogLane, scene: Scene): Shape {
  const { left, right, narrow } = scene;
  return shape('g', {}, [
    lane.shaded === undefined ? undefined : shape('g', CLIPPED, [path('shade', lane.shaded)]),
    line('zero', [left, lane.zero], [right, lane.zero]),
    ...lane.ticks.map(({ at, label }) => text('tick', [left - (narrow ? 5 : 8), at + 4], label, 'end')),
    shape('g', CLIPPED, [...lane.limits.map((limit) => path('limit', limit.path)), path('trace', lane.path)]),
    ...lane.limits.map(({ labelFoot, label }) => text('limit-name', [right, labelFoot], label)),
  ]);
}

function logic(lane: LogicLane, { left, right }: Scene): Shape {
  return shape('g', {}, [
    line('zero', [left, lane.bottom], [right, lane.bottom]),
    ...barsDrawing(lane.bars, lane.top, lane.bottom),
  ]);
}

/** How far the band of a closed contact stays away from the bounds of its lane (pixels). */
const BAND_INSET = 3;

/** A line where the contact is open, a band where it is closed. */
function contact({ top, bottom, bars }: ContactLane, { left, right }: Scene): Shape {
  const middle = (top + bottom) / 2;
  return shape('g', { class: 'contact' }, [
    line('open', [left, middle], [right, middle]),
    ...barsDrawing(bars, top + BAND_INSET, bottom - BAND_INSET),
  ]);
}

function contactName({ title, top }: ContactLane, scene: Scene, value?: string): Drawing {
  const [look, words] = value === undefined ? ['unit', 'filled: closed'] : ['readout', value];
  if (scene.narrow)
    return [text('name', [NARROW_NAME, top - 8], [title, shape('tspan', { class: look, dx: 8 }, [words])])];
  return [nameAt(scene, title, top - 3), text(look, [0, top + 27], words)];
}

function strip(lane: StripLane, { left, right }: Scene): Shape {
  const { intervals, markTop, runTop, barTop, bottom, links, marks, bars } = lane;
  return shape('g', {}, [
    boxes(
      'running',
      intervals.map(({ x, width }) => ({ x, y: markTop - 5, width, height: barTop - markTop + 5 })),
    ),
    intervals.length === 0 ? undefined : path('running-band', intervals.map((each) => band(each, runTop)).join('')),
    line('zero', [left, bottom], [right, bottom]),
    links.length === 0 ? undefined : path('link', links.join('')),
    ...fatesDrawing(marks, markTop),
    ...barsDrawing(bars, barTop, bottom),
  ]);
}

/** A band with round ends, 5 pixels high; one that is too short for them is a plain rectangle. */
function band({ x, width }: { readonly x: number; readonly width: number }, top: number): string {
  if (width < 5) return `M${pixelText(x)} ${top}h${pixelText(width)}v5h${pixelText(-width)}z`;
  const [there, back] = [pixelText(width - 5), pixelText(5 - width)];
  return `M${pixelText(x + 2.5)} ${top}h${there}a2.5 2.5 0 0 1 0 5h${back}a2.5 2.5 0 0 1 0 -5z`;
}

function stripNames(lane: StripLane, scene: Scene): Drawing {
  if (!scene.narrow) {
    return [
      nameAt(scene, lane.trigger, lane.markTop + 2),
      text('unit', [0, lane.runTop + 7], 'interval runs'),
      nameAt(scene, lane.output, lane.barTop + 3),
    ];
  }
  const unit = (words: string): Shape => shape('tspan', { class: 'unit', dx: 6 }, [words]);
  const output = shape('tspan', { dx: 14 }, [lane.output]);
  return [text('name', [NARROW_NAME, lane.markTop - 11], [lane.trigger, unit('pulses'), output, unit('bars')])];
}

/** Bars of a row: those that tell single stretches, those that do not, and the labels. */
function barsDrawing(bars: readonly Bar[], top: number, bottom: number): Drawing {
  const boxOf = ({ x, width }: Bar): Box => ({ x, y: top, width, height: bottom - top });
  return [
    boxes('bar', bars.filter(({ crowded }) => crowded !== true).map(boxOf)),
    boxes('bar crowded', bars.filter(({ crowded }) => crowded === true).map(boxOf)),
    ...bars.flatMap(({ x, width, label }) =>
      label === undefined ? [] : [text('bar-label', [x + width / 2, (top + bottom) / 2 + 4.5], label)],
    ),
  ];
}

/** The axis of time below the lanes. */
export function timeAxisDrawing({ axis: { top, ticks, title }, right }: Scene): Shape {
  return shape('g', { class: 'axis' }, [
    ...ticks.flatMap(({ at, label }) => [
      line('axis-tick', [at, top], [at, top + 5]),
      text(undefined, [at, top + 20], label, at < EDGE ? 'start' : 'middle'),
    ]),
    text(undefined, [right, top + 37], title, 'end'),
  ]);
}
