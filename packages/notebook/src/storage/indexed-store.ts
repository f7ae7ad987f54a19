import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { type KeptNotebook, type NotebookSummary, readKept, summaryOf } from './kept-notebook.ts';
import { MemoryStore, newestFirst, type NotebookStore, type ReadNotebook, type Written } from './notebook-store.ts';
import { isOnePage } from './one-page.ts';

/** Name and version of the database. A later version of the program that changes its tables raises the version. */
const NAME = 'two-thirds';
const VERSION = 1;
/** How long the browser may take to open it (ms); some never answer in private windows. */
const PATIENCE = 3000;

interface Tables extends DBSchema {
  notebooks: { key: string; value: KeptNotebook };
  summaries: { key: string; value: NotebookSummary };
}

/** Notebooks in the browser's own database. Summaries stand apart, so that a list need not read every notebook. */
class IndexedStore implements NotebookStore {
  readonly notKept = undefined;
  private readonly database: IDBPDatabase<Tables>;

  constructor(database: IDBPDatabase<Tables>) {
    this.database = database;
  }

  async list(): Promise<readonly NotebookSummary[]> {
    return newestFirst(await this.database.getAll('summaries'));
  }

  async read(key: string): Promise<ReadNotebook | undefined> {
    const found: unknown = await this.database.get('notebooks', key);
    return found === undefined ? undefined : readKept(found);
  }

  async write(notebook: KeptNotebook, revision: number): Promise<Written> {
    const transaction = this.database.transaction(['notebooks', 'summaries'], 'readwrite', { durability: 'strict' });
    const summaries = transaction.objectStore('summaries');
    const kept = await summaries.get(notebook.key);
    if ((kept?.revision ?? 0) !== revision) {
      await transaction.done;
      return { outcome: 'overtaken' };
    }
    const written = { ...notebook, revision: revision + 1 };
    await Promise.all([
      transaction.objectStore('notebooks').put(written, notebook.key),
      summaries.put(summaryOf(written), notebook.key),
      transaction.done,
    ]);
    return { outcome: 'kept', revision: revision + 1 };
  }

  async remove(key: string): Promise<void> {
    const transaction = this.database.transaction(['notebooks', 'summaries'], 'readwrite');
    await Promise.all([
      transaction.objectStore('notebooks').delete(key),
      transaction.objectStore('summaries').delete(key),
      transaction.done,
    ]);
  }
}

/**
 * Opens the browser's database; where it cannot be used, a store that lasts as long as the window, which says so. A
 * database of a later version is left untouched.
 */
export async function openStore(): Promise<NotebookStore> {
  if (isOnePage()) {
    // Browsers give all files of a disk one database: pages that have nothing to do with each other would meet in it.
    return new MemoryStore(
      'This page is one file and works without a network. What you change lasts as long as this window: save it as a file, or share it as a web page again.',
    );
  }
  try {
    const opening = openDB<Tables>(NAME, VERSION, {
      upgrade: (database) => {
        database.createObjectStore('notebooks');
        database.createObjectStore('summaries');
      },
      // Another window wants to bring the tables up to date; this one must not stand in its way.
      blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
    });
    return new IndexedStore(await Promise.race([opening, patience()]));
  } catch (error) {
    const isLater = error instanceof DOMException && error.name === 'VersionError';
    return new MemoryStore(
      isLater
        ? 'A later version of Two Thirds keeps its pages in this browser; they stay untouched. What you write here lasts as long as this window: save it as a file.'
        : 'This browser lets Two Thirds keep nothing: what you write lasts as long as this window. Save it as a file.',
    );
  }
}

function patience(): Promise<never> {
  return new Promise((_, reject) => {
    setTimeout(() => reject(new Error('the database must open')), PATIENCE);
  });
}
