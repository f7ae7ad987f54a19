import type { KeptNotebook } from './kept-notebook.ts';
import type { NotebookStore } from './notebook-store.ts';

/** What autosave tells. */
export interface AutosaveListener {
  /** A notebook is kept as it was at this time. */
  kept(key: string, revision: number, changed: number): void;
  /** Another window wrote the notebook first; this state of it was not written. */
  overtaken(notebook: KeptNotebook): void;
  /** It could not be kept; the next change tries again. */
  failed(key: string, reason: string): void;
}

/** The shortest time between two writes of one notebook (ms): a turning knob changes it sixty times a second. */
const PAUSE = 250;

interface Line {
  revision: number;
  wanted: KeptNotebook | undefined;
  writing: Promise<void> | undefined;
  /** Set once another window was first: nothing more is written under this key from here. */
  isOvertaken: boolean;
}

/** Writes every change of a notebook soon, one write at a time, the newest state only. */
export class Autosave {
  private readonly pauses = new Set<() => void>();
  private readonly lines = new Map<string, Line>();
  private readonly store: NotebookStore;
  private readonly listener: AutosaveListener;
  private readonly pause: number;
  private readonly breath: number;

  /**
   * @param pause the shortest time between two writes of one notebook (ms).
   * @param breath how long a first change waits for what it sets off on the page (ms).
   */
  constructor(store: NotebookStore, listener: AutosaveListener, pause = PAUSE, breath = 0) {
    this.store = store;
    this.listener = listener;
    this.pause = pause;
    this.breath = breath;
  }

  /** Begins with a notebook that is kept already in this revision (0: not kept yet). */
  begin(key: string, revision: number): void {
    this.lines.set(key, { revision, wanted: undefined, writing: undefined, isOvertaken: false });
  }

  /** Takes a new state of a notebook, to be written soon. */
  keep(notebook: KeptNotebook): void {
    const line = this.lines.get(notebook.key);
    if (line === undefined || line.isOvertaken) return;
    line.wanted = notebook;
    line.writing ??= this.write(line);
  }

  /** Forgets a notebook: what was to be written of it is not. */
  async end(key: string): Promise<void> {
    const line = this.lines.get(key);
    this.lines.delete(key);
    if (line === undefined) return;
    line.wanted = undefined;
    line.isOvertaken = true;
    await line.writing;
  }

  /** Writes what waits without a pause: the window may be about to go. */
  hurry(): void {
    for (const end of this.pauses) end();
  }

  /** Whether a change of this notebook waits to be written. */
  isPending(key: string): boolean {
    return this.lines.get(key)?.wanted !== undefined;
  }

  /** Whether any change waits to be written. */
  get hasPending(): boolean {
    return [...this.lines.keys()].some((key) => this.isPending(key));
  }

  private async write(line: Line): Promise<void> {
    try {
      if (this.breath > 0) await this.rest(this.breath);
      while (line.wanted !== undefined) {
        const { wanted } = line;
        const isWritten = await this.writeOnce(line, wanted);
        // What could not be kept is tried again with the next change, which may have come meanwhile.
        if (!isWritten && line.wanted === wanted) return;
        await this.rest(this.pause);
      }
    } finally {
      // At once, with nothing in between: a change that comes now begins to be written anew.
      line.writing = undefined;
    }
  }

  /** Writes one state; false where it could not be written. */
  private async writeOnce(line: Line, notebook: KeptNotebook): Promise<boolean> {
    try {
      const written = await this.store.write(notebook, line.revision);
      if (written.outcome === 'overtaken') {
        const newest = line.wanted ?? notebook;
        line.isOvertaken = true;
        line.wanted = undefined;
        this.listener.overtaken(newest);
        return false;
      }
      line.revision = written.revision;
      // A newer state may have come while this one was written.
      if (line.wanted === notebook) line.wanted = undefined;
      this.listener.kept(notebook.key, written.revision, notebook.changed);
      return true;
    } catch (error) {
      this.listener.failed(notebook.key, error instanceof Error ? error.message : String(error));
      return false;
    }
  }

  private rest(time: number): Promise<void> {
    return new Promise((resolve) => {
      const end = (): void => {
        this.pauses.delete(end);
        resolve();
      };
      this.pauses.add(end);
      setTimeout(end, time);
    });
  }
}
