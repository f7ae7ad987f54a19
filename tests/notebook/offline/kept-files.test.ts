import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answer, keepAll } from '#notebook/offline/kept-files.ts';

const folder = 'https://club.example/notebook/';

/** A cache that holds these files of the folder, each with its name as content. */
function cacheOf(...names: string[]) {
  const open = () =>
    Promise.resolve({
      match: (wanted: RequestInfo | URL) => {
        const address = wanted instanceof Request ? wanted.url : String(wanted);
        const name = address.slice(folder.length);
        return Promise.resolve(names.includes(name) ? new Response(`kept ${name}`) : undefined);
      },
    });
  return open;
}

/** A request as a page makes it; the mode of one that opens a page cannot be given to a constructor. */
function request(name: string, mode: RequestMode = 'cors'): Request {
  const made = new Request(new URL(name, folder));
  Object.defineProperty(made, 'mode', { value: mode });
  return made;
}

const loaded = () => Promise.resolve(new Response('from the network'));
const unreachable = () => Promise.reject(new TypeError('no network'));

describe('answer', () => {
  beforeEach(() => vi.useFakeTimers());
  afterEach(() => vi.useRealTimers());

  it('takes a file from what is kept, without asking the network', async () => {
    const asked = vi.fn(loaded);
    const response = await answer(request('assets/a.js'), folder, cacheOf('assets/a.js'), asked);
    expect(await response.text()).toBe('kept assets/a.js');
    expect(asked).not.toHaveBeenCalled();
  });

  it('loads a file that is not kept', async () => {
    const response = await answer(request('assets/b.js'), folder, cacheOf('assets/a.js'), loaded);
    expect(await response.text()).toBe('from the network');
  });

  it('opens the page from the network, so that a new build shows at once', async () => {
    const response = await answer(request('', 'navigate'), folder, cacheOf('index.html'), loaded);
    expect(await response.text()).toBe('from the network');
  });

  it('opens the kept page where there is no network', async () => {
    const response = await answer(request('', 'navigate'), folder, cacheOf('index.html'), unreachable);
    expect(await response.text()).toBe('kept index.html');
  });

  it('opens the kept page where the network does not answer for three seconds', async () => {
    const never = () => new Promise<Response>(() => undefined);
    const opening = answer(request('', 'navigate'), folder, cacheOf('index.html'), never);
    await vi.advanceTimersByTimeAsync(3000);
    expect(await (await opening).text()).toBe('kept index.html');
  });

  it('fails like the network where nothing is kept', async () => {
    await expect(answer(request('', 'navigate'), folder, cacheOf(), unreachable)).rejects.toThrow('no network');
  });
});

describe('keepAll', () => {
  it('keeps every file under its address, past the browser’s own cache', async () => {
    const kept: Request[] = [];
    const addAll = (files: Iterable<RequestInfo>) => {
      kept.push(...([...files] as Request[]));
      return Promise.resolve();
    };
    await keepAll({ open: () => Promise.resolve({ addAll }) }, 'two-thirds-app-1', folder, [
      'index.html',
      'assets/a.js',
    ]);
    expect(kept.map(({ url }) => url)).toEqual([`${folder}index.html`, `${folder}assets/a.js`]);
    expect(kept.every(({ cache }) => cache === 'reload')).toBe(true);
  });
});
