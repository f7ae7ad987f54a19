import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { ThemeController } from '../controllers/theme-controller.ts';
import { type History, openHistory, redo, undo } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import type { HistoryEvent, PredictionEvent } from '../elements/events.ts';
import type { StartEntry } from '../elements/tt-start.ts';
import { titleOf } from '../runtime/cells.ts';
import type { Predictions } from '../runtime/predictions.ts';
import { introduction } from '../runtime/introduction.ts';
import { shared } from '../styles/shared.ts';
import { examples } from './examples.ts';
import { readFile, saveAsFile } from './open-file.ts';

/** An open document. It stays open, with all edits, while other pages are looked at. */
interface OpenDocument {
  readonly key: string;
  readonly opened: Json;
  readonly history: History;
  readonly predictions: Predictions;
}

/** The whole notebook: the head with its commands, and below it the start page or the open document. */
export class App extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        min-height: 100dvh;
        display: flex;
        flex-direction: column;
      }
      header {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.2rem 1.4rem;
        padding: 0.6rem 1.75rem;
        background: var(--panel);
        border-bottom: 1px solid var(--line);
      }
      .home {
        display: flex;
        align-items: center;
        gap: 0.6rem;
        color: var(--ink);
        font-weight: 700;
        font-size: 1.0625rem;
        text-decoration: none;
        min-height: 1.75rem;
      }
      .mark {
        width: 1.5rem;
        height: 1.5rem;
      }
      .mark path {
        fill: none;
        stroke: var(--rust);
        stroke-width: 2.2;
        stroke-linecap: round;
      }
      .mark line {
        stroke: var(--edge);
        stroke-width: 1.4;
        stroke-dasharray: 0.5 3;
        stroke-linecap: round;
      }
      .commands {
        margin-left: auto;
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 0.4rem;
        font-size: 0.9375rem;
        min-width: 0;
      }
      .commands button {
        max-width: 19rem;
        overflow: hidden;
        text-overflow: ellipsis;
        white-space: nowrap;
      }
      tt-notebook {
        flex: 1;
      }
      .dropping {
        outline: 3px dashed var(--rust);
        outline-offset: -8px;
      }
      @media (max-width: 48rem) {
        header {
          padding: 0.35rem 1rem;
        }
        .commands {
          font-size: var(--small);
          gap: 0.1rem;
        }
        .commands button:disabled {
          display: none;
        }
        .commands button {
          max-width: 10rem;
          padding-inline: 0.4rem;
        }
      }
    `,
  ];

  @state() private open: ReadonlyMap<string, OpenDocument> = new Map();
  @state() private key = '';
  @state() private complaint: string | undefined;
  @state() private isDropping = false;
  private readonly theme = new ThemeController(this);

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('hashchange', this.route);
    window.addEventListener('beforeunload', this.warn);
    window.addEventListener('keydown', this.shortcut);
    window.addEventListener('dragover', this.dragOver);
    window.addEventListener('dragleave', this.dragLeave);
    window.addEventListener('drop', this.drop);
    this.route();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.route);
    window.removeEventListener('beforeunload', this.warn);
    window.removeEventListener('keydown', this.shortcut);
    window.removeEventListener('dragover', this.dragOver);
    window.removeEventListener('dragleave', this.dragLeave);
    window.removeEventListener('drop', this.drop);
  }

  protected override updated(): void {
    const current = this.open.get(this.key)?.history.document;
    document.title = current === undefined ? 'Two Thirds' : `${titleOf(current)} · Two Thirds`;
  }

  protected override render(): TemplateResult {
    const current = this.open.get(this.key);
    return html`<header class=${this.isDropping ? 'dropping' : ''}>
        <a class="home" href="#" aria-label="Two Thirds, to the start page">${mark}Two Thirds</a>
        <div class="commands" role="group" aria-label="Commands">
          ${current === undefined ? nothing : this.commands(current)}
          <button @click=${() => this.theme.next()}>theme: ${this.theme.theme}</button>
        </div>
      </header>
      ${
        current === undefined
          ? html`<tt-start .entries=${this.entries()} .complaint=${this.complaint} .choose=${this.chooseFile}></tt-start>`
          : html`<tt-notebook
              .key=${current.key}
              .opened=${current.opened}
              .history=${current.history}
              .predictions=${current.predictions}
              @tt-history=${this.keepHistory}
              @tt-prediction=${this.predict}
            ></tt-notebook>`
      }
      <input type="file" hidden accept=".json,application/json" aria-label="page to open" @change=${this.fileChosen} />`;
  }

  private commands(current: OpenDocument): TemplateResult {
    const { past, future, document } = current.history;
    return html`<button ?disabled=${past.length === 0} @click=${() => this.keep(current, undo(current.history))}>
        undo${past.length === 0 ? nothing : `: ${past.at(-1)?.label ?? ''}`}
      </button>
      <button ?disabled=${future.length === 0} @click=${() => this.keep(current, redo(current.history))}>redo</button>
      <button @click=${() => saveAsFile(document, titleOf(document))}>save as file</button>`;
  }

  private entries(): StartEntry[] {
    const known = new Map(examples.map(({ key, text }) => [key, JSON.parse(text) as Json]));
    for (const { key, history } of this.open.values()) known.set(key, history.document);
    return [...known].map(([key, document]) => ({
      key,
      title: titleOf(document),
      introduction: introduction(document),
      changed: (this.open.get(key)?.history.past.length ?? 0) > 0,
    }));
  }

  private keep(current: OpenDocument, history: History): void {
    this.open = new Map(this.open).set(current.key, { ...current, history });
  }

  private readonly keepHistory = (event: HistoryEvent): void => {
    const current = this.open.get(this.key);
    if (current !== undefined) this.keep(current, event.history);
  };

  private readonly predict = ({ cell, prediction }: PredictionEvent): void => {
    const current = this.open.get(this.key);
    if (current === undefined) return;
    const predictions = { ...current.predictions, [cell]: prediction };
    this.open = new Map(this.open).set(current.key, { ...current, predictions });
  };

  /** Opens what the address names; an unknown name leads to the start page. */
  private readonly route = (): void => {
    const key = decodeURIComponent(location.hash.slice(1));
    const example = examples.find((each) => each.key === key);
    if (!this.open.has(key) && example !== undefined) this.show(key, JSON.parse(example.text) as Json);
    this.key = this.open.has(key) ? key : '';
    this.complaint = undefined;
    window.scrollTo(0, 0);
  };

  private show(key: string, opened: Json): void {
    this.open = new Map(this.open).set(key, { key, opened, history: openHistory(opened), predictions: {} });
  }

  private readonly chooseFile = (): void => {
    this.renderRoot.querySelector<HTMLInputElement>('input[type=file]')?.click();
  };

  private readonly fileChosen = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    const [file] = input.files ?? [];
    input.value = '';
    if (file !== undefined) void this.openFile(file);
  };

  private async openFile(file: File): Promise<void> {
    const read = await readFile(file);
    if ('complaint' in read) {
      location.hash = '';
      await this.updateComplete;
      this.complaint = read.complaint;
      return;
    }
    const key = `file-${this.open.size + 1}-${file.name.replace(/\.tt\.json$|\.json$/, '').replace(/\W+/g, '-')}`;
    this.show(key, read.document);
    location.hash = key;
  }

  private readonly shortcut = (event: KeyboardEvent): void => {
    const current = this.open.get(this.key);
    const inText = event
      .composedPath()
      .some((each) => each instanceof HTMLInputElement || each instanceof HTMLTextAreaElement);
    if (current === undefined || inText || !(event.ctrlKey || event.metaKey) || event.altKey) return;
    const letter = event.key.toLowerCase();
    if (letter === 'z') this.keep(current, event.shiftKey ? redo(current.history) : undo(current.history));
    else if (letter === 'y') this.keep(current, redo(current.history));
    else return;
    event.preventDefault();
  };

  private readonly warn = (event: BeforeUnloadEvent): void => {
    const written = [...this.open.values()].some(
      ({ history, predictions }) =>
        history.past.length > 0 || Object.values(predictions).some(({ text }) => text.trim() !== ''),
    );
    if (written) event.preventDefault();
  };

  private readonly dragOver = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes('Files') !== true) return;
    event.preventDefault();
    this.isDropping = true;
  };

  private readonly dragLeave = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.isDropping = false;
  };

  private readonly drop = (event: DragEvent): void => {
    this.isDropping = false;
    const [file] = event.dataTransfer?.files ?? [];
    if (file === undefined) return;
    event.preventDefault();
    void this.openFile(file);
  };
}

/** The mark: a capacitor on its way past two thirds. */
const mark = html`<svg class="mark" viewBox="0 0 24 24" aria-hidden="true">
  <line x1="2" x2="22" y1="8.5" y2="8.5" />
  <path d="M2.5 21C6 13.5 10 9.5 15 7.2M15 7.2V21M15 21H21.5" />
</svg>`;
