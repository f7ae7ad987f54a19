import { amountText, type AskResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { OfferedName } from '../edit/expression-names.ts';
import type { JsonRecord } from '../edit/json.ts';
import { answerHint, type Comparison, compareAnswer, readAnswer } from '../runtime/answers.ts';
import { shared } from '../styles/shared.ts';
import { PredictionEvent } from './events.ts';
import { knobButtonStyles } from './knob-button-styles.ts';

/**
 * A question whose answer is a number. The computed answer shows once somebody has entered a number of their own; then
 * both stand side by side, with the difference, and what the run says about it.
 */
export class Ask extends LitElement {
  static override styles = [
    shared,
    knobButtonStyles,
    css`
      :host {
        max-width: 68ch;
        padding-left: 1rem;
        border-left: 3px solid var(--gold);
      }
      .question {
        margin-bottom: 0.5rem;
        font-size: 1.1rem;
        white-space: pre-line;
      }
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.7rem;
      }
      input {
        width: 9rem;
        min-height: 2.25rem;
        padding: 0 0.6rem;
        border: 1px solid var(--edge);
        border-radius: 4px;
        background: var(--field);
      }
      input[aria-invalid='true'] {
        border-color: var(--rust);
        border-width: 2px;
      }
      form button {
        min-height: 2.25rem;
        padding-inline: 0.9rem;
        border-color: var(--edge);
        color: var(--ink);
      }
      .complaint {
        margin-top: 0.3rem;
      }
      dl {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem 2.2rem;
      }
      dt {
        color: var(--quiet);
        font-size: var(--small);
      }
      dd {
        font-size: 1.3rem;
        font-weight: 600;
      }
      .computed {
        color: var(--rust);
      }
      .verdict {
        margin-top: 0.35rem;
      }
      .explanation {
        margin-top: 0.6rem;
      }
      details {
        margin-top: 0.4rem;
      }
      .fields {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0 0.5rem;
        color: var(--quiet);
        font-size: var(--small);
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  /** The cell as it stands in the document. */
  @property({ attribute: false }) data: JsonRecord = {};
  @property({ attribute: false }) result: AskResult | undefined;
  /** The answer as far as it is typed. */
  @property({ attribute: false }) draft = '';
  /** Whether an answer has been entered. */
  @property({ attribute: false }) revealed = false;
  /** What is wrong with a field of the cell, by field. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  /** Called with a field of the cell and what was typed. */
  @property({ attribute: false }) change: (field: string, text: string) => void = () => undefined;
  /** Numbers that may be asked for. */
  @property({ attribute: false }) names: readonly OfferedName[] = [];
  /** The button that gives what it allows a knob. */
  @property({ attribute: false }) knob: TemplateResult | undefined;
  @state() private complaint: string | undefined;
  /** Whether it is being asked again, so that the focus does not go with the button that was pressed. */
  private isGoingBack = false;

  protected override updated(): void {
    if (!this.isGoingBack || this.revealed) return;
    this.isGoingBack = false;
    this.renderRoot.querySelector('input')?.focus();
  }

  protected override render(): TemplateResult {
    return html`<p class="question">${this.written('question')}</p>
      ${this.revealed ? this.comparison() : this.form()}
      <details ?open=${this.complaints.size > 0}>
        <summary class="small">change the question</summary>
        <p class="fields">
          ${this.field('question', 'question')} <span>answer</span>
          <tt-expression
            .text=${this.written('answer')}
            .label=${`number that is asked for, ${this.cell}`}
            .complaint=${this.complaints.get('answer')}
            .names=${this.names}
            .change=${(text: string) => this.change('answer', text)}
          ></tt-expression>
          <span>within</span>
          <span class="turned">
            ${this.field('within', 'how far off an answer may be')} ${this.knob ?? nothing}
          </span>
        </p>
      </details>`;
  }

  private written(name: string): string {
    const value = this.data[name];
    return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
  }

  private field(name: string, label: string): TemplateResult {
    return html`<tt-value
      .text=${this.written(name)}
      .hint=${name === 'within' ? '5 %' : ''}
      .label=${`${label}, ${this.cell}`}
      .complaint=${this.complaints.get(name)}
      .change=${(text: string) => this.change(name, text)}
    ></tt-value>`;
  }

  private form(): TemplateResult {
    const { result, complaint } = this;
    const described = [result === undefined ? '' : 'hint', complaint === undefined ? '' : 'complaint'].join(' ').trim();
    return html`<form @submit=${this.enter}>
        <label for="answer">Your number</label>
        <input
          id="answer"
          autocomplete="off"
          autocapitalize="off"
          spellcheck="false"
          aria-describedby=${described === '' ? nothing : described}
          aria-invalid=${complaint === undefined ? 'false' : 'true'}
          .value=${this.draft}
          @input=${this.keep}
        />
        <button ?disabled=${result === undefined}>compare</button>
        ${result === undefined ? nothing : html`<span id="hint" class="quiet small">${answerHint(result)}</span>`}
      </form>
      ${complaint === undefined ? nothing : html`<p id="complaint" class="complaint" role="alert">${complaint}</p>`}`;
  }

  private comparison(): TemplateResult {
    const { result } = this;
    if (result === undefined) return html`<p>You said ${this.draft}.</p>`;
    const typed = readAnswer(this.draft, result);
    const compared = typed.ok ? compareAnswer(typed.value, result) : undefined;
    const because = result.reason === undefined ? '' : `, because ${result.reason}`;
    return html`<div role="status">
        <dl>
          <div><dt>you</dt><dd>${compared?.typed ?? this.draft}</dd></div>
          <div><dt>computed</dt><dd class="computed">${amountText(result)}${because}</dd></div>
        </dl>
        ${compared === undefined ? nothing : this.verdict(compared, result)}
      </div>
      ${result.explanation === undefined ? nothing : html`<p class="explanation">${result.explanation}</p>`}
      <button class="plain" @click=${this.again}>another number</button>`;
  }

  private verdict({ difference, isInside, slip }: Comparison, result: AskResult): TemplateResult {
    const asked = result.allowance === 0 ? 'the exact value was asked for' : `asked for within ${result.within}`;
    const words = result.allowance === 0 && isInside ? 'right' : isInside ? 'near enough' : 'too far off';
    return html`<p class="verdict">${difference}: ${words} <span class="quiet">(${asked})</span></p>
      ${slip === undefined ? nothing : html`<p class="verdict">${slip}</p>`}`;
  }

  private readonly keep = (event: Event): void => {
    this.complaint = undefined;
    const { value } = event.target as HTMLInputElement;
    // It comes back from the page only with the next drawing, and Enter may be faster.
    this.draft = value;
    this.dispatchEvent(new PredictionEvent(this.cell, { text: value, revealed: false }));
  };

  private readonly enter = (event: Event): void => {
    event.preventDefault();
    if (this.result === undefined) return;
    const typed = readAnswer(this.draft, this.result);
    this.complaint = typed.ok ? undefined : `Your number ${typed.message}`;
    if (typed.ok) this.dispatchEvent(new PredictionEvent(this.cell, { text: this.draft, revealed: true }));
  };

  private readonly again = (): void => {
    this.isGoingBack = true;
    this.dispatchEvent(new PredictionEvent(this.cell, { text: this.draft, revealed: false }, `ask ${this.cell} again`));
  };
}
