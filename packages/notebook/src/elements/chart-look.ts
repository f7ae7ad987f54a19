import type { Ink, Look } from '@two-thirds/sim/chart';
import { css, type CSSResult, unsafeCSS } from 'lit';

/** The style sheet of drawings in the inks of the theme. */
export function chartLook(look: Look): CSSResult {
  return css`
    ${unsafeCSS(look(inkOfTheme))}
  `;
}

/** Every ink is a design token, but for the one that nothing else uses. */
function inkOfTheme(ink: Ink): string {
  return ink === 'hatched' ? 'light-dark(#f3ddd0, #4a2c20)' : `var(--${ink})`;
}
