import { css, svg, type SVGTemplateResult } from 'lit';
import type { SwapsFlag } from '../chart/swaps-flags.ts';

/** Inks of the signs of flags; each sign has a shape of its own, and its words stand beside it. */
export const flagStyles = css`
  svg.flag {
    width: 1rem;
    height: 1rem;
    margin-right: 0.4rem;
    vertical-align: -0.16em;
    overflow: visible;
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.7;
    stroke-linejoin: round;
    stroke-linecap: round;
  }
  svg.flag.harm,
  svg.flag.flashing {
    stroke: var(--rust);
  }
  svg.flag.same,
  svg.flag.fine {
    stroke: var(--quiet);
  }
`;

const shapes: Readonly<Record<SwapsFlag, string>> = {
  harm: 'M8 1.5L15 14.5H1zM8 6v4M8 12.4v.2',
  'supply-low': 'M1 5h11v6H1zM12 7h2.5v2H12M3.5 7v2',
  failed: 'M3 3l10 10M13 3L3 13',
  'never-starts': 'M1 12h14M8 12',
  'never-ends': 'M1 12h3V4h11M12 1.5L15 4l-3 2.5',
  unfinished: 'M1 12h3V4h8M14.5 2v12',
  'too-fast': 'M2 13V3M5 13V3M8 13V3M11 13V3M14 13V3',
  flashing: 'M9.5 1L3.5 9H8l-1.5 6 6-8H8z',
  inaudible: 'M1.5 6H4l4-3.5v11L4 10H1.5zM11 6l4 4M15 6l-4 4',
  same: 'M2.5 5.5h11M2.5 10.5h11',
  fine: 'M3 8.5l3.5 4L13 4',
};

/** The sign of a flag. Words must stand beside it. */
export function flagGlyph(flag: SwapsFlag): SVGTemplateResult {
  return svg`<svg class="flag ${flag}" viewBox="0 0 16 16" aria-hidden="true"><path d=${shapes[flag]} /></svg>`;
}
