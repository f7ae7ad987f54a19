import type { NoteResult } from '@two-thirds/sim/document';
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import type { OfferedName } from '../edit/expression-names.ts';
import { shared } from '../styles/shared.ts';
import { mayHoldFormulas, type SetFormula } from './note-formulas.ts';
import type { noteHtml } from './note-html.ts';
import { CellLinkEvent, SettleEvent } from './events.ts';
import type { Expression } from './tt-expression.ts';
import { handler } from './handler-property.ts';

/**
 * A paragraph of the page. It reads as text with live numbers in it; a click, or Enter on its edit button, turns it
 * into its Markdown source in the same place. Every key stroke is kept in the document.
 */
export class Note extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        position: relative;
        max-width: 68ch;
      }
      .text > :first-child {
        margin-top: 0;
      }
      .text > :last-child {
        margin-bottom: 0;
      }
      .text :is(p, ul, ol, blockquote, table, pre) {
        margin: 0 0 0.75em;
      }
      .text :is(h2, h3, h4, h5, h6) {
        margin: 1.1em 0 0.35em;
        line-height: 1.25;
        font-weight: 650;
      }
      .text h2 {
        font-size: 1.35rem;
      }
      .text h3 {
        font-size: 1.12rem;
      }
      .text :is(h4, h5, h6) {
        font-size: 1rem;
      }
      .text :is(ul, ol) {
        padding-left: 1.4em;
      }
      /* However deep lists and quotations are nested, they stay on the page. */
      .text :is(ul, ol) :is(ul, ol) :is(ul, ol) :is(ul, ol) :is(ul, ol) {
        padding-left: 0;
      }
      .text blockquote blockquote blockquote blockquote blockquote {
        padding-left: 0;
        border-left: 0;
      }
      .text blockquote {
        padding-left: 1em;
        border-left: 3px solid var(--gold);
      }
      .text table {
        border-collapse: collapse;
      }
      .text :is(th, td) {
        padding: 0.2em 1em 0.2em 0;
        border-bottom: 1px solid var(--line);
        text-align: left;
      }
      .text .align-right {
        text-align: right;
      }
      .text .align-center {
        text-align: center;
      }
      .text code {
        font: inherit;
        padding: 0 0.25em;
        border-radius: 3px;
        background: var(--raised);
      }
      .formula {
        display: block;
        margin: 0.5em 0;
        overflow-x: auto;
      }
      .unread {
        color: var(--rust);
      }
      .quoted {
        color: var(--rust);
        font-weight: 650;
        text-decoration-line: underline;
        text-decoration-style: dotted;
        text-decoration-thickness: 1px;
      }
      .edit {
        position: absolute;
        right: 0;
        top: -1.6rem;
        font-size: var(--small);
        opacity: 0;
      }
      :host(:hover) .edit,
      .edit:focus-visible {
        opacity: 1;
      }
      @media (hover: none) {
        .edit {
          position: static;
          opacity: 1;
          padding-inline: 0;
          min-height: 1.5rem;
        }
      }
      .hint {
        margin-top: 0.75rem;
        font-size: var(--small);
        color: var(--quiet);
      }
    `,
  ];

  @property({ attribute: false }) text = '';
  @property({ attribute: false }) result: NoteResult | undefined;
  /** Id of the cell, to tell notes apart by name. */
  @property({ attribute: false }) cell = '';
  /** Called with the text at every key stroke. */
  @property(handler) change: (text: string) => void = () => undefined;
  /** What its links may lead to. */
  @property({ attribute: false }) names: readonly OfferedName[] = [];
  @state() private editing = false;
  @state() private toHtml: typeof noteHtml | undefined;
  @state() private setFormula: SetFormula | undefined;
  private rendered = '';
  /** The numbers that are shown in it, as text. */
  private numbers = '';

  override connectedCallback(): void {
    super.connectedCallback();
    // Markdown and its sanitiser come after the first paint: the page must not wait for them.
    void import('./note-html.ts').then((loaded) => {
      this.toHtml = loaded.noteHtml;
    });
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    // The page is drawn at every step of a computation; Markdown is read only when it or its numbers change.
    const quotes = this.result?.quotes ?? {};
    const numbers = changed.has('result') ? JSON.stringify(quotes) : this.numbers;
    const isNew = ['text', 'toHtml', 'setFormula'].some((name) => changed.has(name)) || numbers !== this.numbers;
    this.numbers = numbers;
    if (isNew) this.rendered = this.toHtml?.(this.text, quotes, this.setFormula) ?? '';
    if (changed.has('text') && mayHoldFormulas(this.text)) void this.loadFormulas();
  }

  /** What sets formulas is loaded with the first of them. */
  private async loadFormulas(): Promise<void> {
    if (this.setFormula !== undefined) return;
    const { default: temml } = await import('temml');
    this.setFormula = (tex, displayMode) =>
      temml.renderToString(tex, { displayMode, throwOnError: true, trust: false });
  }

  protected override render(): TemplateResult {
    return this.editing ? this.source() : this.reading();
  }

  private reading(): TemplateResult {
    const empty = this.text.trim() === '';
    return html`<div class="text" @click=${this.follow}>
        ${
          this.toHtml === undefined || empty
            ? html`<p class=${empty ? 'quiet' : ''}>${empty ? 'Write something here.' : this.text}</p>`
            : unsafeHTML(this.rendered)
        }
      </div>
      <button class="edit" aria-label="edit text of ${this.cell}" @click=${this.open}>edit text</button>`;
  }

  private source(): TemplateResult {
    return html`<tt-expression
        language="note"
        .text=${this.text}
        .label=${`text of ${this.cell}, in Markdown`}
        .names=${this.names}
        .change=${(text: string) => this.change(text)}
        @keydown=${this.key}
        @focusout=${this.close}
      ></tt-expression>
      <p class="hint">Markdown. A link such as [width](#numbers.width) shows a live number, and $t = 1.1 R_1 C_1$ a formula in TeX. Escape ends editing.</p>`;
  }

  /** Turns the paragraph into its source, with the caret in it. */
  readonly open = async (): Promise<void> => {
    this.editing = true;
    await this.updateComplete;
    const source = this.renderRoot.querySelector<Expression>('tt-expression');
    await source?.updateComplete;
    source?.focus();
  };

  private readonly close = (): void => {
    this.editing = false;
    this.dispatchEvent(new SettleEvent());
  };

  private readonly key = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape' && !(event.key === 'Enter' && (event.ctrlKey || event.metaKey))) return;
    event.preventDefault();
    this.close();
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('.edit')?.focus());
  };

  private readonly follow = (event: MouseEvent): void => {
    const link = event.composedPath().find((each) => each instanceof HTMLAnchorElement);
    const cell = link?.getAttribute('data-cell');
    if (link !== undefined) {
      if (cell === null || cell === undefined) return;
      event.preventDefault();
      this.dispatchEvent(new CellLinkEvent(cell));
      return;
    }
    // Selecting text to copy it is not a wish to edit it.
    if (window.getSelection()?.isCollapsed !== false) void this.open();
  };
}
