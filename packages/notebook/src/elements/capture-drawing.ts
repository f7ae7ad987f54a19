import { css, nothing, svg, type SVGTemplateResult } from 'lit';
import type { CaptureLane, CaptureScene, EdgeLane, EdgeStem } from '../chart/capture-scene.ts';

/** Inks of a capture: measured in a full line, predicted in dashes, what is left below. */
export const captureStyles = css`
  .measured {
    fill: none;
    stroke: var(--teal);
    stroke-width: 2;
    stroke-linejoin: round;
  }
  .left .measured {
    stroke-width: 1.4;
  }
  .band {
    fill: var(--teal);
    opacity: 0.3;
  }
  .predicted {
    fill: none;
    stroke: var(--rust);
    stroke-width: 1.6;
    stroke-dasharray: 7 4;
  }
  .noise {
    fill: var(--shade);
  }
  .gap {
    fill: url(#missing);
  }
  .missing-line {
    stroke: var(--edge);
  }
  .zero {
    stroke: var(--line);
    stroke-width: 1.5;
  }
  .aligned {
    stroke: var(--gold);
    stroke-dasharray: 1.5 4;
    stroke-linecap: round;
    stroke-width: 1.5;
  }
  .stem {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.4;
  }
  .head {
    fill: var(--ground);
    stroke: var(--slate);
    stroke-width: 1.6;
  }
  .cursor-dot {
    fill: var(--gold);
    stroke: var(--ground);
    stroke-width: 1.5;
  }
  ul.legend {
    list-style: none;
    display: flex;
    flex-wrap: wrap;
    gap: 0.2rem 1.4rem;
    margin: 0.3rem 0;
    padding: 0;
    font-size: var(--small);
    color: var(--quiet);
  }
  .legend svg {
    vertical-align: -0.2em;
    margin-right: 0.4rem;
  }
`;

/** A capture over its prediction, without the cursor. */
export function captureDrawing(scene: CaptureScene): SVGTemplateResult {
  const { left, right, lanes, edges, axis, gaps, aligned } = scene;
  return svg`<defs>
      <pattern id="missing" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line class="missing-line" x1="0" x2="0" y1="0" y2="7" />
      </pattern>
    </defs>
    ${gaps.map(({ x, width }) => svg`<rect class="gap" x=${x} y="4" width=${Math.max(1, width)} height=${axis.top - 8} />`)}
    ${
      aligned === undefined
        ? nothing
        : svg`<line class="aligned" x1=${aligned} x2=${aligned} y1="0" y2=${axis.top} />
          <text class="unit" x=${aligned + 5} y="5">laid over each other here</text>`
    }
    ${lanes.map((lane) => laneDrawing(lane, scene))}
    ${edges === undefined ? nothing : edgeDrawing(edges, scene)}
    <line class="axis-tick" x1=${left} x2=${right} y1=${axis.top} y2=${axis.top} />
    ${axis.ticks.map(
      ({ at, label }) => svg`<line class="axis-tick" x1=${at} x2=${at} y1=${axis.top} y2=${axis.top + 5} />
        <text x=${at} y=${axis.top + 20} text-anchor="middle">${label}</text>`,
    )}
    <text x=${right} y=${axis.top + 37} text-anchor="end">${axis.title} of the run</text>`;
}

function laneDrawing(lane: CaptureLane, scene: CaptureScene): SVGTemplateResult {
  const { left, right } = scene;
  const { kind, title, unit, top, ticks, zero, measured, band, predicted, noise } = lane;
  return svg`<g class=${kind}>
    ${
      noise === undefined
        ? nothing
        : svg`<rect class="noise" x=${left} width=${right - left} y=${noise[0]} height=${Math.max(1, noise[1] - noise[0])} />`
    }
    <line class="zero" x1=${left} x2=${right} y1=${zero} y2=${zero} />
    ${ticks.map(({ at, label }) => svg`<text class="unit" x=${left - 7} y=${at + 4} text-anchor="end">${label}</text>`)}
    ${names(scene, title, unit, top)}
    ${band === '' ? nothing : svg`<path class="band" d=${band} />`}
    <path class="measured" d=${measured} />
    ${predicted === '' ? nothing : svg`<path class="predicted" d=${predicted} />`}
  </g>`;
}

function edgeDrawing({ top, zero, ticks, unit, stems }: EdgeLane, scene: CaptureScene): SVGTemplateResult {
  const { left, right } = scene;
  return svg`<g>
    <line class="zero" x1=${left} x2=${right} y1=${zero} y2=${zero} />
    ${ticks.map(({ at, label }) => svg`<text class="unit" x=${left - 7} y=${at + 4} text-anchor="end">${label}</text>`)}
    ${names(scene, 'edges apart', unit, top)}
    ${stems.map((stem) => stemDrawing(stem, zero))}
  </g>`;
}

/** An edge: a stem from no difference to its own, with a head that points where the edge goes. */
function stemDrawing({ x, y, to }: EdgeStem, zero: number): SVGTemplateResult {
  const head = to === 'high' ? `M${x - 4} ${y + 3}h8l-4 -7z` : `M${x - 4} ${y - 3}h8l-4 7z`;
  return svg`<path class="stem" d=${`M${x} ${zero}V${y}`} /><path class="head" d=${head} />`;
}

function names({ narrow, left }: CaptureScene, title: string, unit: string, top: number): SVGTemplateResult {
  if (narrow) {
    return svg`<text class="name" x=${left - 40} y=${top - 8}>${title}<tspan class="unit" dx="8">${unit}</tspan></text>`;
  }
  return svg`<text class="name" x="0" y=${top + 13}>${title}</text><text class="unit" x="0" y=${top + 30}>${unit}</text>`;
}
