import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { OfferedName } from '../edit/expression-names.ts';
import type { ExpressionLanguage } from '../edit/expression-words.ts';
import { faultPlace } from '../edit/fault-place.ts';
import { shared } from '../styles/shared.ts';
import type { ExpressionEditor, ShownExpression } from './expression-editor.ts';

/** How long the page may be busy with other things before the editor is fetched all the same (ms). */
const PATIENCE = 2000;

/**
 * An expression, or the text of a note, edited where it stands. Names of the page that may be written are marked and
 * offered, and a complaint stands right below, with its place underlined. An expression is handed over on Enter or when
 * the field is left, and Escape brings back what stood there; a note is handed over at every key stroke.
 *
 * The editor comes after the first paint; until then, and where it does not come, a plain text field does its work.
 */
export class Expression extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: inline-block;
        vertical-align: baseline;
        /* A complaint below the field leaves the field in its line. */
        baseline-source: first;
        max-width: 100%;
        min-width: 0;
      }
      :host([language='note']) {
        display: block;
      }
      .box {
        max-width: 100%;
        min-height: 1.75rem;
        padding: 0 0.2rem;
        border-bottom: 1px dotted var(--underline, var(--edge));
        border-radius: 3px 3px 0 0;
        overflow-wrap: anywhere;
      }
      div.box {
        width: fit-content;
      }
      .box:hover {
        background: var(--raised);
      }
      .box:focus-within,
      .box:focus {
        background: var(--field);
        border-bottom-style: solid;
      }
      .box.wrong {
        border-bottom: 2px solid var(--rust);
      }
      textarea {
        display: block;
        field-sizing: content;
        min-width: 2.5rem;
        border: 0;
        background: transparent;
        resize: none;
      }
      :host([language='note']) .box {
        width: calc(100% + 1.2rem);
        max-width: none;
        min-height: 4.5em;
        padding: 0.4rem 0.6rem;
        margin: -0.4rem -0.6rem;
        border: 0;
        border-radius: 4px;
        background: var(--field);
      }
      textarea::placeholder {
        color: var(--quiet);
        opacity: 1;
      }
      .complaint {
        padding-top: 0.15rem;
        white-space: normal;
      }
    `,
  ];

  /** What makes editors, once it has come. */
  private static Editor: typeof ExpressionEditor | undefined;

  /** What stands in the document. */
  @property({ attribute: false }) text = '';
  /** What the field is, for screen readers. */
  @property({ attribute: false }) label = '';
  /** What is wrong with it, if anything is. */
  @property({ attribute: false }) complaint: string | undefined;
  /** Names that may be written here. */
  @property({ attribute: false }) names: readonly OfferedName[] = [];
  /** What stands in the field while it is empty. */
  @property({ attribute: false }) hint = '';
  @property({ reflect: true }) language: ExpressionLanguage = 'expression';
  /** Called with what was typed. */
  @property({ attribute: false }) change: (text: string) => void = () => undefined;
  /** What is typed and not handed over yet. */
  @state() private draft: string | undefined;
  @state() private isEditor = false;
  private editor: ExpressionEditor | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    this.isEditor = Expression.Editor !== undefined;
    if (!this.isEditor) whenIdle(() => void this.fetch());
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.editor?.destroy();
    this.editor = undefined;
    this.isEditor = false;
  }

  private async fetch(): Promise<void> {
    const editor = await import('./expression-editor.ts').catch(() => undefined);
    // Where it cannot be fetched the plain field goes on.
    if (editor === undefined) return;
    Expression.Editor = editor.ExpressionEditor;
    this.upgrade();
  }

  /** Puts the editor in the place of the plain field; nobody's field changes under their fingers. */
  private readonly upgrade = (): void => {
    const isInUse = this.draft !== undefined || this.matches(':focus-within');
    if (this.isConnected && !isInUse) this.isEditor = Expression.Editor !== undefined;
  };

  protected override render(): TemplateResult {
    const { complaint } = this;
    const kind = `box ${complaint === undefined ? '' : 'wrong'}`;
    return html`${
      this.isEditor
        ? html`<div class=${kind}></div>`
        : html`<textarea
            class=${kind}
            rows="1"
            autocomplete="off"
            autocapitalize="off"
            spellcheck=${this.language === 'note'}
            placeholder=${this.hint === '' ? nothing : this.hint}
            aria-label=${this.label}
            aria-invalid=${complaint === undefined ? 'false' : 'true'}
            aria-describedby=${complaint === undefined ? nothing : 'complaint'}
            .value=${this.draft ?? this.text}
            @input=${(event: Event) => this.take((event.target as HTMLTextAreaElement).value)}
            @change=${this.hand}
            @blur=${() => setTimeout(this.upgrade)}
            @keydown=${this.key}
          ></textarea>`
    }
    ${complaint === undefined ? nothing : html`<p id="complaint" class="complaint" aria-live="polite">${complaint}</p>`}`;
  }

  protected override updated(): void {
    const { Editor } = Expression;
    const shown = this.shown();
    if (this.editor !== undefined) this.editor.show(shown);
    else if (this.isEditor && Editor !== undefined) {
      const parent = this.renderRoot.querySelector<HTMLElement>('div.box');
      if (parent === null) return;
      const { language, hint } = this;
      const [root, typed, left] = [this.renderRoot as ShadowRoot, this.take, this.hand];
      parent.addEventListener('keydown', this.key);
      this.editor = new Editor({ parent, root, language, hint, shown, typed, left });
    }
  }

  private shown(): ShownExpression {
    const { text, draft, names, label, complaint, language } = this;
    const fault = complaint === undefined || draft !== undefined ? undefined : faultPlace(text, complaint);
    const attributes = {
      'aria-label': label,
      'aria-multiline': String(language === 'note'),
      'aria-invalid': String(complaint !== undefined),
      spellcheck: String(language === 'note'),
      autocapitalize: language === 'note' ? 'sentences' : 'off',
      ...(complaint === undefined ? {} : { 'aria-describedby': 'complaint' }),
    };
    return { text: draft ?? text, names, fault, attributes };
  }

  /** Puts the caret into the field. */
  override focus(): void {
    if (this.editor !== undefined) this.editor.focus();
    else this.renderRoot.querySelector('textarea')?.focus();
  }

  private readonly take = (text: string): void => {
    this.draft = text;
    if (this.language === 'note') this.change(text);
  };

  private readonly hand = (): void => {
    const handed = this.draft;
    this.editor?.withdraw();
    // An expression has no lines; what is pasted may have some.
    const typed = handed?.replace(/\s+/g, ' ').trim();
    if (typed !== undefined && typed !== this.text && this.language !== 'note') this.change(typed);
    // The document comes back with the text in a moment; until then what was typed stays, and the caret with it.
    setTimeout(() => {
      if (this.draft === handed) this.draft = undefined;
    });
  };

  private readonly key = (event: KeyboardEvent): void => {
    const isTaken = event.defaultPrevented;
    // In a text, undo and redo are those of the text.
    if ((event.ctrlKey || event.metaKey) && /^[zy]$/i.test(event.key)) event.stopPropagation();
    if (event.key === 'Escape') {
      if (isTaken || (this.draft !== undefined && this.language !== 'note')) event.stopPropagation();
      if (!isTaken) this.draft = undefined;
    }
    if (event.key !== 'Enter' || isTaken || this.language === 'note') return;
    event.preventDefault();
    this.hand();
  };
}

/** Calls back once the page has nothing better to do. */
function whenIdle(call: () => void): void {
  if ('requestIdleCallback' in window) requestIdleCallback(call, { timeout: PATIENCE });
  else setTimeout(call, PATIENCE / 10);
}
