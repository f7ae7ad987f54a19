import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';

/**
 * A value or a short text that is edited where it stands. What is typed is handed over on Enter or when the field is
 * left; Escape brings back what stood there. A complaint about the value shows right below it.
 */
export class ValueField extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: inline-block;
        vertical-align: baseline;
        max-width: 100%;
      }
      input {
        field-sizing: content;
        min-width: 2.5rem;
        max-width: 100%;
        min-height: 1.75rem;
        padding: 0 0.2rem;
        border: 0;
        border-bottom: 1px dotted var(--underline, var(--edge));
        border-radius: 3px 3px 0 0;
        background: transparent;
      }
      input:hover {
        background: var(--raised);
      }
      input:focus {
        background: var(--field);
        border-bottom-style: solid;
      }
      input[aria-invalid='true'] {
        border-bottom: 2px solid var(--rust);
      }
      :host([strong]) input {
        font-weight: 650;
      }
      .complaint {
        padding-top: 0.15rem;
        white-space: normal;
      }
    `,
  ];

  /** What stands in the document. */
  @property({ attribute: false }) text = '';
  /** What the field is, for screen readers. */
  @property({ attribute: false }) label = '';
  /** What is wrong with it, if anything is. */
  @property({ attribute: false }) complaint: string | undefined;
  /** Called with what was typed. */
  @property({ attribute: false }) change: (text: string) => void = () => undefined;
  @state() private draft: string | undefined;

  protected override render(): TemplateResult {
    const text = this.draft ?? this.text;
    const wrong = this.complaint !== undefined;
    return html`<input
        autocomplete="off"
        autocapitalize="off"
        spellcheck="false"
        size=${Math.max(3, text.length)}
        aria-label=${this.label}
        aria-invalid=${wrong ? 'true' : 'false'}
        aria-describedby=${wrong ? 'complaint' : nothing}
        .value=${text}
        @input=${this.keep}
        @change=${this.hand}
        @keydown=${this.key}
      />
      ${wrong ? html`<p id="complaint" class="complaint" aria-live="polite">${this.complaint}</p>` : nothing}`;
  }

  override focus(): void {
    this.renderRoot.querySelector('input')?.focus();
  }

  private readonly keep = (event: Event): void => {
    this.draft = (event.target as HTMLInputElement).value;
  };

  private readonly hand = (): void => {
    const typed = this.draft?.trim();
    this.draft = undefined;
    if (typed !== undefined && typed !== this.text) this.change(typed);
  };

  private readonly key = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') this.hand();
    if (event.key !== 'Escape' || this.draft === undefined) return;
    event.stopPropagation();
    this.draft = undefined;
    (event.target as HTMLInputElement).value = this.text;
  };
}
