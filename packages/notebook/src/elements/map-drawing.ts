import { mapLook, type MapScene } from '@two-thirds/sim/chart';
import { css, html, nothing, svg, type SVGTemplateResult } from 'lit';
import { chartLook } from './chart-look.ts';

/** Lines and texts of a map, and the point that is looked at. */
export const mapStyles = [
  chartLook(mapLook),
  css`
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
  `,
];

/** What stands in the legend for boundaries as they were before. */
export const formerSample = html`<svg width="26" height="14" viewBox="0 0 26 14" aria-hidden="true">
  <path class="former" d="M1 7H25" />
</svg>`;

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
