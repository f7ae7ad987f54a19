/**
 * Results that somebody is waiting for, on their way to their cells: what comes together is handed on together, at once
 * and not only when the next frame begins, so that nothing is left to that frame but to be painted. What comes again
 * before it is painted waits for it, for nobody would see more than the last.
 */
export class PromptResults {
  private readonly handOn: (ids: readonly string[]) => void;
  private readonly painted: () => void;
  private readonly waiting = new Set<string>();
  private isPlanned = false;
  private frame: number | undefined;

  /**
   * @param handOn gives the results of these cells to the cells.
   * @param painted is told as the frame begins in which what was handed on is painted.
   */
  constructor(handOn: (ids: readonly string[]) => void, painted: () => void) {
    this.handOn = handOn;
    this.painted = painted;
  }

  /** A result has come for a cell. */
  add(id: string): void {
    this.waiting.add(id);
    if (this.isPlanned || this.frame !== undefined) return;
    this.isPlanned = true;
    queueMicrotask(() => this.flush());
  }

  /** Whether something is handed on that is not painted yet. */
  get isUnpainted(): boolean {
    return this.isPlanned || this.frame !== undefined;
  }

  /** Something is drawn that need not be handed on: what comes now waits until it is painted. */
  await(): void {
    this.frame ??= requestAnimationFrame(() => this.next());
  }

  private flush(): void {
    this.isPlanned = false;
    const ids = [...this.waiting];
    this.waiting.clear();
    this.await();
    this.handOn(ids);
  }

  private next(): void {
    this.frame = undefined;
    if (this.waiting.size > 0) this.flush();
    else this.painted();
  }
}
