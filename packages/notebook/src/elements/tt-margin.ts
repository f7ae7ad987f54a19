import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';
import { CommandEvent } from './events.ts';

/**
 * What stands in the margin of a cell: the word of its section, and its name, which opens the sentences about the cell
 * as a whole. On the name, arrow keys go from cell to cell, with Alt they move the cell, and Delete takes it out.
 */
export class Margin extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: flex;
        flex-direction: column;
        align-items: flex-start;
        min-width: 0;
      }
      .margin-word {
        padding-top: 0.35rem;
      }
      .name {
        max-width: 100%;
        margin-top: 0.2rem;
        padding: 0;
        font-size: var(--small);
        text-align: left;
        text-decoration: underline dotted 1px;
        text-underline-offset: 0.22em;
        overflow-wrap: anywhere;
        opacity: var(--name-shown, 0);
      }
      .name:hover {
        background: none;
      }
      .name[aria-expanded='true'],
      .name:focus-visible {
        opacity: 1;
      }
      @media (hover: none) {
        .name {
          opacity: 1;
        }
      }
      @media (max-width: 44rem) {
        :host {
          flex-direction: row;
          align-items: baseline;
          gap: 0.8rem;
        }
        .name {
          min-height: 1.5rem;
          margin-block: -0.2rem 0.1rem;
        }
        .margin-word {
          padding: 0 0 0.45rem;
        }
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  /** The word of the section, if this cell begins one. */
  @property({ attribute: false }) word: string | undefined;
  @property({ attribute: false }) isOpen = false;

  protected override render(): TemplateResult {
    return html`${this.word === undefined ? nothing : html`<h2 class="margin-word">${this.word}</h2>`}
      <button
        class="name"
        aria-expanded=${this.isOpen}
        aria-label="${this.cell}: what this cell is, and what to do with it"
        @click=${() => this.dispatchEvent(new CommandEvent({ act: 'open', cell: this.cell }))}
        @keydown=${this.key}
      >${this.cell}</button>`;
  }

  override focus(): void {
    this.renderRoot.querySelector('button')?.focus();
  }

  private readonly key = (event: KeyboardEvent): void => {
    const { cell } = this;
    const places = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0;
    if (places === 0 && event.key !== 'Delete') return;
    event.preventDefault();
    const act = event.altKey ? 'move' : 'step';
    this.dispatchEvent(new CommandEvent(places === 0 ? { act: 'delete', cell } : { act, cell, places }));
  };
}
