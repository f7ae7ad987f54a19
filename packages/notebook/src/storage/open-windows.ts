/** What a window notes down while a changed notebook is open in it. */
export interface OpenMark {
  readonly key: string;
  readonly title: string;
  /** When the notebook was last kept (ms since 1970). */
  readonly kept: number;
}

const PREFIX = 'two-thirds-window-';

/**
 * Notes which notebook this window works on, so that the next visit can tell that a window ended without being closed:
 * a window that is closed takes its note away, and one that lives holds a lock of the same name.
 */
export class OpenWindows {
  private readonly name = PREFIX + Math.random().toString(36).slice(2);
  private isLocked = false;

  /** The notebooks of windows that ended without being closed, each told only once. */
  async ended(): Promise<readonly OpenMark[]> {
    const living = new Set(((await navigator.locks?.query())?.held ?? []).map(({ name }) => name));
    const found: OpenMark[] = [];
    for (const name of storedNames()) {
      if (living.has(name) || name === this.name) continue;
      const mark = readMark(name);
      localStorage.removeItem(name);
      if (mark !== undefined && !found.some(({ key }) => key === mark.key)) found.push(mark);
    }
    return found;
  }

  /** Notes down that this notebook is kept as of this time and is still being worked on. */
  note(mark: OpenMark): void {
    this.lock();
    try {
      localStorage.setItem(this.name, JSON.stringify(mark));
    } catch {
      // Without storage nothing can be told at the next visit.
    }
  }

  /** Takes the note away: the window is being closed, or shows no notebook any more. */
  close(): void {
    try {
      localStorage.removeItem(this.name);
    } catch {
      // See above.
    }
  }

  private lock(): void {
    if (this.isLocked) return;
    this.isLocked = true;
    // Held until the window ends, however it ends.
    void navigator.locks?.request(this.name, () => new Promise(() => undefined));
  }
}

function storedNames(): string[] {
  try {
    return Object.keys(localStorage).filter((name) => name.startsWith(PREFIX));
  } catch {
    return [];
  }
}

function readMark(name: string): OpenMark | undefined {
  try {
    const mark = JSON.parse(localStorage.getItem(name) ?? '') as OpenMark;
    return typeof mark.key === 'string' && typeof mark.title === 'string' && typeof mark.kept === 'number'
      ? mark
      : undefined;
  } catch {
    return undefined;
  }
}
