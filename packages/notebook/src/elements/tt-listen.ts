import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { LiveRunController } from '../controllers/live-run-controller.ts';
import { LiveSoundController } from '../controllers/live-sound-controller.ts';
import { RATES } from '../runtime/live-rate.ts';
import { AWAY, type LiveView } from '../runtime/live-view.ts';
import { shared } from '../styles/shared.ts';

/** What people hear as a tone (Hz; common practice, no source). */
const HEARD = { from: 20, to: 20_000 };

/** Listening to an output of a run by hand, on request only. */
export class Listen extends LitElement {
  static override styles = [
    shared,
    css`
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.3rem 0.5rem;
        align-items: center;
        margin-top: 0.5rem;
      }
      button {
        border-color: var(--line);
        font-size: 0.9375rem;
      }
      button[aria-pressed='true'] {
        border-color: var(--gold);
        color: var(--ink);
      }
      .note {
        margin-top: 0.3rem;
        line-height: 1.4;
        max-width: 60ch;
      }
    `,
  ];

  @property({ attribute: false }) live: LiveRunController | undefined;
  @property({ attribute: false }) view: LiveView = AWAY;
  /** Names of the board's buzzers. */
  @property({ attribute: false }) buzzers: readonly string[] = [];
  private readonly sound = new LiveSoundController(this);

  protected override willUpdate(): void {
    if (this.live !== undefined) this.live.heard = this.sound.take;
    if (this.view.phase === 'away') this.sound.off();
  }

  protected override render(): TemplateResult | typeof nothing {
    const { sound, view } = this;
    const heard = [...(view.state?.timers ?? []).map(({ timer }) => timer), ...this.buzzers];
    if (heard.length === 0) return nothing;
    return html`<div class="row" role="group" aria-label="Outputs to listen to">
        ${heard.map((timer) => {
          const isOn = sound.isOn && sound.timer === timer;
          return html`<button aria-pressed=${isOn} @click=${() => this.toggle(timer, isOn)}>
            listen to ${timer}
          </button>`;
        })}
        ${sound.isOn ? html`<span class="small">${this.heard()}</span>` : nothing}
      </div>
      ${
        sound.isOn
          ? html`<p class="note small quiet">
              Headphones: take them off first, turn the volume down, and only then put them on.
            </p>`
          : nothing
      }`;
  }

  private toggle(timer: string, isOn: boolean): void {
    if (isOn) this.sound.off();
    else this.sound.on(timer);
  }

  /** What is to be heard, in figures. */
  private heard(): string {
    const { view, sound } = this;
    if (view.phase !== 'passing') return 'silent while time is held';
    const tone = view.tones.get(sound.timer ?? '');
    if (tone === undefined) return 'no tone at present';
    const rate = view.slower ?? RATES[view.rate] ?? 1;
    const here = tone * rate;
    const there = `${formatQuantity(tone, 'Hz')} there`;
    if (here < HEARD.from) return `${there}: too slow for a tone, single clicks`;
    if (here > HEARD.to) return `${there}: too high to be heard`;
    return rate === 1 ? formatQuantity(tone, 'Hz') : `${there}, ${formatQuantity(here, 'Hz')} here`;
  }
}
