/** How long a computation may take before the page speaks of it (ms): a blink. */
const BLINK = 250;

/** What is being computed: cells of one run, or studies of many. */
export type Work = 'cells' | 'studies';

/** Knows what is being computed at present, and whether that takes longer than a blink. */
export class WorkUnderWay {
  /** Whether the present computation has taken longer than a blink. */
  takesLong = false;
  private readonly busy = new Set<Work>();
  private blink: ReturnType<typeof setTimeout> | undefined;
  private readonly onLong: () => void;

  /** @param onLong told when the present computation has taken longer than a blink. */
  constructor(onLong: () => void) {
    this.onLong = onLong;
  }

  /** Something is begun; what else is under way goes on. */
  begin(work: Work): void {
    this.busy.add(work);
    this.blink ??= setTimeout(() => {
      this.takesLong = true;
      this.onLong();
    }, BLINK);
  }

  /** Something is done. @returns whether nothing else is under way. */
  rest(work: Work): boolean {
    this.busy.delete(work);
    if (this.busy.size > 0) return false;
    this.end();
    return true;
  }

  /** Everything has ended or was stopped. */
  end(): void {
    clearTimeout(this.blink);
    this.blink = undefined;
    this.takesLong = false;
    this.busy.clear();
  }
}
