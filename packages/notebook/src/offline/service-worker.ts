// Runs beside the page and answers for the network: what was once loaded opens without one.
import { answer, keepAll, OWN } from './kept-files.ts';

/** Names of the files of the app, from its folder, and what tells this build from others; set when it is built. */
declare const APP_FILES: readonly string[];
declare const APP_VERSION: string;

/** The part of the service worker's surroundings that is used here; TypeScript's own types of them exclude those of pages. */
interface Surroundings {
  readonly clients: { claim(): Promise<void> };
  readonly location: Location;
  addEventListener(type: 'install' | 'activate', listener: (event: LastingEvent) => void): void;
  addEventListener(type: 'fetch', listener: (event: FetchedEvent) => void): void;
}

interface LastingEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}

interface FetchedEvent extends Event {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}

const surroundings = self as unknown as Surroundings;
const folder = new URL('./', surroundings.location.href).href;
const name = OWN + APP_VERSION;

surroundings.addEventListener('install', (event) => event.waitUntil(keepAll(caches, name, folder, APP_FILES)));

// A new build waits until no window shows the one before, so that no window is left without files that it still needs.
surroundings.addEventListener('activate', (event) => {
  const tidy = async (): Promise<void> => {
    const others = (await caches.keys()).filter((each) => each.startsWith(OWN) && each !== name);
    await Promise.all(others.map((each) => caches.delete(each)));
    await surroundings.clients.claim();
  };
  event.waitUntil(tidy());
});

surroundings.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || !request.url.startsWith(folder)) return;
  event.respondWith(answer(request, folder, () => caches.open(name), fetch));
});
