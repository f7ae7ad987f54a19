import { readyBoards } from '@two-thirds/sim/board';
import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { isRecord, type Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import { cellStarts } from '../edit/starting-cells.ts';
import { shared } from '../styles/shared.ts';
import { DrawnInTurn } from './drawn-in-turn.ts';
import { CommandEvent } from './events.ts';

/**
 * The sentence that makes a page longer: each of its underlined words writes a cell of that kind below. Where nothing
 * can be looked at yet, only a note and a circuit are spoken of.
 */
export class GoOn extends DrawnInTurn {
  static override styles = [
    shared,
    css`
      p {
        color: var(--quiet);
        font-size: 0.9375rem;
        max-width: 68ch;
      }
      .which {
        margin-top: 0.2rem;
        padding-left: 1rem;
        border-left: 3px solid var(--line);
      }
      /* No comma begins a line. */
      .choice {
        white-space: nowrap;
      }
      button.plain {
        color: var(--ink);
      }
      button.plain:hover {
        color: var(--rust);
        background: none;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  /** The board at hand: what a new trace looks at. */
  @property({ attribute: false }) board: string | undefined;
  /** The cell to go on below; the end of the page where there is none. */
  @property({ attribute: false }) below: string | undefined;
  /** How the sentence begins. */
  @property({ attribute: false }) words = 'Go on with';
  @state() private asksWhich = false;

  /** Part of {@link DrawnInTurn}: what a page can go on with hardly depends on its values. */
  protected override canWait(changed: PropertyValues<this>): boolean {
    return changed.size > 0 && [...changed.keys()].every((name) => name === 'document');
  }

  protected override render(): TemplateResult {
    const starts = cellStarts(this.document, this.board);
    return html`<p role="group" aria-label=${this.below === undefined ? 'Go on at the end' : `Go on below ${this.below}`}>
        ${this.words}
        ${starts.map(
          ({ kind, words }) =>
            html`<span class="choice"
                ><button
                  class="plain"
                  data-kind=${kind}
                  @click=${() => this.dispatchEvent(new CommandEvent({ act: 'add', after: this.below, kind }))}
                >${words}</button
                >,</span
              > `,
        )}${starts.length > 0 ? 'or ' : nothing}<button
          class="plain"
          data-kind="board"
          aria-expanded=${this.asksWhich}
          @click=${() => (this.asksWhich = !this.asksWhich)}
        >a circuit</button>.
      </p>
      ${this.asksWhich ? this.circuits() : nothing}`;
  }

  private circuits(): TemplateResult {
    const boards = valueAt(this.document, ['boards']);
    const own = isRecord(boards) ? Object.keys(boards) : [];
    return html`<p class="which" role="group" aria-label="Circuits">
      Ready to use: ${list([...readyBoards.keys()].map((name) => this.circuit('add-ready', name)))}.
      To build yourself:
      <button
        class="plain"
        @click=${() => {
          this.asksWhich = false;
          this.dispatchEvent(new CommandEvent({ act: 'add-bare', after: this.below }));
        }}
      >a supply and nothing else</button>.
      ${own.length === 0 ? nothing : html`On this page already: ${list(own.map((name) => this.circuit('add-board', name)))}.`}
    </p>`;
  }

  private circuit(act: 'add-ready' | 'add-board', name: string): TemplateResult {
    return html`<button
      class="plain"
      title=${readyBoards.get(act === 'add-ready' ? name : '')?.purpose ?? nothing}
      @click=${() => {
        this.asksWhich = false;
        this.dispatchEvent(new CommandEvent({ act, after: this.below, name }));
      }}
    >${name}</button>`;
  }
}

function list(words: readonly TemplateResult[]): TemplateResult[] {
  return words.map((word, index) => (index === 0 ? word : html`, ${word}`));
}
