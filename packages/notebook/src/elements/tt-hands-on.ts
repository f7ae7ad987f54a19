import { formatQuantity } from '@two-thirds/sim/quantity';
import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { LiveRunController } from '../controllers/live-run-controller.ts';
import { RATES, rateWords } from '../runtime/live-rate.ts';
import { clockText } from '../runtime/live-words.ts';
import { AWAY, type LiveView } from '../runtime/live-view.ts';
import type { CellCare } from '../runtime/cell-care.ts';
import { shared } from '../styles/shared.ts';
import { grazesTold } from './graze-note.ts';
import { handsOnStyles } from './hands-on-styles.ts';

/** The strip below the circuit in hand with which a board is run by hand: time passes, parts are pressed, lamps light. */
export class HandsOn extends LitElement {
  static override styles = [shared, handsOnStyles];

  @property({ attribute: false }) live: LiveRunController | undefined;
  /** Names of the board's buzzers. */
  @property({ attribute: false }) buzzers: readonly string[] = [];
  @property({ attribute: false }) view: LiveView = AWAY;
  @state() private wantsFlashes = false;
  private readonly calmness = window.matchMedia('(prefers-reduced-motion: reduce)');

  protected override willUpdate(): void {
    if (this.live !== undefined) this.live.calm = this.calmness.matches && !this.wantsFlashes;
  }

  protected override render(): TemplateResult {
    const { live, view } = this;
    const isAway = view.phase === 'away';
    const isPassing = view.phase === 'passing';
    return html`<div class="head">
        <h2 class="margin-word">hands on</h2>
        ${
          isAway
            ? nothing
            : html`<span class="time">${clockText(view.time)}</span>
                <button @click=${this.leave}>leave</button>`
        }
      </div>
      <div class="row">
        <button class="main" ?disabled=${view.isOver} @click=${() => (isPassing ? live?.hold() : live?.pass())}>
          ${isPassing ? 'hold' : 'let time pass'}
        </button>
        <button ?disabled=${view.isOver} @click=${() => live?.next()}>next event</button>
        ${isAway ? nothing : html`<button @click=${() => live?.restart()}>from the start</button>`}
      </div>
      ${view.complaint === undefined ? nothing : html`<p class="complaint" role="alert">${view.complaint}</p>`}
      ${this.rate()} ${isAway ? nothing : this.running()}`;
  }

  private rate(): TemplateResult {
    const { rate, slower } = this.view;
    const words = rateWords(RATES[rate] ?? 1);
    return html`<label class="rate">
        <span>${words}</span>
        <input
          type="range"
          min="0"
          max=${RATES.length - 1}
          step="1"
          aria-label="how fast time passes"
          aria-valuetext=${words}
          .value=${String(rate)}
          @input=${this.chooseRate}
        />
      </label>
      ${slower === undefined ? nothing : html`<p class="note small">Slower than asked: ${rateWords(slower)}.</p>`}`;
  }

  private running(): TemplateResult {
    const { presses, worked, words } = this.view;
    return html`${
      presses.length === 0
        ? nothing
        : html`<div class="row" role="group" aria-label="Parts to work by hand">
              ${presses.map((press) => html`<tt-press .press=${press} .worked=${worked.has(press.part)}></tt-press>`)}
            </div>`
    }
      <p class="words" role="status">${words}</p>
      <tt-safety .care=${beyondLimits(this.view.state?.faults ?? [])}></tt-safety>
      ${grazesTold(this.view.state?.grazes ?? [])}
      <tt-listen .live=${this.live} .view=${this.view} .buzzers=${this.buzzers}></tt-listen>
      ${
        this.calmness.matches
          ? html`<label>
              <input type="checkbox" .checked=${this.wantsFlashes} @change=${this.chooseFlashes} />
              show slow lamps flashing
            </label>`
          : nothing
      }
      ${this.notes().map((note) => html`<p class="note small quiet">${note}</p>`)}`;
  }

  /** What has to be known to read what is shown. */
  private notes(): string[] {
    const { presses, phase, lamps } = this.view;
    const planned = presses.filter((each) => each.planned).map(({ part, label }) => label ?? part);
    const steady = [...lamps].filter(([, { steady: isSteady }]) => isSteady);
    const names = steady.map(([part, { frequency }]) =>
      frequency === undefined ? part : `${part} (${formatQuantity(frequency, 'Hz')})`,
    );
    return [
      presses.some(({ kind }) => kind === 'finger')
        ? 'A real plate is touched only on a battery or another isolated supply.'
        : '',
      presses.length > 0 && phase === 'held'
        ? 'Time is held: between a press and its end no time passes, and a timer may not notice it.'
        : '',
      planned.length > 0 ? `What the page plans for ${planned.join(', ')} is left out here.` : '',
      names.length > 0 && this.live?.calm !== true
        ? `${names.join(', ')} ${names.length === 1 ? 'is' : 'are'} shown in steady mean light: nothing here flashes more than three times a second. Let time pass more slowly to see the flashes.`
        : '',
    ].filter((note) => note !== '');
  }

  private readonly leave = (): void => {
    this.live?.leave();
    // The button that was clicked goes.
    this.renderRoot.querySelector<HTMLButtonElement>('.main')?.focus();
  };

  private readonly chooseFlashes = (event: Event): void => {
    if (event.target instanceof HTMLInputElement) this.wantsFlashes = event.target.checked;
  };

  private readonly chooseRate = (event: Event): void => {
    if (event.target instanceof HTMLInputElement) this.live?.setRate(Number(event.target.value));
  };
}

function beyondLimits(beyond: readonly string[]): CellCare {
  return { dangers: [], beyond, flashing: [], said: new Set() };
}
