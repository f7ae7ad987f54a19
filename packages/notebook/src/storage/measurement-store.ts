import type { CaptureColumn, CaptureOutcome } from '@two-thirds/sim/document';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { isOnePage } from './one-page.ts';

/** A database of its own: what is kept here can always be read anew from its file, pages cannot. */
const NAME = 'two-thirds-measurements';
const VERSION = 1;
/** Measurements that are kept, those that were read last: each takes up to a few megabytes. */
const KEPT = 20;

/** What was read of a file of measurements that is too long for its page. */
export interface KeptMeasurement {
  /** The page and the name of the file, as one text. */
  readonly key: string;
  /** What it was read for, as text: with other columns it has to be read again. */
  readonly request: string;
  readonly outcome: CaptureOutcome;
  readonly head: readonly CaptureColumn[] | undefined;
  /** When it was read (ms since 1970). */
  readonly read: number;
}

interface Tables extends DBSchema {
  measurements: { key: string; value: KeptMeasurement; indexes: { read: number } };
}

/**
 * Keeps what was read of long files in the browser, so that it is there again with the page. Where the browser keeps
 * nothing, nothing is kept: the file is then asked for again.
 */
export class MeasurementStore {
  private opening: Promise<IDBPDatabase<Tables> | undefined> | undefined;

  /** What is kept of a file; undefined where there is nothing. */
  async read(key: string): Promise<KeptMeasurement | undefined> {
    try {
      return await (await this.database())?.get('measurements', key);
    } catch {
      return undefined;
    }
  }

  /** Keeps what was read of a file, instead of what was kept of it before. */
  async write(measurement: KeptMeasurement): Promise<void> {
    try {
      const database = await this.database();
      if (database === undefined) return;
      const transaction = database.transaction('measurements', 'readwrite');
      await transaction.store.put(measurement, measurement.key);
      const keys = await transaction.store.index('read').getAllKeys();
      await Promise.all(keys.slice(0, -KEPT).map((key) => transaction.store.delete(key)));
      await transaction.done;
    } catch {
      // For want of room, for example.
    }
  }

  private database(): Promise<IDBPDatabase<Tables> | undefined> {
    // Browsers give all files of a disk one database: pages that have nothing to do with each other would meet in it.
    if (isOnePage()) return Promise.resolve(undefined);
    this.opening ??= openDB<Tables>(NAME, VERSION, {
      upgrade: (database) => {
        database.createObjectStore('measurements').createIndex('read', 'read');
      },
      blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
    }).catch(() => undefined);
    return this.opening;
  }
}
