import type { CellResult } from '@two-thirds/sim/document';
import { html, nothing, type TemplateResult } from 'lit';

/** What the start of a run decides: a race at power-up, what a timer does from either state. */
export function powerUpNote(shown: CellResult | undefined): TemplateResult | typeof nothing {
  const sentences = shown !== undefined && 'powerUp' in shown ? (shown.powerUp ?? []) : [];
  if (sentences.length === 0) return nothing;
  return html`<div class="power-up" role="note" aria-label="What the start decides">
    <p class="margin-word">at power-up</p>
    ${sentences.map((sentence) => html`<p>${sentence}</p>`)}
  </div>`;
}
