import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Follows the width of an element, for drawings that are laid out anew for each. */
export class WidthController implements ReactiveController {
  /** Whole pixels; 0 until the element is laid out, and the last one while it is hidden. */
  width = 0;
  private readonly watcher = new ResizeObserver(([entry]) => {
    const width = Math.floor(entry?.contentRect.width ?? 0);
    if (width === 0 || width === this.width) return;
    this.width = width;
    this.host.requestUpdate();
  });

  constructor(private readonly host: ReactiveControllerHost & Element) {
    host.addController(this);
  }

  /** Part of lit's controller contract. */
  hostConnected(): void {
    this.watcher.observe(this.host);
  }

  /** Part of lit's controller contract. */
  hostDisconnected(): void {
    this.watcher.disconnect();
  }
}
