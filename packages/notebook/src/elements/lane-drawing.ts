import {
  laneDrawing as laneShapes,
  laneName,
  plotClip as clipShape,
  type Scene,
  stripePattern,
  timeAxisDrawing as axisShape,
  traceLook,
} from '@two-thirds/sim/chart';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, nothing, svg, type SVGTemplateResult } from 'lit';
import type { CursorState } from '../chart/cursor.ts';
import { chartFrame, chartLook } from './chart-look.ts';
import { drawn } from './drawn.ts';

/** Inks and strokes of lanes, axis and cursor. */
export const laneStyles = [
  chartLook(traceLook),
  chartFrame,
  css`
    .former {
      fill: none;
      stroke: var(--edge);
      stroke-width: 1.3;
      stroke-dasharray: 5 3;
    }
    .lane-mark {
      fill: var(--teal);
    }
    .cursor-dot {
      fill: var(--gold);
      stroke: var(--ground);
      stroke-width: 1.5;
    }
    /* Values stay readable where the cursor runs through them. */
    .readout {
      fill: var(--gold);
      font-size: 12.5px;
      font-weight: 600;
      paint-order: stroke;
      stroke: var(--ground);
      stroke-width: 4px;
      stroke-linejoin: round;
    }
  `,
];

/** The stripes of pulses that held the output; once in every drawing that has marks. */
export const stripes = drawn([stripePattern]);

/** One lane of a scene, without its name. */
export function laneDrawing(lane: Scene['lanes'][number], scene: Scene): SVGTemplateResult {
  return drawn([laneShapes(lane, scene)]);
}

/** The name of a lane, with its value at the cursor where there is one. To be drawn over the cursor. */
export function laneLabel(
  lane: Scene['lanes'][number],
  scene: Scene,
  cursor: CursorState | undefined,
): SVGTemplateResult {
  const show = lane.kind === 'analog' || lane.kind === 'contact' ? lane.show : undefined;
  return drawn(laneName(lane, scene, cursor?.lanes.find((each) => each.show === show)?.text));
}

/** What the dashed lines of a trace are. */
export const FORMER_WORDS = 'Dashed: before the last change.';

/** The lines that a trace had before, with what they are. @param lines path data. */
export function formerDrawing(scene: Scene, lines: readonly string[]): SVGTemplateResult {
  return svg`<g clip-path="url(#plot)">${lines.map((line) => svg`<path class="former" d=${line} />`)}</g>
    <text x=${scene.left} y=${scene.axis.top + 37}>${FORMER_WORDS}</text>`;
}

/** Whether a lane shows one of these nets or currents; the strip of a timer shows its input and its output. */
export function tellsOf(lane: Scene['lanes'][number], shows: readonly string[]): boolean {
  const own = lane.kind === 'strip' ? [lane.trigger, lane.output] : [lane.show];
  return own.some((show) => shows.includes(show));
}

/** A bar at the beginning of a lane that tells of the part that was chosen. */
export function laneMark({ top, bottom }: Scene['lanes'][number]): SVGTemplateResult {
  return svg`<rect class="lane-mark" x="-9" y=${top} width="4" height=${bottom - top} rx="2" />`;
}

/** What keeps lines inside the lanes where only a part of a run is looked at; once in every drawing of lanes. */
export function plotClip(scene: Scene): SVGTemplateResult {
  return drawn([clipShape(scene)]);
}

/** The axis of time below the lanes. */
export function timeAxisDrawing(scene: Scene): SVGTemplateResult {
  return drawn([axisShape(scene)]);
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
