import { panned, pinched, spanning, type Window, ZOOM_STEP, zoomed } from '../chart/view.ts';

/** A chart that is looked at through a view and has a cursor. Shares are those of the view's width, 0 at its left edge. */
export interface GestureHost {
  view(): Window;
  whole(): Window;
  /** Where a pointer is: the share of the view's width, and whether it is over the axis of time. */
  place(event: PointerEvent | WheelEvent): { readonly share: number; readonly onAxis: boolean };
  look(view: Window): void;
  moveCursor(time: number): void;
  /** Shows the stretch that is being marked out, or no longer shows one. */
  mark(stretch: Window | undefined): void;
}

/** A stretch shorter than this share of the view is no stretch but a click. */
const CLICK = 0.006;
/** Wheels report pixels, lines or pages (UI Events, `deltaMode`); this many pixels are one of each. */
const WHEEL_PIXELS = [1, 16, 400];
/** Pixels of a wheel that are one step of zooming. */
const WHEEL_STEP = 100;

interface Drag {
  readonly kind: 'cursor' | 'mark' | 'pan';
  /** Time under the pointer when it came down (s). */
  readonly time: number;
}

/**
 * What pointers do on a chart: a drag in the lanes moves the cursor, with Shift it marks out the stretch to look at; a
 * drag on the axis of time moves the view; two fingers pinch. A wheel with Ctrl or Meta zooms about the pointer, with
 * Shift or sideways it moves the view; a plain wheel scrolls the page.
 */
export class LaneGestures {
  private readonly host: GestureHost;
  private drag: Drag | undefined;
  /** Pointers that are down, with the share of the view each is at, and the time it took hold of. */
  private readonly held = new Map<number, { readonly time: number; share: number }>();

  constructor(host: GestureHost) {
    this.host = host;
  }

  /** A pointer comes down. */
  readonly down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    const { share, onAxis } = this.host.place(event);
    const time = this.timeAt(share);
    this.held.set(event.pointerId, { time, share });
    if (this.held.size > 1) {
      this.host.mark(undefined);
      this.drag = undefined;
      return;
    }
    this.drag = { kind: event.shiftKey ? 'mark' : onAxis ? 'pan' : 'cursor', time };
    if (this.drag.kind === 'cursor') this.host.moveCursor(time);
    if (this.drag.kind === 'mark') event.preventDefault();
  };

  /** A pointer moves. */
  readonly move = (event: PointerEvent): void => {
    const held = this.held.get(event.pointerId);
    if (held === undefined) return;
    held.share = this.host.place(event).share;
    if (this.held.size > 1) this.pinch();
    else this.pull(held.share);
  };

  /** A pointer goes up. */
  readonly up = (event: PointerEvent): void => {
    const held = this.held.get(event.pointerId);
    if (held !== undefined && this.drag?.kind === 'mark') {
      const [view, whole] = [this.host.view(), this.host.whole()];
      const now = this.timeAt(held.share);
      if (Math.abs(now - this.drag.time) > CLICK * (view.until - view.from)) {
        this.host.look(spanning(whole, this.drag.time, now));
      }
    }
    this.cancel(event);
  };

  /** A pointer is taken away, by the browser for instance, which scrolls the page with it. */
  readonly cancel = (event: PointerEvent): void => {
    this.held.delete(event.pointerId);
    this.drag = undefined;
    this.host.mark(undefined);
  };

  /** A wheel turns. */
  readonly wheel = (event: WheelEvent): void => {
    const [view, whole] = [this.host.view(), this.host.whole()];
    const pixels = WHEEL_PIXELS[event.deltaMode] ?? 1;
    if (event.ctrlKey || event.metaKey) {
      event.preventDefault();
      const factor = ZOOM_STEP ** ((-event.deltaY * pixels) / WHEEL_STEP);
      this.host.look(zoomed(view, whole, this.timeAt(this.host.place(event).share), factor));
      return;
    }
    const sideways = event.shiftKey && event.deltaX === 0 ? event.deltaY : event.deltaX;
    if (sideways === 0 || Math.abs(event.deltaY) > Math.abs(sideways)) return;
    event.preventDefault();
    const width = (event.currentTarget as HTMLElement).clientWidth;
    this.host.look(panned(view, whole, ((sideways * pixels) / width) * (view.until - view.from)));
  };

  private pull(share: number): void {
    const [view, whole] = [this.host.view(), this.host.whole()];
    const { drag } = this;
    if (drag === undefined) return;
    const now = this.timeAt(share);
    if (drag.kind === 'cursor') this.host.moveCursor(now);
    else if (drag.kind === 'mark') this.host.mark(spanning(whole, drag.time, now));
    else this.host.look(panned(view, whole, drag.time - now));
  }

  private pinch(): void {
    const [one, other] = [...this.held.values()].sort((a, b) => a.time - b.time);
    if (one === undefined || other === undefined) return;
    const view = pinched(this.host.whole(), one, other);
    if (view !== undefined) this.host.look(view);
  }

  private timeAt(share: number): number {
    const view = this.host.view();
    return view.from + share * (view.until - view.from);
  }
}
