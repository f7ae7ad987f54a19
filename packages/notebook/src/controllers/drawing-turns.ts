import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** How long what can wait may wait to be drawn while the page is busy (ms). */
const LONGEST_WAIT = 150;
/** How many are drawn at a time: the page is laid out once for them, and is free again soon. */
const AT_ONCE = 3;
/** How far beyond the window is still near: about what one scroll brings into sight. */
const NEAR = '50% 0px';

/**
 * Gives the cells of a page their turns to be drawn: what cannot wait is drawn at once; the others when the page has
 * nothing better to do, a few at a time, what is in sight first, so that a knob that is turned waits for none of them.
 */
export class DrawingTurns implements ReactiveController {
  private readonly changed: () => void;
  private readonly followed = new Set<Element>();
  private readonly far = new Set<Element>();
  private readonly unseen = new Set<Element>();
  private readonly waiting = new Map<Element, () => void>();
  private readonly nearness = new IntersectionObserver((entries) => this.moved(entries), { rootMargin: NEAR });
  private readonly sight = new IntersectionObserver((entries) => this.seen(entries));
  private isHeld = false;
  private deadline: ReturnType<typeof setTimeout> | undefined;
  private isPlanned = false;

  /** @param changed is told when elements begin to wait, and when none waits any more. */
  constructor(host: ReactiveControllerHost, changed: () => void) {
    this.changed = changed;
    host.addController(this);
  }

  /** Whether some element still waits to be drawn. */
  get isWaiting(): boolean {
    return this.waiting.size > 0;
  }

  /** Part of lit's controller contract: a page is printed as a whole. */
  hostConnected(): void {
    window.addEventListener('beforeprint', this.all);
  }

  /** Part of lit's controller contract. */
  hostDisconnected(): void {
    window.removeEventListener('beforeprint', this.all);
    this.all();
  }

  /** Follows an element from now on. Until it is known where it stands it counts as in sight. */
  follow(element: Element): void {
    this.followed.add(element);
    this.nearness.observe(element);
    this.sight.observe(element);
  }

  /** Follows an element no more; if it waits, it waits no longer. */
  leave(element: Element): void {
    this.nearness.unobserve(element);
    this.sight.unobserve(element);
    this.followed.delete(element);
    this.far.delete(element);
    this.unseen.delete(element);
    this.call(element);
  }

  /** Whether an element is far out of sight. */
  isFar(element: Element): boolean {
    return this.far.has(element);
  }

  /** Whether an element is in sight. */
  isSeen(element: Element): boolean {
    return !this.unseen.has(element);
  }

  /** Whether the element with this id is in sight. */
  isInSight(id: string): boolean {
    return [...this.followed].some((element) => element.id === id && this.isSeen(element));
  }

  /**
   * Lets all who wait go on waiting, as long as they may at most: something that cannot wait comes soon, and is not to
   * find the page at work.
   */
  hold(): void {
    this.isHeld = true;
  }

  /** What was to come soon is there: whoever waits has a turn once it is painted. */
  release(): void {
    if (!this.isHeld) return;
    this.isHeld = false;
    if (this.isWaiting) this.plan();
  }

  /** Settles when it is this element's turn; an element asks again only after that. */
  turn(element: Element): Promise<void> {
    return new Promise((resolve) => {
      this.waiting.set(element, resolve);
      if (this.waiting.size === 1) this.changed();
      this.deadline ??= setTimeout(this.late, LONGEST_WAIT);
      if (!this.isHeld) this.plan();
    });
  }

  /** Ends the wait of an element: it is drawn now. */
  call(element: Element): void {
    const resolve = this.waiting.get(element);
    if (resolve === undefined) return;
    this.waiting.delete(element);
    resolve();
    if (this.isWaiting) return;
    clearTimeout(this.deadline);
    this.deadline = undefined;
    this.changed();
  }

  private moved(entries: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of entries) {
      if (isIntersecting) {
        this.far.delete(target);
        this.call(target);
      } else this.far.add(target);
    }
  }

  private seen(entries: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of entries) {
      if (isIntersecting) this.unseen.delete(target);
      else this.unseen.add(target);
    }
  }

  private plan(): void {
    if (this.isPlanned) return;
    this.isPlanned = true;
    // Not every browser has a time for such work; there, a timer lets whatever is waiting go first.
    if (typeof requestIdleCallback === 'function') requestIdleCallback(this.next, { timeout: LONGEST_WAIT });
    else setTimeout(this.next);
  }

  private readonly next = (): void => {
    this.isPlanned = false;
    if (this.isHeld) {
      // Held anew since the longest wait was over: it is not without end.
      if (this.isWaiting) this.deadline ??= setTimeout(this.late, LONGEST_WAIT);
      return;
    }
    const all = [...this.waiting.keys()];
    const inOrder = [...all.filter((each) => this.isSeen(each)), ...all.filter((each) => !this.isSeen(each))];
    for (const element of inOrder.slice(0, AT_ONCE)) this.call(element);
    if (this.isWaiting) this.plan();
  };

  private readonly late = (): void => {
    this.deadline = undefined;
    this.isHeld = false;
    if (this.isWaiting) this.plan();
  };

  private readonly all = (): void => {
    for (const element of [...this.waiting.keys()]) this.call(element);
  };
}
