import { css, html, LitElement, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { PressPart } from '../runtime/live-protocol.ts';
import { shared } from '../styles/shared.ts';
import { HoldGesture } from './hold-gesture.ts';
import { WorkEvent } from './work-event.ts';

/** What a hand does with a part of each kind. */
const acts: Readonly<Record<PressPart['kind'], string>> = {
  button: 'press',
  finger: 'touch',
  switch: 'throw',
  jumper: 'pull',
};

/** A jumper that is open at rest is plugged in. */
function actOf({ kind, closed }: PressPart): string {
  return kind === 'jumper' && !closed ? 'plug in' : acts[kind];
}

/** A part of the circuit in hand to be worked: buttons and touch plates while they are held, the others for good. */
export class PressButton extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: inline-block;
      }
      button {
        min-height: 2.75rem;
        min-width: 6.5rem;
        padding: 0.3rem 0.9rem;
        color: var(--ink);
        border: 1.5px solid var(--edge);
        border-bottom-width: 4px;
        border-radius: 7px;
        background: var(--raised);
        touch-action: none;
        user-select: none;
        -webkit-user-select: none;
      }
      button[aria-pressed='true'] {
        border-color: var(--gold);
        border-bottom-width: 1.5px;
        border-top-width: 4px;
      }
      .part {
        font-weight: 650;
      }
    `,
  ];

  @property({ attribute: false }) press: PressPart | undefined;
  @property({ attribute: false }) worked = false;
  private readonly gesture = new HoldGesture((held) => this.work(held));

  protected override render(): TemplateResult {
    const { press, worked, gesture } = this;
    const kind = press?.kind ?? 'button';
    const isHeld = kind === 'button' || kind === 'finger';
    const label = html`${press === undefined ? '' : actOf(press)} <span class="part">${press?.label ?? press?.part}</span>`;
    if (!isHeld) {
      return html`<button aria-pressed=${worked} @click=${() => this.work(!this.worked)}>${label}</button>`;
    }
    return html`<button
      aria-pressed=${worked}
      aria-description="held as long as Space, Enter or the pointer is down"
      @pointerdown=${gesture.pointerDown}
      @pointerup=${gesture.end}
      @pointercancel=${gesture.end}
      @lostpointercapture=${gesture.end}
      @blur=${gesture.end}
      @keydown=${gesture.keyDown}
      @keyup=${gesture.keyUp}
      @click=${gesture.click}
      @contextmenu=${(event: Event) => event.preventDefault()}
    >
      ${label}
    </button>`;
  }

  private work(pressed: boolean): void {
    if (this.press !== undefined) this.dispatchEvent(new WorkEvent(this.press.part, pressed));
  }
}
