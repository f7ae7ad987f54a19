import type { Fate } from '@two-thirds/sim/document';
import { css, html, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { type FateMark } from '../chart/fate-marks.ts';
import { MARK_HEIGHT } from '../chart/strip-lane.ts';

/** Inks of the fates; shape and fill alone tell them apart as well. */
export const fateStyles = css`
  .fate {
    stroke-width: 1.6;
    stroke: var(--rust);
    fill: var(--ground);
  }
  .fate.started {
    fill: var(--rust);
  }
  .fate.held {
    stroke: var(--plum);
    fill: url(#stripes);
  }
  .fate.short {
    stroke: var(--gold);
    fill: var(--gold);
  }
  .fate.barred,
  .cross {
    stroke: var(--quiet);
  }
  .cross {
    fill: none;
    stroke-width: 1.4;
  }
  .stripe-ground {
    fill: var(--ground);
  }
  .stripe {
    fill: var(--plum);
  }
  .fate-count {
    font-size: 12px;
    text-anchor: middle;
    fill: var(--ink);
  }
`;

/** The stripes of pulses that held the output; once in every drawing that has marks. */
export const stripePattern = svg`<defs>
  <pattern id="stripes" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
    <rect class="stripe-ground" width="5" height="5" />
    <rect class="stripe" width="2.4" height="5" />
  </pattern>
</defs>`;

/** Room that a count needs inside a joined mark (pixels). */
const COUNT_ROOM = 26;

/** A mark of one pulse, or of several alike: started solid, ignored hollow, held striped, short half high, barred crossed. */
export function fateMark(mark: FateMark, top: number): SVGTemplateResult {
  const { x, width, fate, count } = mark;
  const height = fate === 'short' ? MARK_HEIGHT / 2 : MARK_HEIGHT;
  const y = top + MARK_HEIGHT - height;
  const middle = x + width / 2;
  return svg`<rect class="fate ${fate}" x=${x + 0.8} y=${y + 0.8} width=${Math.max(1, width - 1.6)} height=${height - 1.6} />
    ${
      fate === 'barred'
        ? svg`<path class="cross" d="M${middle - 6} ${y + 4}l12 ${height - 8}m0 ${8 - height}l-12 ${height - 8}" />`
        : nothing
    }
    ${
      count > 1 && width > COUNT_ROOM && fate !== 'held'
        ? svg`<text class="fate-count" x=${middle} y=${y + height / 2 + 4.5}>${count}</text>`
        : nothing
    }`;
}

/** The mark of a fate as it stands in legends and tables. */
export function fateGlyph(fate: Fate): TemplateResult {
  return html`<svg class="glyph" width="14" height=${MARK_HEIGHT} viewBox="0 0 14 ${MARK_HEIGHT}" aria-hidden="true">
    ${fate === 'held' ? stripePattern : nothing} ${fateMark({ fate, x: 3, width: 8, count: 1, first: 0 }, 0)}
  </svg>`;
}
