import type { Ink, Look } from '@two-thirds/sim/chart';
import { css, type CSSResult, unsafeCSS } from 'lit';

/** The style sheet of drawings in the inks of the theme. */
export function chartLook(look: Look): CSSResult {
  return css`
    ${unsafeCSS(look(inkOfTheme))}
  `;
}

/** How the drawing of a chart lies on the page, and the cursor in it. */
export const chartFrame = css`
  svg.lanes {
    display: block;
    width: 100%;
    overflow: visible;
  }
  .cursor {
    stroke: var(--gold);
    stroke-width: 1.6;
  }
`;

/** Every ink is a design token, but for the one that nothing else uses. */
function inkOfTheme(ink: Ink): string {
  return ink === 'hatched' ? 'light-dark(#f3ddd0, #4a2c20)' : `var(--${ink})`;
}
