import {
  type CaptureColumn,
  captureColumns,
  captureFiles,
  type CaptureOutcome,
  type CaptureRequest,
  parseDocument,
} from '@two-thirds/sim/document';
import type { LitElement, ReactiveController } from 'lit';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { addCell } from '../edit/page-edits.ts';
import { captureStart } from '../edit/starting-studies.ts';
import { CaptureFileEvent, type CaptureFileView, CaptureWatchEvent } from '../elements/capture-events.ts';
import { encodingOf, holdsRows, INLINE_MOST, isMeasurement, oneLine, rowsFrom } from '../runtime/capture-text.ts';
import { cellsOf, type PageCell, textField } from '../runtime/cells.ts';
import { MeasurementStore } from '../storage/measurement-store.ts';
import type { StartReader } from '../worker/start-reader.ts';

/** So much of a file tells its columns (bytes). */
const HEAD = 65_536;

/** What the files need of the open document. */
interface CaptureHost extends LitElement {
  readonly document: Json;
  /** Tells one open page from another. */
  readonly key: string;
  /** The board in hand. */
  readonly board: string | undefined;
  apply(edit: Edit): void;
}

/** What the page has of a file. */
interface KnownFile {
  /** None where only what was read of it is kept. */
  readonly file: File | undefined;
  /** Tells one file of this name from another. */
  readonly stamp: string;
  readonly head: readonly CaptureColumn[] | undefined;
  /** What was read, by what it was read for. */
  readonly outcomes: Map<string, CaptureOutcome>;
  reading: { readonly request: string; share: number; end(): void } | undefined;
  /** Whether it would have to be read again, but is not at hand. */
  isMissing: boolean;
}

/** What is to be known of the measurement of a cell before it can be computed. */
export type CaptureState =
  | { readonly what: 'ready'; readonly key: string; readonly outcome: CaptureOutcome | undefined }
  | { readonly what: 'reading' };

/**
 * The files of measurements that people choose or drop on the page. A small one is written into its cell; a large one
 * stays a file and is read by a worker in bounded memory. What was read is kept in the browser, by page and name.
 */
export class CaptureFiles implements ReactiveController {
  /** Called once a file is read that a cell waits for. */
  onRead: (cell: string) => void = () => undefined;
  private readonly host: CaptureHost;
  private readonly startReader: StartReader;
  private readonly store = new MeasurementStore();
  /** By page and name; `looking` while the browser is asked what it has kept. */
  private readonly known = new Map<string, KnownFile | 'looking'>();
  private watchers: CaptureWatchEvent[] = [];

  constructor(host: CaptureHost, startReader: StartReader) {
    this.host = host;
    this.startReader = startReader;
    host.addController(this);
  }

  /** Part of lit's controller contract. */
  hostConnected(): void {
    this.host.addEventListener(CaptureFileEvent.type, this.chosen);
    this.host.addEventListener(CaptureWatchEvent.type, this.watch);
    // Before the rest of the page, which takes every file for a page of its own.
    window.addEventListener('drop', this.drop, { capture: true });
  }

  /** Part of lit's controller contract: an element that leaves the page stops its work. */
  hostDisconnected(): void {
    this.host.removeEventListener(CaptureFileEvent.type, this.chosen);
    this.host.removeEventListener(CaptureWatchEvent.type, this.watch);
    window.removeEventListener('drop', this.drop, { capture: true });
    for (const file of this.known.values()) if (file !== 'looking') endReading(file);
  }

  /** What is known of the measurement of a cell; a file that was not read for it yet begins to be read. */
  stateOf(document: Json, cell: PageCell): CaptureState {
    const name = textField(cell.data, 'data') ?? '';
    const isNamed = cell.kind === 'capture' && name !== '' && !holdsRows(name);
    const { document: parsed } = isNamed ? parseDocument(JSON.stringify(document)) : {};
    const [wanted] = parsed === undefined ? [] : captureFiles(parsed, [cell.id]);
    // A cell at fault says what is wrong with it without its file.
    if (wanted === undefined) return nothing;
    const known = this.known.get(this.keyOf(name));
    if (known === undefined) void this.look(name, cell.id);
    if (known === undefined || known === 'looking') return { what: 'reading' };
    const request = requestText(wanted.request);
    const outcome = known.outcomes.get(request);
    known.isMissing = false;
    if (outcome !== undefined) return { what: 'ready', key: JSON.stringify([name, known.stamp, request]), outcome };
    if (known.file === undefined) {
      // It was read for other columns, and the file is not at hand.
      known.isMissing = true;
      this.tell(name);
      return nothing;
    }
    if (known.reading?.request !== request) this.read(name, known, known.file, wanted.request, cell.id);
    return { what: 'reading' };
  }

  /** Asks the browser for what it has kept of a file. */
  private async look(name: string, cell: string): Promise<void> {
    const key = this.keyOf(name);
    this.known.set(key, 'looking');
    const kept = await this.store.read(key);
    // Meanwhile somebody may have chosen the file.
    if (this.known.get(key) === 'looking') {
      const outcomes = new Map(kept === undefined ? [] : [[kept.request, kept.outcome]]);
      const stamp = `kept ${kept?.read ?? 0}`;
      const isMissing = kept === undefined;
      this.known.set(key, { file: undefined, stamp, head: kept?.head, outcomes, reading: undefined, isMissing });
    }
    this.tell(name);
    this.onRead(cell);
  }

  private read(name: string, known: KnownFile, file: File, request: CaptureRequest, cell: string): void {
    const key = this.keyOf(name);
    const text = requestText(request);
    endReading(known);
    const end = this.startReader(file, request, {
      share: (share) => {
        if (known.reading?.request !== text) return;
        known.reading.share = share;
        this.tell(name);
      },
      done: (outcome) => {
        if (known.reading?.request !== text) return;
        known.reading = undefined;
        known.outcomes.set(text, outcome);
        if (outcome.ok) void this.store.write({ key, request: text, outcome, head: known.head, read: Date.now() });
        this.tell(name);
        this.onRead(cell);
      },
    });
    known.reading = { request: text, share: 0, end };
    this.tell(name);
  }

  /** A file is known by its name on a page: two pages may have files of one name. */
  private keyOf(name: string): string {
    return JSON.stringify([this.host.key, name]);
  }

  private readonly chosen = (event: Event): void => {
    if (!(event instanceof CaptureFileEvent)) return;
    event.stopPropagation();
    void this.take(event.file, event.cell, undefined);
  };

  private readonly watch = (event: Event): void => {
    if (!(event instanceof CaptureWatchEvent)) return;
    event.stopPropagation();
    this.watchers = [...this.watchers.filter(({ element }) => element !== event.element), event];
    event.heard(this.viewOf(event.name));
  };

  private readonly drop = (event: DragEvent): void => {
    const [file] = event.dataTransfer?.files ?? [];
    if (file === undefined || !isMeasurement(file) || this.host.board === undefined) return;
    event.preventDefault();
    const on = event
      .composedPath()
      .find((each): each is Element => each instanceof Element && each.localName === 'tt-cell');
    const cell = cellsOf(this.host.document).find(({ id }) => id === on?.id);
    void this.take(file, cell?.kind === 'capture' ? cell.id : undefined, cell);
  };

  /** Gives a file to a cell; without one, to a new cell for the board in hand, below where it was dropped. */
  private async take(file: File, id: string | undefined, below: PageCell | undefined): Promise<void> {
    const name = oneLine(file.name);
    const data = file.size <= INLINE_MOST ? rowsFrom(name, await textOf(file)) : name;
    if (!holdsRows(data)) {
      const before = this.known.get(this.keyOf(name));
      if (before !== undefined && before !== 'looking') endReading(before);
      const head = captureColumns(await textOf(file.slice(0, HEAD)));
      const stamp = `${file.lastModified} ${file.size}`;
      this.known.set(this.keyOf(name), {
        file,
        stamp,
        head,
        outcomes: new Map(),
        reading: undefined,
        isMissing: false,
      });
      this.tell(name);
    }
    const { host } = this;
    const { document, board } = host;
    const cells = cellsOf(document);
    const cell = cells.find((each) => each.id === id);
    const label = `measurement ${name}`;
    if (cell !== undefined) {
      host.apply({ path: ['page', cell.index, 'data'], value: data, label });
      // The same name as before may stand for another file.
      this.onRead(cell.id);
      return;
    }
    const content = captureStart(document, board);
    if (content === undefined) return;
    const position = (below ?? cells.at(-1))?.index ?? -1;
    const { edit, focus } = addCell(document, position + 1, 'capture', { ...content, data });
    host.apply({ ...edit, label });
    await this.show(focus);
  }

  /** Brings a new cell into sight, with the focus in its margin. */
  private async show(id: string | undefined): Promise<void> {
    // The change comes back to the host by way of whoever keeps the document.
    await new Promise((resolve) => setTimeout(resolve));
    await this.host.updateComplete;
    const cell = this.host.renderRoot.querySelector<LitElement>(`tt-cell#${CSS.escape(id ?? '')}`);
    await cell?.updateComplete;
    cell?.shadowRoot?.querySelector<HTMLElement>('tt-margin')?.focus();
    cell?.scrollIntoView({ block: 'center' });
  }

  private tell(name: string): void {
    this.watchers = this.watchers.filter(({ element }) => element.isConnected);
    for (const watcher of this.watchers) if (watcher.name === name) watcher.heard(this.viewOf(name));
  }

  private viewOf(name: string): CaptureFileView | undefined {
    const known = this.known.get(this.keyOf(name));
    if (known === undefined || known === 'looking') return undefined;
    return known.isMissing ? undefined : { head: known.head, share: known.reading?.share };
  }
}

const nothing: CaptureState = { what: 'ready', key: '', outcome: undefined };

/** Everything that reading a file depends on, as text. */
function requestText(request: CaptureRequest): string {
  return JSON.stringify({ ...request, nets: [...(request.nets ?? [])] });
}

/** Ends the reading of a file, if it is being read. */
function endReading(file: KnownFile): void {
  file.reading?.end();
  file.reading = undefined;
}

async function textOf(part: Blob): Promise<string> {
  const bytes = new Uint8Array(await part.arrayBuffer());
  return new TextDecoder(encodingOf(bytes)).decode(bytes);
}
