import { amountText, type FormulaResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { OfferedName } from '../edit/expression-names.ts';
import { shared } from '../styles/shared.ts';

/** An expression, edited where it stands, and what it gives, or why it gives nothing; below it what its names stood for. */
export class Formula extends LitElement {
  static override styles = [
    shared,
    css`
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0.1rem 0.7rem;
      }
      tt-expression {
        font-size: 1.05rem;
      }
      /* A complaint stands between the text and what came of the one before. */
      .wrong tt-expression {
        flex-basis: 100%;
      }
      .value {
        font-size: 1.15rem;
        font-weight: 600;
        color: var(--rust);
      }
      .none {
        max-width: 60ch;
      }
      ul {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.4rem;
        margin-top: 0.35rem;
        padding: 0;
        list-style: none;
        color: var(--quiet);
        font-size: var(--small);
      }
      li span {
        color: var(--ink);
      }
    `,
  ];

  /** Id of the cell, which is what other formulas call it. */
  @property({ attribute: false }) cell = '';
  /** The expression as it stands in the document. */
  @property({ attribute: false }) text = '';
  @property({ attribute: false }) result: FormulaResult | undefined;
  /** What is wrong with the expression, if anything is. */
  @property({ attribute: false }) complaint: string | undefined;
  /** Called with what was typed. */
  @property({ attribute: false }) change: (text: string) => void = () => undefined;
  /** Names that may be written into it. */
  @property({ attribute: false }) names: readonly OfferedName[] = [];

  protected override render(): TemplateResult {
    const { result } = this;
    return html`<div class="line ${this.complaint === undefined ? '' : 'wrong'}">
        <tt-expression
          .text=${this.text}
          .label=${`expression of ${this.cell}`}
          .complaint=${this.complaint}
          .names=${this.names}
          .change=${this.change}
        ></tt-expression>
        ${result === undefined ? nothing : this.outcome(result)}
      </div>
      ${
        result === undefined || result.uses.length === 0
          ? nothing
          : html`<ul aria-label="values used">
              ${result.uses.map((use) => html`<li>${use.name} <span>${amountText(use)}</span></li>`)}
            </ul>`
      }`;
  }

  private outcome(result: FormulaResult): TemplateResult {
    if (result.value !== null) return html`<span>=</span> <span class="value">${amountText(result)}</span>`;
    const because = result.reason === undefined ? '' : `, because ${result.reason}`;
    return html`<span class="none">no value${because}</span>`;
  }
}
