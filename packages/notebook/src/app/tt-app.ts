import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { DropController } from '../controllers/drop-controller.ts';
import { NotebooksController, type OpenNotebook } from '../controllers/notebooks-controller.ts';
import { Notices } from '../controllers/notices.ts';
import { PageFiles } from '../controllers/page-files.ts';
import { ThemeController } from '../controllers/theme-controller.ts';
import { recordPrediction, redo, undo } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import type { FoldedEvent, HistoryEvent, PredictionEvent } from '../elements/events.ts';
import type { OpeningPage, StartEntry } from '../elements/tt-start.ts';
import { titleOf } from '../runtime/cells.ts';
import { introduction } from '../runtime/introduction.ts';
import type { Prediction, Predictions } from '../runtime/predictions.ts';
import { pickFile } from '../storage/file-access.ts';
import { broughtDocument, isOnePage } from '../storage/one-page.ts';
import { type OpenedFile, readFile } from '../storage/opened-file.ts';
import { SHARED, unpackDocument } from '../storage/share-link.ts';
import { timeWords } from '../storage/times.ts';
import { shared } from '../styles/shared.ts';
import { appStyles } from './app-styles.ts';
import { emptyPage } from './empty-page.ts';
import { examples } from './examples.ts';
import { fragment } from './fragment.ts';

/** The page whose first run the start page shows. */
const opening = openingPage();

/** The whole notebook: the head with its commands, and below it the start page or the open document. */
export class App extends LitElement {
  static override styles = [shared, appStyles];

  /** What the address names; empty on the start page. */
  @state() private key = '';
  /** Whether the place that the address names is still being looked up. */
  @state() private isLooking = true;
  private readonly theme = new ThemeController(this);
  private readonly notices = new Notices(this);
  private readonly notebooks = new NotebooksController(this, this.notices);
  private readonly files = new PageFiles(this.notebooks, this.notices);
  private readonly dropping = new DropController(this, (file, handle) => void this.openDropped(file, handle));

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('hashchange', this.route);
    window.addEventListener('beforeunload', this.warn);
    window.addEventListener('keydown', this.shortcut);
    this.notebooks.onRenamed = (from, to) => {
      if (this.key !== from) return;
      history.replaceState(null, '', `#${to}`);
      this.key = to;
    };
    if (isOnePage()) void this.notebooks.ready.then(() => this.take('link', broughtDocument()));
    else this.route();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.route);
    window.removeEventListener('beforeunload', this.warn);
    window.removeEventListener('keydown', this.shortcut);
  }

  protected override updated(): void {
    const current = this.notebooks.get(this.key)?.history.document;
    document.title = current === undefined ? 'Two Thirds' : `${titleOf(current)} · Two Thirds`;
  }

  protected override render(): TemplateResult {
    const current = this.notebooks.get(this.key);
    return html`<header class=${this.dropping.isDropping ? 'on-screen dropping' : 'on-screen'}>
        <a class="home" href="#" aria-label="Two Thirds, to the start page">${mark}Two Thirds</a>
        <div class="commands" role="group" aria-label="Commands">
          ${current === undefined ? nothing : this.commands(current)}
          <button @click=${() => this.theme.next()}>theme: ${this.theme.theme}</button>
        </div>
      </header>
      <tt-notices
        .notices=${this.notices.all}
        .drop=${(about: string) => {
          this.notices.drop(about);
          void this.keepFocus();
        }}
      ></tt-notices>
      ${this.place(current)}
      <input type="file" hidden accept=".json,application/json" aria-label="page to open" @change=${this.fileChosen} />`;
  }

  private place(current: OpenNotebook | undefined): TemplateResult | typeof nothing {
    if (this.isLooking) return nothing;
    if (current === undefined) {
      return html`<tt-start
        .entries=${this.exampleEntries()}
        .opening=${opening}
        .own=${this.ownEntries()}
        .keepsOwn=${this.notebooks.keeps}
        .begin=${() => this.go(this.notebooks.create(emptyPage))}
        .choose=${() => void this.chooseFile()}
        .takeOut=${(key: string) => void this.notebooks.remove(key).then(() => this.keepFocus())}
      ></tt-start>`;
    }
    return html`<tt-notebook
      .key=${current.key}
      .opened=${current.opened}
      .history=${live(current.history)}
      .predictions=${current.predictions}
      .folded=${live(current.folded)}
      @tt-history=${(event: HistoryEvent) => this.notebooks.change(this.key, { history: event.history })}
      @tt-folded=${(event: FoldedEvent) => this.notebooks.change(this.key, { folded: event.folded })}
      @tt-prediction=${this.predict}
    ></tt-notebook>`;
  }

  private commands(current: OpenNotebook): TemplateResult {
    const { past, future, document } = current.history;
    const { file, kept } = current;
    return html`${kept === undefined ? nothing : html`<span class="kept">kept ${timeWords(kept, Date.now())}</span>`}
      <button aria-disabled=${past.length === 0} @click=${() => this.undo(current)}>
        undo${past.length === 0 ? nothing : `: ${past.at(-1)?.label ?? ''}`}
      </button>
      <button aria-disabled=${future.length === 0} @click=${() => this.redo(current)}>
        redo${future.length === 0 ? nothing : `: ${future[0]?.label ?? ''}`}
      </button>
      ${
        file === undefined
          ? nothing
          : html`<button @click=${() => void this.files.save(current)}>save to ${file.name}</button>`
      }
      <button @click=${() => void this.files.saveAs(current)}>save as file</button>
      ${
        isOnePage() ? nothing : html`<button @click=${() => void this.files.shareLink(document)}>share as link</button>`
      }
      <button @click=${() => void this.files.sharePage(document)}>share as web page</button>`;
  }

  private exampleEntries(): StartEntry[] {
    return examples.map(({ key, text }) => {
      const summary = this.notebooks.summaries.find((each) => each.key === key);
      const original = JSON.parse(text) as Json;
      return {
        key,
        title: summary?.title ?? titleOf(original),
        introduction: summary?.introduction ?? introduction(original),
        changed: summary === undefined ? undefined : timeWords(summary.changed, Date.now()),
      };
    });
  }

  private ownEntries(): StartEntry[] {
    return this.notebooks.summaries
      .filter(({ key }) => !examples.some((example) => example.key === key))
      .map(({ key, title, introduction: about, changed }) => ({
        key,
        title,
        introduction: about,
        changed: timeWords(changed, Date.now()),
      }));
  }

  /** What had the focus may have gone with what it stood in: it goes to what can be done about that, else to the head. */
  private async keepFocus(): Promise<void> {
    await this.updateComplete;
    const lines = this.renderRoot.querySelector<LitElement>('tt-notices');
    await lines?.updateComplete;
    const start = this.renderRoot.querySelector<LitElement>('tt-start');
    await start?.updateComplete;
    if (this.shadowRoot?.activeElement?.shadowRoot?.activeElement) return;
    const act = lines?.shadowRoot?.querySelector<HTMLElement>('button.act');
    (act ?? this.renderRoot.querySelector<HTMLElement>('a.home'))?.focus();
  }

  private undo({ key, history: now, predictions }: OpenNotebook): void {
    const change = now.past.at(-1)?.prediction;
    this.notebooks.change(key, { history: undo(now), ...expecting(predictions, change?.cell, change?.before) });
  }

  private redo({ key, history: now, predictions }: OpenNotebook): void {
    const change = now.future[0]?.prediction;
    this.notebooks.change(key, { history: redo(now), ...expecting(predictions, change?.cell, change?.after) });
  }

  private readonly predict = ({ cell, prediction, label }: PredictionEvent): void => {
    const current = this.notebooks.get(this.key);
    if (current === undefined) return;
    const { history: now, predictions } = current;
    const before = predictions[cell];
    const step =
      label === undefined || before === undefined
        ? {}
        : { history: recordPrediction(now, { cell, before, after: prediction }, label) };
    this.notebooks.change(this.key, { ...step, ...expecting(predictions, cell, prediction) });
  };

  private readonly route = (): void => {
    void this.follow(fragment());
  };

  /** Opens what the address names; what cannot be opened leads to the start page and says why. */
  private async follow(key: string): Promise<void> {
    if (key.startsWith(SHARED)) {
      await this.notebooks.ready;
      this.take('link', await unpackDocument(key));
      return;
    }
    const example = examples.find((each) => each.key === key);
    const original = example === undefined ? undefined : (JSON.parse(example.text) as Json);
    const refusal = key === '' ? undefined : await this.notebooks.bring(key, original);
    await this.notebooks.ready;
    // Meanwhile somebody may have gone elsewhere.
    if (key !== fragment()) return;
    this.isLooking = false;
    if (key !== this.key) for (const about of ['link', 'saved']) this.notices.drop(about);
    if (refusal !== undefined) this.notices.say({ about: 'refused', text: refusal, isUrgent: true });
    this.key = this.notebooks.get(key) === undefined ? '' : key;
    this.notebooks.look(this.key);
    window.scrollTo(0, 0);
  }

  /** Goes on with a document that was read, as a notebook of its own, or says why it cannot be used. */
  private take(from: 'file' | 'link', read: OpenedFile, file?: FileSystemFileHandle): void {
    if ('complaint' in read) {
      this.notices.say({ about: 'refused', text: read.complaint, isUrgent: true });
      if (from === 'link') this.go('');
      return;
    }
    this.notices.drop('refused');
    this.go(this.notebooks.create(read.document, file), from === 'link');
  }

  private go(key: string, inPlace = key === ''): void {
    if (inPlace) history.replaceState(null, '', `#${key}`);
    else location.hash = key;
    void this.follow(key);
  }

  private async chooseFile(): Promise<void> {
    const chosen = await pickFile();
    if (chosen === 'by hand') this.renderRoot.querySelector<HTMLInputElement>('input[type=file]')?.click();
    else if (chosen !== undefined) this.take('file', await readFile(chosen.file), chosen.handle);
  }

  private readonly fileChosen = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    const [file] = input.files ?? [];
    input.value = '';
    if (file !== undefined) void readFile(file).then((read) => this.take('file', read));
  };

  private async openDropped(file: File, asking: Promise<FileSystemHandle | null> | undefined): Promise<void> {
    const handle = await asking?.catch(() => null);
    this.take('file', await readFile(file), handle instanceof FileSystemFileHandle ? handle : undefined);
  }

  private readonly shortcut = (event: KeyboardEvent): void => {
    const current = this.notebooks.get(this.key);
    const inText = event
      .composedPath()
      .some((each) => each instanceof HTMLInputElement || each instanceof HTMLTextAreaElement);
    if (current === undefined || !(event.ctrlKey || event.metaKey) || event.altKey) return;
    const letter = event.key.toLowerCase();
    if (letter === 's') void this.files.save(current);
    else if (inText) return;
    else if (letter === 'z') {
      if (event.shiftKey) this.redo(current);
      else this.undo(current);
    } else if (letter === 'y') this.redo(current);
    else return;
    event.preventDefault();
  };

  private readonly warn = (event: BeforeUnloadEvent): void => {
    if (this.notebooks.wouldLose) event.preventDefault();
  };
}

/** What a reader expects once it is another for one cell; nothing where it is for none. */
function expecting(
  predictions: Predictions,
  cell: string | undefined,
  prediction: Prediction | undefined,
): { readonly predictions?: Predictions } {
  return cell === undefined || prediction === undefined ? {} : { predictions: { ...predictions, [cell]: prediction } };
}

/** The mark: a capacitor on its way past two thirds. */
const mark = html`<svg class="mark" viewBox="0 0 24 24" aria-hidden="true">
  <line x1="2" x2="22" y1="8.5" y2="8.5" />
  <path d="M2.5 21C6 13.5 10 9.5 15 7.2M15 7.2V21M15 21H21.5" />
</svg>`;

function openingPage(): OpeningPage | undefined {
  const [example] = examples;
  if (example === undefined) return undefined;
  const page = JSON.parse(example.text) as Json;
  return { key: example.key, title: titleOf(page), page };
}
