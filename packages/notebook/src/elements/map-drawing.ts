import { css, nothing, svg, type SVGTemplateResult } from 'lit';
import { UNEVEN, WITHOUT } from '../chart/map-classes.ts';
import type { MapScene } from '../chart/map-scene.ts';
import { RAMP_STEPS } from '../chart/ramp.ts';

/** Lines and texts of a map. */
export const mapStyles = css`
  .without {
    fill: url(#without);
  }
  .without-ground {
    fill: var(--raised);
  }
  .without-dot {
    fill: var(--edge);
  }
  .halo {
    fill: none;
    stroke: var(--ground);
    stroke-width: 3.2;
    stroke-linejoin: round;
    opacity: 0.75;
  }
  .contour {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.3;
    stroke-linejoin: round;
  }
  /* Strips in which a ratio is uneven can be thin: their borders must not cover them. */
  .contour.border {
    stroke-width: 0.8;
  }
  .region-name {
    font-size: 21px;
    font-weight: 650;
    text-anchor: middle;
  }
  .region-name.small {
    font-size: 14px;
  }
  .line-name {
    fill: var(--ink);
    font-size: 12px;
    font-weight: 600;
    text-anchor: middle;
    paint-order: stroke;
    stroke: var(--ground);
    stroke-width: 4px;
    stroke-linejoin: round;
  }
  .ring {
    fill: none;
    stroke: var(--ground);
    stroke-width: 4.5;
  }
  .ring.ink {
    stroke: var(--rust);
    stroke-width: 2.4;
  }
  .cross {
    stroke: var(--gold);
    stroke-width: 1.2;
    opacity: 0.9;
  }
  .cross-halo {
    stroke: var(--ground);
    stroke-width: 3;
    opacity: 0.55;
  }
  .pointed {
    fill: var(--gold);
    stroke: var(--ground);
    stroke-width: 1.6;
  }
`;

/** Fills of places without one value; once in every drawing that has some. */
export const studyPatterns = svg`<defs>
  <pattern id="uneven" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
    <rect class="uneven-ground" width="6" height="6" />
    <rect class="uneven-line" width="2.2" height="6" />
  </pattern>
  <pattern id="without" width="7" height="7" patternUnits="userSpaceOnUse">
    <rect class="without-ground" width="7" height="7" />
    <circle class="without-dot" cx="3.5" cy="3.5" r="0.9" />
  </pattern>
</defs>`;

/** The map itself with its axes: what does not change while the pointer moves. */
export function mapDrawing(scene: MapScene): SVGTemplateResult {
  const { left, top, right, bottom, shapes, lines, labels, classes } = scene;
  return svg`${studyPatterns}
    <g transform="translate(${left} ${top})" shape-rendering="crispEdges">
      ${shapes.map(({ value, path }) => svg`<path class=${fillOf(scene, value)} d=${path} />`)}
    </g>
    ${classes.isNamed ? nothing : lines.map((path) => svg`<path class="halo" d=${path} />`)}
    ${lines.map((path) => svg`<path class="contour ${classes.isNamed ? 'border' : ''}" d=${path} />`)}
    <rect class="outline" x=${left} y=${top} width=${right - left} height=${bottom - top} />
    ${labels.map(({ x, y, text, on }) =>
      on === undefined
        ? svg`<text class="line-name" x=${x} y=${y + 4}>${text}</text>`
        : svg`<text class="region-name on-step-${classes.stepOf(on)} ${text.length > 2 || scene.narrow ? 'small' : ''}"
            x=${x} y=${y + 7}>${text}</text>`,
    )}
    ${axes(scene)}`;
}

/** The class that fills a region. */
export function fillOf({ classes }: MapScene, value: number): string {
  if (value === UNEVEN) return 'uneven';
  return value === WITHOUT ? 'without' : `step-${classes.stepOf(value)}`;
}

function axes({ x, y, left, top, right, bottom }: MapScene): SVGTemplateResult {
  return svg`<g class="axis">
    ${x.ticks.map(
      ({ at, label }) => svg`<line class="axis-tick" x1=${at} x2=${at} y1=${bottom} y2=${bottom + 5} />
        <text x=${Math.min(at, right - 10)} y=${bottom + 19} text-anchor="middle">${label}</text>`,
    )}
    <text x=${right} y=${bottom + 37} text-anchor="end">${x.title}</text>
    ${y.ticks.map(
      ({ at, label }) => svg`<line class="axis-tick" x1=${left - 5} x2=${left} y1=${at} y2=${at} />
        <text x=${left - 8} y=${at + 4} text-anchor="end">${label}</text>`,
    )}
    <text x="0" y=${top - 14}>${y.title}</text>
  </g>`;
}

/** A ring around the place where the board stands now. */
export function nowMark(at: readonly [number, number] | undefined): SVGTemplateResult | typeof nothing {
  if (at === undefined) return nothing;
  const [x, y] = at;
  return svg`<circle class="ring" cx=${x} cy=${y} r="8" /><circle class="ring ink" cx=${x} cy=${y} r="8" />`;
}

/** A cross through the whole map at the point that is looked at. */
export function pointMark(
  { left, right, top, bottom }: MapScene,
  at: readonly [number, number] | undefined,
): SVGTemplateResult | typeof nothing {
  if (at === undefined) return nothing;
  const [x, y] = at;
  return svg`${['cross-halo', 'cross'].map(
    (name) => svg`<path class=${name} d="M${left} ${y}H${right}M${x} ${top}V${bottom}" />`,
  )}<circle class="pointed" cx=${x} cy=${y} r="4.5" />`;
}

/** The colours of a scale as a bar, low values left. */
export function rampBar(x: number, y: number, width: number, height: number): SVGTemplateResult {
  return svg`${Array.from(
    { length: RAMP_STEPS },
    (_, step) => svg`<rect class="step-${step}" shape-rendering="crispEdges" x=${x + (step * width) / RAMP_STEPS}
      y=${y} width=${width / RAMP_STEPS + 0.5} height=${height} />`,
  )}<rect class="outline" x=${x} y=${y} width=${width} height=${height} />`;
}
