import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { CellCare } from '../runtime/cell-care.ts';
import { shared } from '../styles/shared.ts';

/**
 * What has to be said for safety beside a cell: always in full, never folded, and marked by a word and a shape, so that
 * no colour is needed to see it.
 */
export class Safety extends LitElement {
  static override styles = [
    shared,
    css`
      .alarm {
        display: grid;
        gap: 0.7rem;
        max-width: 68ch;
        margin-bottom: 1.1rem;
        padding: 0.65rem 0.9rem 0.75rem;
        border: 2px solid var(--rust);
        border-radius: 4px;
        background: var(--panel);
      }
      section {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr);
        gap: 0 0.7rem;
      }
      svg {
        width: 1.4rem;
        height: 1.25rem;
        margin-top: 0.12rem;
        overflow: visible;
      }
      .sign {
        fill: none;
        stroke: var(--rust);
        stroke-width: 2.4;
        stroke-linejoin: round;
      }
      .mark {
        fill: var(--ink);
      }
      .word {
        font-weight: 650;
      }
      ul {
        grid-column: 2;
        padding-left: 1.1em;
        font-size: 0.9375rem;
      }
      li + li {
        margin-top: 0.3rem;
      }
      li:only-child {
        list-style: none;
        margin-left: -1.1em;
      }
    `,
  ];

  @property({ attribute: false }) care: CellCare | undefined;
  /** Whether the cell is a board, where dangers may appear while somebody turns a knob. */
  @property({ attribute: false }) isBoard = false;

  protected override render(): TemplateResult {
    const { dangers = [], beyond = [], flashing = [] } = this.care ?? {};
    const runs = this.isBoard ? ', in the runs of this page' : '';
    const isQuiet = dangers.length + beyond.length + flashing.length === 0;
    return html`<div class=${isQuiet ? '' : 'alarm'} aria-live=${this.isBoard ? 'polite' : 'off'}>
      ${list('Danger as built', dangers)} ${list(`Beyond its limits${runs}`, beyond)}
      ${list(`Flashing light${runs}`, flashing)}
    </div>`;
  }
}

function list(word: string, sentences: readonly string[]): TemplateResult | typeof nothing {
  if (sentences.length === 0) return nothing;
  return html`<section role="note" aria-label=${word}>
    <svg viewBox="0 0 28 25" aria-hidden="true">
      ${svg`<path class="sign" d="M14 2 L26 23 H2 Z" /><path class="mark" d="M12.6 8.5 h2.8 l-0.5 7.5 h-1.8 Z" />
        <circle class="mark" cx="14" cy="19.2" r="1.5" />`}
    </svg>
    <p class="word">${word}</p>
    <ul>
      ${sentences.map((sentence) => html`<li>${sentence}</li>`)}
    </ul>
  </section>`;
}
