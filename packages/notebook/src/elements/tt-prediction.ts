import { css, html, LitElement, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';
import { PredictionEvent } from './events.ts';

/** Asks for a prediction before a result is shown. What is written is kept at every key stroke; writing nothing is allowed. */
export class PredictionField extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        max-width: 68ch;
        padding-left: 1rem;
        border-left: 3px solid var(--gold);
      }
      label {
        display: block;
        color: var(--quiet);
      }
      textarea {
        display: block;
        width: 100%;
        min-height: 4.2em;
        field-sizing: content;
        margin: 0.4rem 0 0.5rem;
        padding: 0.4rem 0.6rem;
        border: 1px solid var(--edge);
        border-radius: 4px;
        background: var(--field);
        resize: vertical;
      }
      button {
        color: var(--ink);
        border-color: var(--edge);
        min-height: 2.25rem;
        padding-inline: 0.9rem;
      }
    `,
  ];

  /** Id of the cell whose result is held back. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) text = '';

  protected override render(): TemplateResult {
    const isEmpty = this.text.trim() === '';
    return html`<label for="text">What do you expect, and why? Then look.</label>
      <textarea id="text" .value=${this.text} @input=${this.keep}></textarea>
      <button @click=${this.reveal}>${isEmpty ? 'look without a prediction' : 'look what happens'}</button>`;
  }

  /** Goes to where the prediction is written. */
  override focus(): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector('textarea')?.focus());
  }

  private readonly keep = (event: Event): void => {
    const { value } = event.target as HTMLTextAreaElement;
    // It comes back from the page only with the next drawing, and the button may be faster.
    this.text = value;
    this.dispatchEvent(new PredictionEvent(this.cell, { text: value, revealed: false }));
  };

  private readonly reveal = (): void => {
    this.dispatchEvent(new PredictionEvent(this.cell, { text: this.text, revealed: true }));
  };
}
