/**
 * Runs in the page, before its scripts: holds every message to and from workers back for a while, each for a time of its
 * own, but lets none overtake another on the same way. The processor of workers cannot be throttled as that of the page.
 */
export function holdMessagesBack({ seed, longest }: { seed: number; longest: number }): void {
  type Place = Worker | MessagePort;
  type Post = (this: Place, message: unknown, transfer: Transferable[]) => void;
  type Listen = (this: EventTarget, ...given: Parameters<EventTarget['addEventListener']>) => void;
  const wait = setTimeout;
  let state = seed >>> 0;
  const delay = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state / 2 ** 32) * longest;
  };
  /** Passes things on one after the other, each after a delay of its own. */
  const way = (): ((pass: () => void) => void) => {
    let before = Promise.resolve();
    return (pass) => {
      const due = performance.now() + delay();
      before = before
        .then(() => new Promise((resolve) => wait(resolve, Math.max(0, due - performance.now()))))
        .then(pass);
    };
  };
  const isEnded = new WeakSet<Place>();
  const perPlace = <T>(make: (place: Place) => T): ((place: Place) => T) => {
    const known = new WeakMap<Place, T>();
    return (place) => {
      const value = known.get(place) ?? make(place);
      known.set(place, value);
      return value;
    };
  };
  const { addEventListener: listen } = EventTarget.prototype as { addEventListener: Listen };
  const replayed = new WeakSet<Event>();
  /** Hears the events of a worker or a port before everybody else and repeats them later. */
  const slowed = perPlace((place) => {
    const pass = way();
    const later = (event: Event, repeat: () => Event): void => {
      if (replayed.has(event)) return;
      event.stopImmediatePropagation();
      pass(() => {
        if (isEnded.has(place)) return;
        const again = repeat();
        replayed.add(again);
        place.dispatchEvent(again);
      });
    };
    listen.call(place, 'message', (event) => {
      const { data, ports } = event as MessageEvent<unknown>;
      later(event, () => new MessageEvent('message', { data, ports: [...ports] }));
    });
    listen.call(place, 'error', (event) => {
      const { message, filename, lineno } = event as ErrorEvent;
      later(event, () => new ErrorEvent('error', { message, filename, lineno }));
    });
    return undefined;
  });
  const outward = perPlace(way);

  EventTarget.prototype.addEventListener = function addSlowly(...given: Parameters<EventTarget['addEventListener']>) {
    if (this instanceof Worker || this instanceof MessagePort) slowed(this);
    listen.apply(this, given);
  };
  for (const kind of [Worker, MessagePort]) {
    const prototype = kind.prototype;
    const own = Object.getOwnPropertyDescriptor(prototype, 'onmessage');
    const { postMessage: post }: { postMessage: Post } = prototype;
    Object.defineProperty(prototype, 'onmessage', {
      ...own,
      set(this: Place, handler: unknown) {
        slowed(this);
        own?.set?.call(this, handler);
      },
    });
    prototype.postMessage = function postSlowly(this: Place, message: unknown, given?: unknown) {
      const transfer = Array.isArray(given) ? (given as Transferable[]) : [];
      // What is sent is what it is now, not what becomes of it meanwhile.
      const sent = structuredClone({ message, transfer }, { transfer });
      outward(this)(() => {
        if (!isEnded.has(this)) post.call(this, sent.message, sent.transfer);
      });
    };
  }
  const { terminate } = Worker.prototype as { terminate: (this: Worker) => void };
  Worker.prototype.terminate = function end(this: Worker) {
    isEnded.add(this);
    terminate.call(this);
  };
}
