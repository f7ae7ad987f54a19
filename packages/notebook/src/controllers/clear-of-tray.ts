import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** What moves the focus. Its own events do not leave the element inside of which it moves. */
const moves = ['keyup', 'pointerup'] as const;

/**
 * Keeps what has the focus clear of the tray at the bottom of the window (WCAG 2.2, success criterion 2.4.11, and more: no
 * part of it is covered). The browser scrolls by the height that the tray has at present, and a field that grows while
 * somebody writes in it is brought up again.
 */
export class ClearOfTray implements ReactiveController {
  private readonly host: ReactiveControllerHost & HTMLElement;
  private readonly trays = new ResizeObserver(() => this.measure());
  private readonly fields = new ResizeObserver(([entry]) => {
    if (entry !== undefined) this.bringUp(entry.target);
  });
  private tray: Element | undefined;

  constructor(host: ReactiveControllerHost & HTMLElement) {
    this.host = host;
    host.addController(this);
  }

  /** Part of lit's controller contract. */
  hostConnected(): void {
    for (const type of moves) window.addEventListener(type, this.moved);
  }

  /** Part of lit's controller contract. */
  hostDisconnected(): void {
    for (const type of moves) window.removeEventListener(type, this.moved);
    this.trays.disconnect();
    this.fields.disconnect();
    this.tray = undefined;
  }

  /** Part of lit's controller contract: follows the tray once it is drawn. */
  hostUpdated(): void {
    const tray = this.host.shadowRoot?.querySelector('tt-tray') ?? undefined;
    if (tray === this.tray) return;
    this.trays.disconnect();
    this.tray = tray;
    if (tray !== undefined) this.trays.observe(tray);
  }

  private measure(): void {
    const { height = 0 } = this.tray?.getBoundingClientRect() ?? {};
    document.documentElement.style.setProperty('--tray-height', `${Math.ceil(height)}px`);
  }

  private readonly moved = (): void => {
    let field = document.activeElement;
    const path: (Element | null)[] = [field];
    while (field?.shadowRoot?.activeElement) {
      field = field.shadowRoot.activeElement;
      path.push(field);
    }
    this.fields.disconnect();
    const { tray } = this;
    // The first report comes when the field is drawn, further ones when it grows.
    if (field !== null && tray !== undefined && !path.includes(tray)) this.fields.observe(field);
  };

  private bringUp(field: Element): void {
    if (!field.matches(':focus')) return;
    const room = this.tray?.getBoundingClientRect().top ?? window.innerHeight;
    const { bottom, height } = field.getBoundingClientRect();
    // What is higher than the room above the tray cannot be shown whole.
    if (bottom > room && height < room) field.scrollIntoView({ block: 'nearest' });
  }
}
