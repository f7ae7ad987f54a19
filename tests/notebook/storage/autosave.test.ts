import { Autosave } from '#notebook/storage/autosave.ts';
import type { KeptNotebook } from '#notebook/storage/kept-notebook.ts';
import { MemoryStore, type Written } from '#notebook/storage/notebook-store.ts';
import { describe, expect, test, vi } from 'vitest';
import { keptNotebook } from './kept-notebooks.ts';

function listener() {
  return { kept: vi.fn(), overtaken: vi.fn(), failed: vi.fn() };
}

/** A store that counts writes, and can be made to refuse them. */
class WatchedStore extends MemoryStore {
  writes = 0;
  refuses = false;

  override write(notebook: KeptNotebook, revision: number): Promise<Written> {
    this.writes += 1;
    return this.refuses ? Promise.reject(new Error('no room')) : super.write(notebook, revision);
  }
}

/** Waits for what a busy machine does late. */
const soon = (check: () => unknown): Promise<unknown> => vi.waitFor(check, { timeout: 10_000 });

const titled = (title: string) => keptNotebook({ title });

describe('Autosave', () => {
  test('writes the first change at once and of many changes the newest', async () => {
    const store = new WatchedStore();
    const heard = listener();
    const autosave = new Autosave(store, heard, 5);
    autosave.begin('page-1', 0);
    for (let turn = 0; turn < 50; turn += 1) autosave.keep(titled(`turn ${turn}`));
    await soon(() => expect(autosave.hasPending).toBe(false));
    expect(await store.read('page-1')).toMatchObject({ title: 'turn 49' });
    expect(store.writes).toBeLessThanOrEqual(2);
  });

  test('of two windows with the same notebook the second is told and writes nothing', async () => {
    const store = new MemoryStore();
    const [first, second] = [listener(), listener()];
    const [one, two] = [new Autosave(store, first, 1), new Autosave(store, second, 1)];
    one.begin('page-1', 0);
    two.begin('page-1', 0);
    one.keep(titled('from the first'));
    await soon(() => expect(first.kept).toHaveBeenCalled());
    two.keep(titled('from the second'));
    await soon(() => expect(second.overtaken).toHaveBeenCalledWith(titled('from the second')));
    two.keep(titled('and once more'));
    expect(await store.read('page-1')).toMatchObject({ title: 'from the first' });
    expect(two.hasPending).toBe(false);
  });

  test('a window that begins with what the other wrote goes on from there', async () => {
    const store = new MemoryStore();
    const heard = listener();
    await store.write(titled('first'), 0);
    const autosave = new Autosave(store, heard, 1);
    autosave.begin('page-1', 1);
    autosave.keep(titled('second'));
    await soon(() => expect(heard.kept).toHaveBeenCalledWith('page-1', 2, 1000));
  });

  test('a write that fails is told, stays pending, and is made up for by the next change', async () => {
    const store = new WatchedStore();
    const heard = listener();
    const autosave = new Autosave(store, heard, 1);
    autosave.begin('page-1', 0);
    store.refuses = true;
    autosave.keep(titled('lost?'));
    await soon(() => expect(heard.failed).toHaveBeenCalledWith('page-1', 'no room'));
    expect(autosave.hasPending).toBe(true);
    store.refuses = false;
    autosave.keep(titled('not lost'));
    await soon(() => expect(heard.kept).toHaveBeenCalled());
    expect(await store.read('page-1')).toMatchObject({ title: 'not lost' });
  });

  test('a change that comes right as a write has ended is written too', async () => {
    const store = new WatchedStore();
    const heard = listener();
    const autosave = new Autosave(store, heard, 1);
    autosave.begin('page-1', 0);
    heard.failed.mockImplementation(() => {
      store.refuses = false;
      queueMicrotask(() => autosave.keep(titled('right after')));
    });
    store.refuses = true;
    autosave.keep(titled('one'));
    await soon(async () => expect(await store.read('page-1')).toMatchObject({ title: 'right after' }));
  });

  test('what was ended is not written any more', async () => {
    const store = new WatchedStore();
    const autosave = new Autosave(store, listener(), 1);
    autosave.begin('page-1', 0);
    autosave.keep(titled('one'));
    await autosave.end('page-1');
    autosave.keep(titled('two'));
    expect(store.writes).toBe(1);
  });

  test('hurry writes what waits without its pause', async () => {
    const store = new MemoryStore();
    const autosave = new Autosave(store, listener(), 60_000);
    autosave.begin('page-1', 0);
    autosave.keep(titled('one'));
    await soon(async () => expect(await store.read('page-1')).toMatchObject({ title: 'one' }));
    autosave.keep(titled('two'));
    autosave.hurry();
    await soon(async () => expect(await store.read('page-1')).toMatchObject({ title: 'two' }));
    autosave.hurry();
  });
});

describe('Autosave with a breath', () => {
  test('lets the first change wait for what it sets off, and writes it at once in a hurry', async () => {
    const store = new WatchedStore();
    const heard = listener();
    const autosave = new Autosave(store, heard, 1, 60_000);
    autosave.begin('page-1', 0);
    autosave.keep(titled('one'));
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect([store.writes, autosave.hasPending]).toEqual([0, true]);
    autosave.hurry();
    await soon(() => expect(heard.kept).toHaveBeenCalled());
    expect(await store.read('page-1')).toMatchObject({ title: 'one' });
  });
});

describe('MemoryStore', () => {
  test('list gives the one that was changed last first; remove takes one out', async () => {
    const store = new MemoryStore();
    await store.write(keptNotebook({ key: 'old', changed: 1 }), 0);
    await store.write(keptNotebook({ key: 'new', changed: 2 }), 0);
    expect((await store.list()).map(({ key }) => key)).toEqual(['new', 'old']);
    await store.remove('new');
    expect((await store.list()).map(({ key }) => key)).toEqual(['old']);
    expect(await store.read('new')).toBeUndefined();
  });
});
