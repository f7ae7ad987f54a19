import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Light, dark, or as the system says. */
export type Theme = 'system' | 'light' | 'dark';

const order: readonly Theme[] = ['system', 'light', 'dark'];
const storageKey = 'two-thirds-theme';

/** Keeps the theme: on the document, and in the browser for the next visit. */
export class ThemeController implements ReactiveController {
  /** The present choice. */
  theme: Theme = 'system';
  private readonly host: ReactiveControllerHost;

  constructor(host: ReactiveControllerHost) {
    this.host = host;
    host.addController(this);
  }

  /** Part of lit's controller contract: takes up what was chosen last time. */
  hostConnected(): void {
    this.show(order.find((each) => each === stored()) ?? 'system');
  }

  /** Changes to the next choice. */
  next(): void {
    this.show(order[(order.indexOf(this.theme) + 1) % order.length] ?? 'system');
    try {
      localStorage.setItem(storageKey, this.theme);
    } catch {
      // Storage may be forbidden; the choice then lasts as long as the page.
    }
  }

  private show(theme: Theme): void {
    this.theme = theme;
    if (theme === 'system') delete document.documentElement.dataset['theme'];
    else document.documentElement.dataset['theme'] = theme;
    this.host.requestUpdate();
  }
}

function stored(): string | null {
  try {
    return localStorage.getItem(storageKey);
  } catch {
    return null;
  }
}
