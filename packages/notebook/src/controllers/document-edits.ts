import type { ReactiveControllerHost } from 'lit';
import { type Edit, type History, record, settle } from '../edit/history.ts';
import { FoldedEvent, HistoryEvent } from '../elements/events.ts';

/** What edits need of the open document they are made in. */
export interface EditedDocument extends ReactiveControllerHost, EventTarget {
  /** The document with its past and future. */
  history: History | undefined;
  /** Ids of the cells that are folded. */
  folded: readonly string[];
}

/**
 * Makes the edits of an open document and tells its owner of them. What an edit leads to is taken up at once, not only
 * once the owner hands it back for the page to be drawn: another edit may follow in between, and is made of it.
 */
export class DocumentEdits {
  private readonly host: EditedDocument;
  private readonly ahead: (history: History) => void;

  /** @param ahead is told what an edit leads to, before anything else is. */
  constructor(host: EditedDocument, ahead: (history: History) => void) {
    this.host = host;
    this.ahead = ahead;
  }

  /** Makes one edit of the document. */
  readonly apply = (edit: Edit): void => {
    const { history } = this.host;
    if (history !== undefined) this.take(record(history, edit));
  };

  /** Ends joining: the next edit is a step of undo of its own. */
  readonly settle = (): void => {
    const { history } = this.host;
    if (history !== undefined) this.take(settle(history));
  };

  /** Folds a cell to one line, or unfolds it. */
  fold(cell: string): void {
    const { folded } = this.host;
    this.takeFolded(folded.includes(cell) ? folded.filter((each) => each !== cell) : [...folded, cell]);
  }

  /** Lets folding follow a cell to its new name. */
  follow(cell: string, to: string): void {
    const { folded } = this.host;
    if (folded.includes(cell)) this.takeFolded([...folded, to]);
  }

  private take(history: History): void {
    if (history === this.host.history) return;
    this.ahead(history);
    this.host.history = history;
    this.host.dispatchEvent(new HistoryEvent(history));
  }

  private takeFolded(folded: readonly string[]): void {
    this.host.folded = folded;
    this.host.dispatchEvent(new FoldedEvent(folded));
  }
}
