import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { CellState } from '../runtime/cell-state.ts';
import { shared } from '../styles/shared.ts';
import { RunEvent } from './events.ts';

/** What is to be said of a result besides its value: that it comes from earlier values, is being computed, was stopped. */
export class CellStateLine extends LitElement {
  static override styles = [
    shared,
    css`
      .say {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0.2rem 0.8rem;
        margin-bottom: 0.6rem;
        font-size: var(--small);
        color: var(--gold);
      }
      /* What goes again by itself stands in the gap above the cell, so that the page does not move when it comes and goes. */
      @media screen and (min-width: 44.01rem) {
        .passing {
          position: absolute;
          bottom: calc(100% + 0.1rem);
          left: 7.5rem;
          max-width: calc(100% - 7.5rem);
          margin: 0;
          flex-wrap: nowrap;
          white-space: nowrap;
        }
        .passing > span {
          overflow: hidden;
          text-overflow: ellipsis;
        }
        .passing > :not(span) {
          flex: none;
        }
      }
      [role='status'] {
        display: contents;
      }
      progress {
        accent-color: var(--gold);
        width: 8rem;
        height: 0.6rem;
      }
    `,
  ];

  @property({ attribute: false }) state: CellState | undefined;
  /** Whether to say that the result comes from the values before. */
  @property({ attribute: false }) fromBefore = false;
  /** Whether the computation takes longer than a blink. */
  @property({ attribute: false }) takesLong = false;
  /** What the result waits for, or why it was given up, where that is known. */
  @property({ attribute: false }) why: string | undefined;
  /** What is wrong with the board, where that is why there is no result. */
  @property({ attribute: false }) boardFault: string | undefined;

  protected override render(): TemplateResult | typeof nothing {
    const { state } = this;
    if (state === undefined) return nothing;
    const isWaiting = state.phase === 'waiting' && this.takesLong;
    if (!this.fromBefore && !isWaiting && this.boardFault === undefined && state.phase !== 'stopped') return nothing;
    const passes = this.boardFault === undefined && state.phase !== 'stopped';
    // What each waits for changes with every run that ends: it is there to be read, not to be called out.
    return html`<div class=${passes ? 'say passing' : 'say'}>
      <div role="status">
        ${this.fromBefore ? html`<span>from the values before</span>` : nothing}
        ${this.boardFault === undefined ? nothing : html`<span>${this.boardFault}</span>`}
        ${state.phase === 'stopped' ? html`<span>${this.why ?? 'computing was stopped'}</span>` : nothing}
      </div>
      ${
        isWaiting
          ? html`<progress
                aria-label="share computed"
                .value=${state.progress ?? 0}
                ?hidden=${state.progress === undefined}
              ></progress>
              ${state.progress === undefined ? html`<span>${this.why ?? 'waits for its turn to be computed'}</span>` : nothing}
              <button class="plain" @click=${() => this.dispatchEvent(new RunEvent('stop'))}>stop computing</button>`
          : nothing
      }
      ${
        state.phase === 'stopped'
          ? html`<button class="plain" @click=${() => this.dispatchEvent(new RunEvent('again'))}>compute</button>`
          : nothing
      }
    </div>`;
  }
}
