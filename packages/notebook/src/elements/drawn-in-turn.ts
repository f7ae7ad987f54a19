import { LitElement, type PropertyValues } from 'lit';
import { property } from 'lit/decorators.js';
import type { DrawingTurns } from '../controllers/drawing-turns.ts';

/**
 * An element that may be drawn later than it changes: when its turn comes, and whatever comes until then is drawn
 * together. It is drawn at once for the first time, so that the page has its height.
 */
export abstract class DrawnInTurn extends LitElement {
  /** Says when it is drawn; without, at once. */
  @property({ attribute: false, hasChanged: () => false }) turns: DrawingTurns | undefined;

  /** What has changed since it was drawn last, with the values before, while that waits. */
  private readonly undrawn = new Map<PropertyKey, unknown>();
  private wait: Promise<void> | undefined;
  private isTurn = false;

  override connectedCallback(): void {
    super.connectedCallback();
    this.turns?.follow(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.turns?.leave(this);
  }

  /** Whether these changes of an element that is near, or in sight, can wait; not, if a kind of element does not say. */
  protected canWait(_changed: PropertyValues): boolean {
    return false;
  }

  /** Whoever works inside of an element sees what comes of it at once, and the focus goes where it is to go. */
  private isPatient(changed: PropertyValues): boolean {
    return this.canWait(changed) && !this.matches(':focus-within');
  }

  /** Part of lit's life of an element. */
  protected override shouldUpdate(changed: PropertyValues): boolean {
    const { turns, undrawn } = this;
    const { isTurn } = this;
    this.isTurn = false;
    if (this.hasUpdated && !isTurn && turns !== undefined && (turns.isFar(this) || this.isPatient(changed))) {
      for (const [name, before] of changed) if (!undrawn.has(name)) undrawn.set(name, before);
      this.wait ??= turns.turn(this).then(() => this.drawNow());
      return false;
    }
    // What looks at the changes has to see those that waited as well.
    for (const [name, before] of undrawn) changed.set(name, before);
    undrawn.clear();
    this.wait = undefined;
    turns?.call(this);
    return true;
  }

  /** Part of lit's life of an element: what waits is not complete. */
  protected override async getUpdateComplete(): Promise<boolean> {
    let isComplete = await super.getUpdateComplete();
    while (this.wait !== undefined) {
      await this.wait;
      isComplete = await super.getUpdateComplete();
    }
    return isComplete;
  }

  private drawNow(): void {
    if (this.wait === undefined) return;
    this.wait = undefined;
    this.isTurn = true;
    this.requestUpdate();
  }
}
