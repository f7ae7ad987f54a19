import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** How long what is out of sight may wait to be drawn while the page is busy (ms). */
const LONGEST_WAIT = 150;
/** How many are drawn at a time: the page is laid out once for them, and is free again soon. */
const AT_ONCE = 3;
/** How far beyond the window is still near: about what one scroll brings into sight. */
const NEAR = '50% 0px';

/**
 * Gives the cells of a page their turns to be drawn: what is in sight, or near it, at once; the others when the page has
 * nothing better to do, a few at a time, so that a knob that is turned waits for none of them.
 */
export class DrawingTurns implements ReactiveController {
  private readonly changed: () => void;
  private readonly followed = new Set<Element>();
  private readonly far = new Set<Element>();
  private readonly waiting = new Map<Element, () => void>();
  private readonly sight = new IntersectionObserver((entries) => this.moved(entries), { rootMargin: NEAR });
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

  /** Follows an element from now on. Until it is known where it stands it counts as near. */
  follow(element: Element): void {
    this.followed.add(element);
    this.sight.observe(element);
  }

  /** Follows an element no more; if it waits, it waits no longer. */
  leave(element: Element): void {
    this.sight.unobserve(element);
    this.followed.delete(element);
    this.far.delete(element);
    this.call(element);
  }

  /** Whether an element is far out of sight. */
  isFar(element: Element): boolean {
    return this.far.has(element);
  }

  /** Whether the element with this id is in sight or near it. */
  isNear(id: string): boolean {
    return [...this.followed].some((element) => element.id === id && !this.far.has(element));
  }

  /** Settles when it is this element's turn; an element asks again only after that. */
  turn(element: Element): Promise<void> {
    return new Promise((resolve) => {
      this.waiting.set(element, resolve);
      if (this.waiting.size === 1) this.changed();
      this.plan();
    });
  }

  private moved(entries: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of entries) {
      if (isIntersecting) {
        this.far.delete(target);
        this.call(target);
      } else this.far.add(target);
    }
  }

  private call(element: Element): void {
    const resolve = this.waiting.get(element);
    if (resolve === undefined) return;
    this.waiting.delete(element);
    resolve();
    if (!this.isWaiting) this.changed();
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
    for (const element of [...this.waiting.keys()].slice(0, AT_ONCE)) this.call(element);
    if (this.isWaiting) this.plan();
  };

  private readonly all = (): void => {
    for (const element of [...this.waiting.keys()]) this.call(element);
  };
}
