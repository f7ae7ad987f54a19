import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import type { Drawing } from '../schematic/drawing.ts';
import { shared } from '../styles/shared.ts';

/** The drawings of a board one below the other, and on request all of them enlarged. */
export class BoardDrawings extends LitElement {
  static override styles = [
    shared,
    css`
      .drawings {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 1.2rem;
        margin-top: 0.9rem;
      }
      /* Where there is little room drawings have all of it, edge to edge: they have margins of their own. */
      @media (max-width: 44rem) {
        .drawings {
          margin-inline: -1rem;
        }
        .drawings p {
          margin-inline: 1rem;
        }
      }
      .enlarge {
        margin: 0.3rem 0 0.9rem;
        font-size: var(--small);
      }
      dialog {
        width: fit-content;
        max-width: 96vw;
        max-height: 94dvh;
        padding: 0.9rem 1.3rem 1.4rem;
        border: 1px solid var(--edge);
        border-radius: 6px;
        background: var(--panel);
        color: var(--ink);
      }
      dialog::backdrop {
        background: #0009;
      }
      .bar {
        display: flex;
        justify-content: space-between;
        align-items: baseline;
        gap: 2rem;
        margin-bottom: 0.6rem;
      }
      .large {
        display: flex;
        flex-wrap: wrap;
        gap: 1.6rem;
      }
      .large > * {
        max-width: 100%;
      }
      @media (max-width: 44rem) {
        dialog {
          padding-inline: 0.6rem;
        }
      }
    `,
  ];

  @property({ attribute: false }) drawings: readonly Drawing[] = [];
  /** What the drawings are of. */
  @property({ attribute: false }) name = '';
  /** Draws one of them. */
  @property({ attribute: false }) draw: (drawing: Drawing, isLarge: boolean) => TemplateResult = () => html``;
  @state() private isEnlarged = false;
  @query('dialog') private readonly dialog!: HTMLDialogElement | null;

  protected override updated(): void {
    if (this.isEnlarged && this.dialog?.open === false) this.dialog.showModal();
  }

  protected override render(): TemplateResult {
    return html`<div class="drawings">${this.drawings.map((drawing) => this.drawn(drawing, false))}</div>
      <button class="plain enlarge on-screen" aria-haspopup="dialog" @click=${() => (this.isEnlarged = true)}>
        enlarge the drawing
      </button>
      ${
        this.isEnlarged
          ? html`<dialog aria-labelledby="title" @close=${() => (this.isEnlarged = false)}>
              <div class="bar">
                <h2 class="margin-word" id="title">circuit of <span class="as-written">${this.name}</span></h2>
                <button class="plain" @click=${() => this.dialog?.close()}>close</button>
              </div>
              <div class="large">${this.drawings.map((drawing) => this.drawn(drawing, true))}</div>
            </dialog>`
          : nothing
      }`;
  }

  private drawn(drawing: Drawing, isLarge: boolean): TemplateResult {
    const { goesOn } = drawing;
    if (goesOn === undefined) return this.draw(drawing, isLarge);
    return html`<div>
      ${this.draw(drawing, isLarge)}
      <p class="small quiet">${goesOn.join(' ')}</p>
    </div>`;
  }
}
