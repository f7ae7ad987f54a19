import { LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import type { DrawingTurns } from '../controllers/drawing-turns.ts';

/**
 * An element that may be far out of sight: it is then drawn when its turn comes, and whatever comes until then is drawn
 * together. It is drawn at once for the first time, so that the page has its height.
 */
export abstract class DrawnInTurn extends LitElement {
  /** Says when it is drawn; without, at once. */
  @property({ attribute: false, hasChanged: () => false }) turns: DrawingTurns | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    this.turns?.follow(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.turns?.leave(this);
  }

  /** Part of lit's life of an element. */
  protected override async scheduleUpdate(): Promise<void> {
    if (this.hasUpdated && this.turns?.isFar(this) === true) await this.turns.turn(this);
    await super.scheduleUpdate();
  }
}
