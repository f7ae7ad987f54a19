import { type KeptNotebook, type NotebookSummary, readKept, summaryOf } from './kept-notebook.ts';

/** What reading a notebook gives: the notebook, or why it cannot be used (it then stays as it is). */
export type ReadNotebook = KeptNotebook | { readonly refusal: string };

/** What became of a notebook that was to be written. */
export type Written =
  | { readonly outcome: 'kept'; readonly revision: number }
  /** Somebody else wrote it meanwhile; nothing was written. */
  | { readonly outcome: 'overtaken' };

/**
 * Where notebooks are kept. Implementers guarantee that `write` compares and writes as one step, so that of two
 * windows with the same notebook the second is told instead of overwriting the first.
 */
export interface NotebookStore {
  /** Whether what is written outlasts the window; if not, why not, as a sentence for people. */
  readonly notKept: string | undefined;
  /** All notebooks, the one that was changed last first. */
  list(): Promise<readonly NotebookSummary[]>;
  /** One notebook; `undefined` where there is none of this key. */
  read(key: string): Promise<ReadNotebook | undefined>;
  /**
   * Writes a notebook if the one that is kept has still this revision (0: if none is kept).
   *
   * @throws where the browser refuses, for example for want of room.
   */
  write(notebook: KeptNotebook, revision: number): Promise<Written>;
  /** Takes a notebook out. */
  remove(key: string): Promise<void>;
}

/** Sorts summaries, the one that was changed last first. */
export function newestFirst(summaries: readonly NotebookSummary[]): readonly NotebookSummary[] {
  return [...summaries].sort((a, b) => b.changed - a.changed);
}

/** Keeps notebooks as long as the window is open: for browsers, and windows, that let a page keep nothing. */
export class MemoryStore implements NotebookStore {
  readonly notKept: string | undefined;
  private readonly notebooks = new Map<string, unknown>();

  constructor(notKept?: string) {
    this.notKept = notKept;
  }

  list(): Promise<readonly NotebookSummary[]> {
    return Promise.resolve(newestFirst([...this.notebooks.values()].map((each) => summaryOf(each as KeptNotebook))));
  }

  read(key: string): Promise<ReadNotebook | undefined> {
    const found = this.notebooks.get(key);
    return Promise.resolve(found === undefined ? undefined : readKept(found));
  }

  write(notebook: KeptNotebook, revision: number): Promise<Written> {
    const kept = this.notebooks.get(notebook.key) as KeptNotebook | undefined;
    if ((kept?.revision ?? 0) !== revision) return Promise.resolve({ outcome: 'overtaken' });
    this.notebooks.set(notebook.key, { ...notebook, revision: revision + 1 });
    return Promise.resolve({ outcome: 'kept', revision: revision + 1 });
  }

  remove(key: string): Promise<void> {
    this.notebooks.delete(key);
    return Promise.resolve();
  }
}
