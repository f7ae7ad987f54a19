import { fateDrawing, fateLook, MARK_HEIGHT, stripePattern } from '@two-thirds/sim/chart';
import type { Fate } from '@two-thirds/sim/document';
import { html, type TemplateResult } from 'lit';
import { chartLook } from './chart-look.ts';
import { drawn } from './drawn.ts';

/** Inks of the fates; shape and fill alone tell them apart as well. */
export const fateStyles = chartLook(fateLook);

/** The mark of a fate as it stands in legends and tables. */
export function fateGlyph(fate: Fate): TemplateResult {
  const mark = fateDrawing({ fate, x: 3, width: 8, count: 1, first: 0 }, 0);
  return html`<svg class="glyph" width="14" height=${MARK_HEIGHT} viewBox="0 0 14 ${MARK_HEIGHT}" aria-hidden="true">
    ${drawn([fate === 'held' ? stripePattern : undefined, ...mark])}
  </svg>`;
}
