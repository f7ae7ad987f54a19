import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** How far down the window the eye reads: the share of its height. */
const READING_LINE = 0.4;

/**
 * Tells which cell is being read while a page is scrolled: the one at the reading line. It keeps silent while what has
 * the focus is turned in the tray or looked at in the circuit, because then the page is scrolled to watch its effect.
 */
export class ReadingPlace implements ReactiveController {
  private readonly host: ReactiveControllerHost & HTMLElement;
  private readonly tell: (cell: string) => void;
  private frame: number | undefined;

  constructor(host: ReactiveControllerHost & HTMLElement, tell: (cell: string) => void) {
    this.host = host;
    this.tell = tell;
    host.addController(this);
  }

  /** Part of lit's controller contract: starts to listen. */
  hostConnected(): void {
    window.addEventListener('scroll', this.scrolled, { passive: true });
  }

  /** Part of lit's controller contract: stops listening. */
  hostDisconnected(): void {
    window.removeEventListener('scroll', this.scrolled);
    if (this.frame !== undefined) cancelAnimationFrame(this.frame);
    this.frame = undefined;
  }

  private readonly scrolled = (): void => {
    this.frame ??= requestAnimationFrame(() => {
      this.frame = undefined;
      const root = this.host.shadowRoot;
      if (root?.activeElement?.matches('tt-tray, aside, aside *') === true) return;
      const line = window.innerHeight * READING_LINE;
      const cell = [...(root?.querySelectorAll('tt-cell') ?? [])].find((each) => {
        const { top, bottom } = each.getBoundingClientRect();
        return top <= line && bottom >= line;
      });
      if (cell !== undefined) this.tell(cell.id);
    });
  };
}
