/**
 * The ways back of the branches that have moved at one instant, as numbers of events (see `Succession.back`). It keeps its
 * storage: emptying and filling a list anew at every event would cost as much as the rest of a short event.
 */
export class WaysBack {
  /** How many branches have moved. */
  count = 0;
  private readonly events: number[] = [];

  /** Adds the way back of one more branch. */
  add(event: number): void {
    this.events[this.count++] = event;
  }

  /** Forgets all: time has passed, or something else than a branch has moved. */
  clear(): void {
    this.count = 0;
  }

  /** The one added last; -1 while there is none. */
  get latest(): number {
    return this.count > 0 ? this.events[this.count - 1]! : -1;
  }

  /** Whether an event would take a branch back. */
  has(event: number): boolean {
    for (let i = 0; i < this.count; i++) if (this.events[i] === event) return true;
    return false;
  }

  /** As a plain list, for a checkpoint. */
  list(): number[] {
    return this.events.slice(0, this.count);
  }
}
