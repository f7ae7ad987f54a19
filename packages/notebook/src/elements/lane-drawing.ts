import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, nothing, svg, type SVGTemplateResult } from 'lit';
import type { AnalogLane } from '../chart/analog-lane.ts';
import type { Bar } from '../chart/bars.ts';
import type { CursorState } from '../chart/cursor.ts';
import type { LogicLane, Scene } from '../chart/scene.ts';
import type { StripLane } from '../chart/strip-lane.ts';
import { fateMark } from './fate-glyphs.ts';

/** Inks and strokes of lanes, axis and cursor. */
export const laneStyles = css`
  svg.lanes {
    display: block;
    width: 100%;
    overflow: visible;
  }
  text {
    fill: var(--quiet);
    font-size: 13px;
  }
  .name {
    fill: var(--ink);
    font-weight: 550;
  }
  /* Names and values stay readable where the cursor runs through them. */
  .name,
  .readout,
  .limit-name {
    paint-order: stroke;
    stroke: var(--ground);
    stroke-width: 4px;
    stroke-linejoin: round;
  }
  .unit,
  .tick {
    font-size: 12px;
    font-weight: 400;
  }
  .unit {
    fill: var(--quiet);
  }
  .trace {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.8;
    stroke-linejoin: round;
  }
  .zero,
  .foot {
    stroke: var(--line);
    stroke-width: 1.5;
  }
  .limit {
    fill: none;
    stroke: var(--edge);
    stroke-width: 1.3;
    stroke-dasharray: 1.5 4.5;
    stroke-linecap: round;
  }
  .limit-name {
    font-size: 12px;
    text-anchor: end;
  }
  .shade {
    fill: var(--shade);
  }
  .bar {
    fill: var(--bar);
  }
  .bar.crowded {
    opacity: 0.45;
  }
  .bar-label {
    fill: var(--on-bar);
    text-anchor: middle;
    font-size: 12.5px;
  }
  .running {
    fill: var(--running);
  }
  .running-band {
    fill: var(--rust);
    opacity: 0.55;
  }
  .link {
    stroke: var(--rust);
    stroke-width: 1.8;
    fill: none;
  }
  .axis-tick {
    stroke: var(--edge);
  }
  .axis text {
    font-size: 12.5px;
  }
  .cursor {
    stroke: var(--gold);
    stroke-width: 1.6;
  }
  .cursor-dot {
    fill: var(--gold);
    stroke: var(--ground);
    stroke-width: 1.5;
  }
  .readout {
    fill: var(--gold);
    font-size: 12.5px;
    font-weight: 600;
  }
`;

/** A label whose middle is nearer than this to the left edge of the page would be cut (pixels). */
const EDGE = 12;

/** Left edge of the names above narrow lanes (pixels). */
const NARROW_NAME = 2;

/** One lane of a scene, without its name. */
export function laneDrawing(lane: Scene['lanes'][number], scene: Scene): SVGTemplateResult {
  switch (lane.kind) {
    case 'analog':
      return analog(lane, scene);
    case 'logic':
      return logic(lane, scene);
    case 'strip':
      return strip(lane, scene);
  }
}

/** The name of a lane, with its value at the cursor where there is one. To be drawn over the cursor. */
export function laneLabel(
  lane: Scene['lanes'][number],
  scene: Scene,
  cursor: CursorState | undefined,
): SVGTemplateResult {
  switch (lane.kind) {
    case 'analog':
      return analogName(lane, scene, cursor?.lanes.find((each) => each.show === lane.show)?.text);
    case 'logic':
      return laneName(scene, lane.title, lane.top + (scene.narrow ? 0 : 3));
    case 'strip':
      return stripNames(lane, scene);
  }
}

/** What keeps lines inside the lanes where only a part of a run is looked at; once in every drawing of lanes. */
export function plotClip({ left, right, height }: Scene): SVGTemplateResult {
  return svg`<defs><clipPath id="plot">
    <rect x=${left - 1} width=${right - left + 2} y="-20" height=${height + 40} />
  </clipPath></defs>`;
}

/**
 * The cursor: a line through all lanes with its time, and a dot on every voltage and current; nothing where it stands
 * outside of what is looked at.
 *
 * @param digits significant digits of the time.
 */
export function cursorMark(scene: Scene, cursor: CursorState, digits: number): SVGTemplateResult | typeof nothing {
  const x = scene.x(cursor.time);
  if (x < scene.left - 0.5 || x > scene.right + 0.5) return nothing;
  const atEnd = x > scene.right - 60;
  return svg`<line class="cursor" x1=${x} x2=${x} y1="0" y2=${scene.axis.top + 6} />
    <text class="readout" x=${x + (atEnd ? -6 : 6)} y="9" text-anchor=${atEnd ? 'end' : 'start'}
      >${formatQuantity(cursor.time, 's', { digits })}</text>
    ${scene.lanes.map((lane) => cursorDot(lane, scene, cursor))}`;
}

function laneName(scene: Scene, title: string, top: number): SVGTemplateResult {
  return svg`<text class="name" x=${scene.narrow ? NARROW_NAME : 0} y=${top + (scene.narrow ? -8 : 13)}>${title}</text>`;
}

/** Name, unit and value at the cursor: in one line above a narrow lane, below each other beside a wide one. */
function analogName(lane: AnalogLane, scene: Scene, value: string | undefined): SVGTemplateResult {
  const { title, unit, top } = lane;
  if (scene.narrow) {
    return svg`<text class="name" x=${NARROW_NAME} y=${top - 8}>${title}<tspan class="unit" dx="8">${unit}</tspan
      ><tspan class="readout" dx="8">${value ?? ''}</tspan></text>`;
  }
  return svg`${laneName(scene, title, top)}
    <text class="unit" x="0" y=${top + 30}>${unit}</text>
    <text class="readout" x="0" y=${top + 48}>${value ?? ''}</text>`;
}

function cursorDot(
  lane: Scene['lanes'][number],
  scene: Scene,
  { time, lanes }: CursorState,
): SVGTemplateResult | typeof nothing {
  if (lane.kind !== 'analog') return nothing;
  const value = lanes.find((each) => each.show === lane.show);
  if (value?.value === undefined) return nothing;
  return svg`<circle class="cursor-dot" cx=${scene.x(time)} cy=${lane.y(value.value)} r="4.5" />`;
}

function analog(lane: AnalogLane, scene: Scene): SVGTemplateResult {
  const { left, right } = scene;
  return svg`<g>
    <g clip-path="url(#plot)">${lane.shaded === undefined ? nothing : svg`<path class="shade" d=${lane.shaded} />`}</g>
    <line class="zero" x1=${left} x2=${right} y1=${lane.zero} y2=${lane.zero} />
    ${lane.ticks.map(
      (tick) => svg`<text class="tick" text-anchor="end" x=${left - (scene.narrow ? 5 : 8)} y=${tick.at + 4}
        >${tick.label}</text>`,
    )}
    <g clip-path="url(#plot)">
      ${lane.limits.map((limit) => svg`<path class="limit" d=${limit.path} />`)}
      <path class="trace" d=${lane.path} />
    </g>
    ${lane.limits.map((limit) => svg`<text class="limit-name" x=${right} y=${limit.labelFoot}>${limit.label}</text>`)}
  </g>`;
}

function logic(lane: LogicLane, scene: Scene): SVGTemplateResult {
  return svg`<g>
    <line class="zero" x1=${scene.left} x2=${scene.right} y1=${lane.bottom} y2=${lane.bottom} />
    ${lane.bars.map((each) => bar(each, lane.top, lane.bottom))}
  </g>`;
}

function strip(lane: StripLane, scene: Scene): SVGTemplateResult {
  const { left, right } = scene;
  return svg`<g>
    ${lane.intervals.map(
      ({ x, width }) => svg`<rect class="running" x=${x} y=${lane.markTop - 5} width=${width}
          height=${lane.barTop - lane.markTop + 5} />
        <rect class="running-band" x=${x} y=${lane.runTop} width=${width} height="5" rx="2.5" />`,
    )}
    <line class="zero" x1=${left} x2=${right} y1=${lane.bottom} y2=${lane.bottom} />
    ${lane.links.map((path) => svg`<path class="link" d=${path} />`)}
    ${lane.marks.map((mark) => fateMark(mark, lane.markTop))}
    ${lane.bars.map((each) => bar(each, lane.barTop, lane.bottom))}
  </g>`;
}

function stripNames(lane: StripLane, scene: Scene): SVGTemplateResult {
  if (scene.narrow) {
    return svg`<text class="name" x=${NARROW_NAME} y=${lane.markTop - 11}>${lane.trigger}<tspan class="unit" dx="6"
      >pulses</tspan><tspan dx="14">${lane.output}</tspan><tspan class="unit" dx="6">bars</tspan></text>`;
  }
  return svg`${laneName(scene, lane.trigger, lane.markTop + 2)}
    <text class="unit" x="0" y=${lane.runTop + 7}>interval runs</text>
    ${laneName(scene, lane.output, lane.barTop + 3)}`;
}

function bar(each: Bar, top: number, bottom: number): SVGTemplateResult {
  return svg`<rect class="bar ${each.crowded === true ? 'crowded' : ''}" x=${each.x} y=${top} width=${each.width}
      height=${bottom - top} />
    ${
      each.label === undefined
        ? nothing
        : svg`<text class="bar-label" x=${each.x + each.width / 2} y=${(top + bottom) / 2 + 4.5}>${each.label}</text>`
    }`;
}

/** The axis of time below the lanes. */
export function timeAxisDrawing({ axis: { top, ticks, title }, right }: Scene): SVGTemplateResult {
  return svg`<g class="axis">
    ${ticks.map(
      ({ at, label }) => svg`<line class="axis-tick" x1=${at} x2=${at} y1=${top} y2=${top + 5} />
        <text x=${at} y=${top + 20} text-anchor=${at < EDGE ? 'start' : 'middle'}>${label}</text>`,
    )}
    <text x=${right} y=${top + 37} text-anchor="end">${title}</text>
  </g>`;
}
