import { amountText, type FormulaResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';

/**
 * An expression and what it gives, or why it gives nothing; below it what its names stood for. The expression is edited
 * where it stands: Enter hands it over, Escape brings back what stood there.
 */
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
      textarea {
        field-sizing: content;
        min-width: 6rem;
        max-width: 100%;
        padding: 0 0.2rem;
        border: 0;
        border-bottom: 1px dotted var(--edge);
        border-radius: 3px 3px 0 0;
        background: transparent;
        font-size: 1.05rem;
        resize: none;
        overflow-wrap: anywhere;
      }
      textarea:hover {
        background: var(--raised);
      }
      textarea:focus {
        background: var(--field);
        border-bottom-style: solid;
      }
      textarea[aria-invalid='true'] {
        border-bottom: 2px solid var(--rust);
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
  @state() private draft: string | undefined;

  protected override render(): TemplateResult {
    const { result, complaint } = this;
    return html`<p class="line">
        <textarea
          rows="1"
          autocomplete="off"
          autocapitalize="off"
          spellcheck="false"
          aria-label=${`expression of ${this.cell}`}
          aria-invalid=${complaint === undefined ? 'false' : 'true'}
          aria-describedby=${complaint === undefined ? nothing : 'complaint'}
          .value=${this.draft ?? this.text}
          @input=${this.keep}
          @change=${this.hand}
          @keydown=${this.key}
        ></textarea>
        ${result === undefined ? nothing : this.outcome(result)}
      </p>
      ${complaint === undefined ? nothing : html`<p id="complaint" class="complaint" aria-live="polite">${complaint}</p>`}
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

  private readonly keep = (event: Event): void => {
    this.draft = (event.target as HTMLTextAreaElement).value;
  };

  private readonly hand = (): void => {
    // An expression has no lines; what is pasted may have some.
    const typed = this.draft?.replace(/\s+/g, ' ').trim();
    this.draft = undefined;
    if (typed !== undefined && typed !== this.text) this.change(typed);
  };

  private readonly key = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') {
      event.preventDefault();
      this.hand();
    }
    if (event.key !== 'Escape' || this.draft === undefined) return;
    event.stopPropagation();
    this.draft = undefined;
  };
}
