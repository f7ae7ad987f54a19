import type { CellResult } from '@two-thirds/sim/document';
import { html, nothing, type TemplateResult } from 'lit';

/** The limit that the run of a cell only grazes. */
export function grazeNote(shown: CellResult | undefined): TemplateResult | typeof nothing {
  return grazesTold(shown !== undefined && 'grazes' in shown ? (shown.grazes ?? []) : []);
}

/** The limit that a run only grazes, so that its time is not known to all digits. */
export function grazesTold(sentences: readonly string[]): TemplateResult | typeof nothing {
  if (sentences.length === 0) return nothing;
  return html`<div class="power-up" role="note" aria-label="A limit that is only grazed">
    <p class="margin-word">only just</p>
    ${sentences.map((sentence) => html`<p>${sentence}</p>`)}
  </div>`;
}
