import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { type History, openHistory, record } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { titleOf } from '../runtime/cells.ts';
import { introduction } from '../runtime/introduction.ts';
import type { Predictions } from '../runtime/predictions.ts';
import { Autosave } from '../storage/autosave.ts';
import { openStore } from '../storage/indexed-store.ts';
import { FORM, type KeptNotebook, type NotebookSummary, storedHistory } from '../storage/kept-notebook.ts';
import { MemoryStore, type NotebookStore } from '../storage/notebook-store.ts';
import { OpenWindows } from '../storage/open-windows.ts';
import { timeWords } from '../storage/times.ts';
import type { Notices } from './notices.ts';

/** An open notebook. It stays open, with all edits, while other pages are looked at. */
export interface OpenNotebook {
  readonly key: string;
  /** The document as it was opened. */
  readonly opened: Json;
  readonly history: History;
  readonly predictions: Predictions;
  readonly folded: readonly string[];
  readonly file?: FileSystemFileHandle;
  /** When its present state was kept (ms since 1970); undefined where it has not been kept yet. */
  readonly kept?: number;
}

/** What can change on an open notebook. */
export type NotebookChange = Partial<Pick<OpenNotebook, 'history' | 'predictions' | 'folded' | 'file'>>;

/** How long a change waits to be kept (ms): what a turned knob sets off on the page comes first. */
const BREATH = 50;

/**
 * The notebooks of this browser: those that are open, and those that are kept. Keeps every change, notices when another
 * window has changed the same notebook, and tells at the start which one a window that ended was working on.
 */
export class NotebooksController implements ReactiveController {
  /** All kept notebooks, the one that was changed last first. */
  summaries: readonly NotebookSummary[] = [];
  /** Settles when the browser's storage is open and listed. */
  readonly ready: Promise<void>;
  /** Called when a notebook goes on under another key: another window had been faster. */
  onRenamed: (from: string, to: string) => void = () => undefined;

  private readonly open = new Map<string, OpenNotebook>();
  private store: NotebookStore = new MemoryStore();
  private autosave = this.autosaveTo(this.store);
  private readonly windows = new OpenWindows();
  private readonly channel = 'BroadcastChannel' in window ? new BroadcastChannel('two-thirds') : undefined;
  private readonly host: ReactiveControllerHost;
  private readonly notices: Notices;

  constructor(host: ReactiveControllerHost, notices: Notices) {
    this.host = host;
    this.notices = notices;
    host.addController(this);
    this.ready = this.start();
  }

  /** Part of lit's controller contract: listens to the window and to the other windows. */
  hostConnected(): void {
    window.addEventListener('pagehide', this.close);
    document.addEventListener('visibilitychange', this.hurry);
    this.channel?.addEventListener('message', this.heard);
  }

  /** Part of lit's controller contract. */
  hostDisconnected(): void {
    window.removeEventListener('pagehide', this.close);
    document.removeEventListener('visibilitychange', this.hurry);
    this.channel?.removeEventListener('message', this.heard);
  }

  /** An open notebook. */
  get(key: string): OpenNotebook | undefined {
    return this.open.get(key);
  }

  /** Whether what is written outlasts the window. */
  get keeps(): boolean {
    return this.store.notKept === undefined;
  }

  /** Whether closing the window now would lose something. */
  get wouldLose(): boolean {
    if (this.keeps) return this.autosave.hasPending;
    return [...this.open.values()].some(
      ({ history, predictions }) => history.past.length > 0 || Object.keys(predictions).length > 0,
    );
  }

  /**
   * Opens a notebook that is kept, or the document that stands for this key where none is.
   *
   * @returns why it cannot be opened, if so.
   */
  async bring(key: string, original: Json | undefined): Promise<string | undefined> {
    await this.ready;
    if (this.open.has(key)) return undefined;
    const found = await this.store.read(key);
    if (found !== undefined && 'refusal' in found) return found.refusal;
    if (found !== undefined) this.take(found);
    else if (original === undefined)
      return 'No page is kept here under this address. It may be kept in another browser.';
    else {
      this.autosave.begin(key, 0);
      this.open.set(key, { key, opened: original, history: openHistory(original), predictions: {}, folded: [] });
    }
    return undefined;
  }

  /** Makes a notebook of a document and keeps it. Returns its key. */
  create(document: Json, file?: FileSystemFileHandle): string {
    const key = newKey();
    this.autosave.begin(key, 0);
    const made = { key, opened: document, history: openHistory(document), predictions: {}, folded: [] };
    this.set({ ...made, ...(file === undefined ? {} : { file }) });
    return key;
  }

  /** Takes up a change of an open notebook, and keeps it. */
  change(key: string, change: NotebookChange): void {
    const before = this.open.get(key);
    if (before === undefined) return;
    // An undo where there is nothing to undo must not make a page of one's own out of an example.
    const isNew = Object.entries(change).some(([field, value]) => before[field as keyof NotebookChange] !== value);
    if (isNew) this.set({ ...before, ...change });
  }

  /** Takes a notebook out of the browser, and offers to bring it back. */
  async remove(key: string): Promise<void> {
    await this.ready;
    const removed = await this.store.read(key);
    await this.autosave.end(key);
    await this.store.remove(key);
    this.open.delete(key);
    await this.list();
    this.channel?.postMessage({ key });
    if (removed === undefined || 'refusal' in removed) return;
    this.notices.say({
      about: 'removed',
      text: `“${removed.title}” was deleted.`,
      isUrgent: false,
      action: { words: 'bring it back', act: () => void this.restore(removed) },
    });
  }

  /** Tells which notebook is looked at now, so that a window that ends is told of only if one was. */
  look(key: string): void {
    if (key === '') this.windows.close();
  }

  private async restore(removed: KeptNotebook): Promise<void> {
    await this.store.write(removed, 0);
    this.notices.drop('removed');
    await this.list();
  }

  private async start(): Promise<void> {
    this.store = await openStore();
    this.autosave = this.autosaveTo(this.store);
    const { notKept } = this.store;
    if (notKept !== undefined) this.notices.say({ about: 'storage', text: notKept, isUrgent: false });
    await this.list();
    // Nothing can have been kept by other windows either.
    const ended = notKept === undefined ? await this.windows.ended() : [];
    for (const { key, title, kept } of ended) {
      if (!this.summaries.some((summary) => summary.key === key)) continue;
      this.notices.say({
        about: `ended ${key}`,
        text: `A window with “${title}” ended without being closed. The page is kept as it was at ${timeWords(kept, Date.now())}.`,
        isUrgent: false,
        action: {
          words: 'go on with it',
          act: () => {
            location.hash = key;
            this.notices.drop(`ended ${key}`);
          },
        },
      });
    }
  }

  private async list(): Promise<void> {
    this.summaries = await this.store.list();
    this.host.requestUpdate();
  }

  private take(found: KeptNotebook): void {
    const { key, opened, history, predictions, folded, changed, file } = found;
    this.autosave.begin(key, found.revision);
    const taken = { key, opened, history, predictions, folded, kept: changed };
    this.open.set(key, file === undefined ? taken : { ...taken, file });
    this.host.requestUpdate();
  }

  private set(notebook: OpenNotebook): void {
    this.open.set(notebook.key, notebook);
    this.autosave.keep(toKept(notebook));
    this.host.requestUpdate();
  }

  private autosaveTo(store: NotebookStore): Autosave {
    return new Autosave(
      store,
      {
        kept: (key, revision, changed) => {
          const notebook = this.open.get(key);
          if (notebook === undefined) return;
          void this.list();
          // What lasts as long as the window is not called kept.
          if (store.notKept !== undefined) return;
          this.open.set(key, { ...notebook, kept: changed });
          this.windows.note({ key, title: titleOf(notebook.history.document), kept: changed });
          this.notices.drop(`failed ${key}`);
          this.channel?.postMessage({ key, revision });
        },
        overtaken: (notebook) => this.keepBoth(notebook.key),
        failed: (key, reason) =>
          this.notices.say({
            about: `failed ${key}`,
            text: `The last change could not be kept in this browser (${reason}). Save the page as a file.`,
            isUrgent: true,
          }),
      },
      undefined,
      BREATH,
    );
  }

  /** Another window wrote this notebook first: this window's state becomes a notebook of its own. */
  private keepBoth(key: string): void {
    const mine = this.open.get(key);
    if (mine === undefined) return;
    const before = titleOf(mine.history.document);
    const title = `${before} (second version)`;
    const history = record(mine.history, { path: ['title'], value: title, label: 'keep as a second page' });
    const copy = newKey();
    this.open.delete(key);
    this.autosave.begin(copy, 0);
    const { opened, predictions, folded } = mine;
    this.set({ key: copy, opened, predictions, folded, history });
    this.notices.say({
      about: `both ${copy}`,
      text: `“${before}” was changed or deleted in another window. This window’s state is kept as well and goes on as “${title}”.`,
      isUrgent: true,
    });
    this.onRenamed(key, copy);
  }

  private readonly heard = ({ data }: MessageEvent<{ key: string; revision?: number }>): void => {
    void this.list();
    const { key, revision } = data;
    // What is being written here is compared when it is written; nothing may be overwritten in between.
    if (revision === undefined || !this.open.has(key) || this.autosave.isPending(key)) return;
    void this.store.read(key).then((found) => {
      if (found === undefined || 'refusal' in found || this.autosave.isPending(key)) return;
      this.take(found);
      const text = 'Brought up to date with what was written in another window.';
      this.notices.say({ about: `updated ${key}`, text, isUrgent: false });
    });
  };

  private readonly close = (): void => {
    this.autosave.hurry();
    this.windows.close();
  };

  private readonly hurry = (): void => {
    if (document.visibilityState === 'hidden') this.autosave.hurry();
  };
}

function toKept({ key, opened, history, predictions, folded, file }: OpenNotebook): KeptNotebook {
  return {
    key,
    form: FORM,
    revision: 0,
    changed: Date.now(),
    title: titleOf(history.document),
    introduction: introduction(history.document),
    opened,
    history: storedHistory(history),
    predictions,
    folded,
    ...(file === undefined ? {} : { file }),
  };
}

function newKey(): string {
  return `page-${crypto.randomUUID().slice(0, 13)}`;
}
