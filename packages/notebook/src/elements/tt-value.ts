import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Completion, complete } from '../edit/completion.ts';
import { shared } from '../styles/shared.ts';
import { handler } from './handler-property.ts';

/**
 * A value or a short text that is edited where it stands. What is typed is handed over on Enter or when the field is
 * left; Escape brings back what stood there. A complaint about the value shows right below it. Where names may be
 * written, those that fit are offered below the field: arrow keys choose one, Enter takes it. Where only certain words may
 * be written, all of them are offered at a click or with the down arrow, whatever stands there.
 */
export class ValueField extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: inline-block;
        vertical-align: baseline;
        /* A complaint below the field leaves the field in its line. */
        baseline-source: first;
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
      input::placeholder {
        color: var(--quiet);
        opacity: 1;
      }
      .names {
        position: absolute;
        z-index: 3;
        margin: 0.15rem 0 0;
        padding: 0.3rem 0;
        list-style: none;
        background: var(--panel);
        box-shadow: 0 0 0 1px var(--edge);
        border-radius: 4px;
      }
      .names li {
        padding: 0.1rem 0.8rem;
        min-height: 1.75rem;
        color: var(--ink);
        cursor: pointer;
      }
      .names li[aria-selected='true'] {
        background: var(--raised);
        text-decoration: underline;
        text-decoration-color: var(--rust);
        text-decoration-thickness: 2px;
        text-underline-offset: 0.25em;
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
  @property(handler) change: (text: string) => void = () => undefined;
  /** Names that may be written here. */
  @property({ attribute: false }) names: readonly string[] = [];
  /** Whether it is one of the names and nothing else: then all are offered when they are asked for. */
  @property({ attribute: false }) isChoice = false;
  /** What stands in the field while it is empty. */
  @property({ attribute: false }) hint = '';
  @state() private draft: string | undefined;
  @state() private offer: Completion | undefined;
  @state() private chosen = -1;

  protected override render(): TemplateResult {
    const text = this.draft ?? this.text;
    const wrong = this.complaint !== undefined;
    return html`<input
        autocomplete="off"
        autocapitalize="off"
        spellcheck="false"
        size=${Math.max(3, text.length, text === '' ? this.hint.length : 0)}
        placeholder=${this.hint === '' ? nothing : this.hint}
        role=${this.names.length > 0 ? 'combobox' : nothing}
        aria-autocomplete=${this.names.length > 0 ? 'list' : nothing}
        aria-expanded=${this.names.length > 0 ? String(this.offer !== undefined) : nothing}
        aria-controls=${this.offer === undefined ? nothing : 'names'}
        aria-activedescendant=${this.offer === undefined || this.chosen < 0 ? nothing : `name-${this.chosen}`}
        aria-label=${this.label}
        aria-invalid=${wrong ? 'true' : 'false'}
        aria-describedby=${wrong ? 'complaint' : nothing}
        .value=${text}
        @input=${this.keep}
        @change=${this.hand}
        @keydown=${this.key}
        @click=${this.ask}
        @blur=${this.withdraw}
      />
      ${this.offered()}
      ${wrong ? html`<p id="complaint" class="complaint" part="complaint" aria-live="polite">${this.complaint}</p>` : nothing}`;
  }

  private offered(): TemplateResult | typeof nothing {
    if (this.offer === undefined) return nothing;
    return html`<ul class="names" id="names" role="listbox" aria-label="names for ${this.label}">
      ${this.offer.names.map(
        (name, index) =>
          html`<li
            id="name-${index}"
            role="option"
            aria-selected=${String(index === this.chosen)}
            @pointerdown=${(event: Event) => {
              // The field keeps the focus.
              event.preventDefault();
              this.takeName(name);
            }}
          >
            ${name}
          </li>`,
      )}
    </ul>`;
  }

  override focus(): void {
    this.renderRoot.querySelector('input')?.focus();
  }

  private readonly keep = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    this.draft = input.value;
    this.chosen = -1;
    this.offer = complete(input.value, input.selectionStart ?? input.value.length, this.names);
  };

  /** Offers all words of a choice. */
  private readonly ask = (): void => {
    if (!this.isChoice) return;
    const end = (this.draft ?? this.text).length;
    this.offer = { start: 0, end, names: this.names };
    this.chosen = this.names.indexOf(this.draft ?? this.text);
  };

  private takeName(name: string): void {
    const input = this.renderRoot.querySelector('input');
    const { offer } = this;
    if (input === null || offer === undefined) return;
    input.setRangeText(name, offer.start, offer.end, 'end');
    this.draft = input.value;
    this.withdraw();
    // A word of a choice is all there is to say.
    if (this.isChoice) this.hand();
  }

  private readonly withdraw = (): void => {
    this.offer = undefined;
    this.chosen = -1;
  };

  private readonly hand = (): void => {
    const typed = this.draft?.trim();
    this.withdraw();
    this.draft = undefined;
    if (typed !== undefined && typed !== this.text) this.change(typed);
  };

  private readonly key = (event: KeyboardEvent): void => {
    if (this.offer !== undefined && this.inOffer(event, this.offer)) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    if (event.key === 'ArrowDown' && this.isChoice) {
      event.preventDefault();
      this.ask();
      return;
    }
    if (event.key === 'Enter') this.hand();
    if (event.key !== 'Escape' || this.draft === undefined) return;
    event.stopPropagation();
    this.draft = undefined;
    (event.target as HTMLInputElement).value = this.text;
  };

  /** Whether a key was meant for the names on offer. */
  private inOffer(event: KeyboardEvent, { names }: Completion): boolean {
    if (event.key === 'ArrowDown') this.chosen = (this.chosen + 1) % names.length;
    else if (event.key === 'ArrowUp') this.chosen = (Math.max(0, this.chosen) + names.length - 1) % names.length;
    else if (event.key === 'Escape') this.withdraw();
    else if (event.key === 'Enter' && names[this.chosen] !== undefined) this.takeName(names[this.chosen] ?? '');
    else return false;
    return true;
  }
}
