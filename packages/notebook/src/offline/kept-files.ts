/** What the names of the app's own caches begin with. */
export const OWN = 'two-thirds-app-';

/** How long a page that is opened may wait for the network before the kept one is shown (ms). */
const PATIENCE = 3000;

/** The part of the browser's caches that keeping needs. */
export interface Caches {
  open(name: string): Promise<Pick<Cache, 'addAll'>>;
}

/** Keeps every file of a build, all of them or none. @param files names from the app's folder. */
export async function keepAll(caches: Caches, name: string, folder: string, files: readonly string[]): Promise<void> {
  const cache = await caches.open(name);
  // Past the browser's own cache, which may still hold files of a build before.
  await cache.addAll(files.map((file) => new Request(new URL(file, folder), { cache: 'reload' })));
}

/**
 * Answers a request of the app's folder. Opening the page asks the network first, so that a new build shows at once where
 * there is a network; every other file is taken from what is kept: their names change with their content.
 */
export async function answer(
  request: Request,
  folder: string,
  openCache: () => Promise<Pick<Cache, 'match'>>,
  load: (request: Request) => Promise<Response>,
): Promise<Response> {
  const cache = await openCache();
  // Servers say that an answer varies with where the request comes from; here all of them come from the app itself.
  const alike = { ignoreSearch: true, ignoreVary: true };
  if (request.mode !== 'navigate') return (await cache.match(request, alike)) ?? load(request);
  const kept = await cache.match(new URL('index.html', folder).href);
  if (kept === undefined) return load(request);
  return Promise.race([load(request).catch(() => kept), later(kept)]);
}

function later(response: Response): Promise<Response> {
  return new Promise((resolve) => setTimeout(() => resolve(response), PATIENCE));
}
