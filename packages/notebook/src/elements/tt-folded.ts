import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { cellSummary } from '../runtime/cell-summary.ts';
import type { PageCell } from '../runtime/cells.ts';
import { shared } from '../styles/shared.ts';
import { CommandEvent } from './events.ts';

/** A folded cell: one line of what it holds, which unfolds it. */
export class FoldedCell extends LitElement {
  static override styles = [
    shared,
    css`
      button {
        text-align: left;
        padding-inline: 0;
      }
      button:hover:not(:disabled) {
        background: none;
      }
    `,
  ];

  @property({ attribute: false }) cell: PageCell | undefined;

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    if (cell === undefined) return nothing;
    const line = cellSummary(cell);
    return html`<button
      aria-label="unfold ${cell.id}: ${line}"
      @click=${() => this.dispatchEvent(new CommandEvent({ act: 'fold', cell: cell.id }))}
    >${line}</button>`;
  }
}
