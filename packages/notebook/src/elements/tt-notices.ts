import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Notice } from '../controllers/notices.ts';
import { shared } from '../styles/shared.ts';

/** What the page has to say that belongs to no cell: one line each, with what can be done about it. */
export class NoticeLines extends LitElement {
  static override styles = [
    shared,
    css`
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0.1rem 1rem;
        padding: 0.5rem 1.75rem;
        border-bottom: 1px solid var(--line);
        background: var(--raised);
        font-size: 0.9375rem;
      }
      .line p {
        max-width: 90ch;
        overflow-wrap: anywhere;
      }
      .urgent p {
        color: var(--rust);
      }
      button.plain {
        color: var(--ink);
      }
      input {
        flex: 1 1 16rem;
        min-width: 0;
        padding: 0.1rem 0.4rem;
        border: 0;
        border-bottom: 1px dotted var(--edge);
        background: var(--field);
      }
      @media (max-width: 48rem) {
        .line {
          padding: 0.4rem 1rem;
        }
      }
    `,
  ];

  @property({ attribute: false }) notices: readonly Notice[] = [];
  /** Called with what the notice that is to go is about. */
  @property({ attribute: false }) drop: (about: string) => void = () => undefined;

  protected override render(): TemplateResult {
    // Both regions are always there: what is put into a new one is often not read out.
    return html`<div role="status">${this.notices.filter(({ isUrgent }) => !isUrgent).map((each) => this.line(each))}</div>
      <div role="alert">${this.notices.filter(({ isUrgent }) => isUrgent).map((each) => this.line(each))}</div>`;
  }

  private line({ about, text, isUrgent, action, copy }: Notice): TemplateResult {
    return html`<div class="line ${isUrgent ? 'urgent' : ''}">
      <p>${text}</p>
      ${
        copy === undefined
          ? nothing
          : html`<input
              readonly
              aria-label="link to this page"
              .value=${copy}
              @focus=${(event: Event) => (event.target as HTMLInputElement).select()}
            />`
      }
      ${action === undefined ? nothing : html`<button class="plain act" @click=${action.act}>${action.words}</button>`}
      <button class="plain" @click=${() => this.drop(about)}>understood</button>
    </div>`;
  }
}
