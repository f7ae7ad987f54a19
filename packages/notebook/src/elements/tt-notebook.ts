import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { RunController } from '../controllers/run-controller.ts';
import { type Edit, type History, record, settle } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { cellCare } from '../runtime/cell-care.ts';
import { stateOf, waiting } from '../runtime/cell-state.ts';
import { boardOf, cellsOf, type PageCell, titleOf } from '../runtime/cells.ts';
import { heldCells, madePrediction, type Predictions } from '../runtime/predictions.ts';
import { boardInHand, boardResult, type Cursor, cursorPlace, timeInTrace } from '../runtime/page-view.ts';
import { marginWords } from '../runtime/sections.ts';
import { trayKnobs } from '../runtime/tray-knobs.ts';
import { shared } from '../styles/shared.ts';
import { startWorker } from '../worker/start.ts';
import {
  type CellLinkEvent,
  type CursorEvent,
  type EditEvent,
  HistoryEvent,
  type PartEvent,
  type RunEvent,
} from './events.ts';

/** An open document: the circuit in hand, the experiment page, and the tray of knobs. */
export class Notebook extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(24rem, 30rem) minmax(0, 1fr);
        flex: 1;
      }
      aside {
        position: sticky;
        top: 0;
        align-self: start;
        height: 100dvh;
        overflow-y: auto;
        padding: 1.6rem 1.75rem calc(var(--tray-height) + 1rem);
        background: var(--panel);
        border-right: 1px solid var(--line);
      }
      main {
        padding: 1.8rem 2.5rem 4rem;
        min-width: 0;
      }
      .title {
        display: block;
        font-size: 1.65rem;
        line-height: 1.25;
        font-weight: 650;
        letter-spacing: -0.01em;
        margin: 0 0 1.4rem 7.3rem;
        --underline: transparent;
      }
      .cells {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 2rem;
        max-width: 62rem;
      }
      tt-tray {
        position: sticky;
        bottom: 0;
        grid-column: 1 / -1;
        z-index: 2;
      }
      .complaint {
        margin: 0 0 1rem;
      }
      .fold {
        display: none;
      }
      @media (max-width: 68rem) {
        :host {
          display: block;
        }
        aside {
          position: static;
          height: auto;
          border-right: 0;
          border-bottom: 1px solid var(--line);
          padding: 0.4rem 1rem;
        }
        .fold {
          display: block;
          width: 100%;
          text-align: left;
          padding: 0.2rem 0;
          min-height: 2.25rem;
        }
        .folded tt-circuit {
          display: none;
        }
        tt-circuit {
          padding: 0.4rem 0 0.8rem;
          max-width: 34rem;
        }
        main {
          padding: 1.3rem 1rem 3rem;
        }
      }
      @media (max-width: 44rem) {
        .title {
          margin: 0 0 1.2rem -0.2rem;
          font-size: 1.4rem;
        }
      }
    `,
  ];

  /** The document with its past and future. */
  @property({ attribute: false }) history: History | undefined;
  /** The document as it was opened: what knobs go back to. */
  @property({ attribute: false }) opened: Json = null;
  /** What was expected of results that are held back. */
  @property({ attribute: false }) predictions: Predictions = {};
  /** Tells one open document from another. */
  @property({ attribute: false }) key = '';

  @state() private cursor: Cursor | undefined;
  @state() private chosenPart: string | undefined;
  @state() private touchedBoard: string | undefined;
  @state() private isFolded = true;
  private readonly run = new RunController(this, startWorker);

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('key')) {
      this.run.clear();
      this.cursor = undefined;
      this.chosenPart = undefined;
      this.touchedBoard = undefined;
    }
    if (this.history !== undefined) this.run.show(this.history.document);
    this.setAttribute('aria-busy', String(waiting(this.run.states).length > 0));
  }

  protected override render(): TemplateResult | typeof nothing {
    const { document } = this.history ?? {};
    if (document === undefined) return nothing;
    const cells = cellsOf(document);
    const held = heldCells(cells, this.predictions);
    // A cell that waits for a prediction made elsewhere is not there yet.
    const shown = cells.filter((cell) => (held.get(cell.id) ?? cell.id) === cell.id);
    const words = marginWords(shown);
    const { states } = this.run;
    const care = cellCare(shown, cells, states);
    const board = boardInHand(cells, this.touchedBoard);
    const visible = shown.filter((cell) => !held.has(cell.id));
    const place = cursorPlace(visible, states, board, this.cursor);
    return html`<aside class=${this.isFolded ? 'folded' : ''} aria-label="Circuit in hand" tabindex="-1">
        <button class="fold" aria-expanded=${!this.isFolded} @click=${() => (this.isFolded = !this.isFolded)}>
          <span class="margin-word">${this.isFolded ? 'show' : 'fold away'} the circuit in hand</span>
        </button>
        <tt-circuit
          .board=${boardResult(cells, states, board)}
          .trace=${place?.trace}
          .cursor=${place?.time}
          .chosenPart=${this.chosenPart}
          @tt-part=${this.choosePart}
        ></tt-circuit>
      </aside>
      <main
        @tt-edit=${this.edit}
        @tt-settle=${this.settle}
        @tt-cursor=${this.moveCursor}
        @tt-part=${this.choosePart}
        @tt-cell-link=${this.followLink}
        @tt-run=${this.steer}
      >
        <h1 class="unseen">${titleOf(document)}</h1>
        <tt-value
          class="title"
          .text=${titleOf(document)}
          .label=${'title of this page'}
          .change=${(title: string) => this.apply({ path: ['title'], value: title, label: `title to ${title}` })}
        ></tt-value>
        ${this.run.failure === undefined ? nothing : html`<p class="complaint" role="alert">${this.run.failure}</p>`}
        <div class="cells">
          ${repeat(
            shown,
            (cell) => cell.id,
            (cell, index) =>
              html`<tt-cell
                id=${cell.id}
                .document=${document}
                .cell=${cell}
                .word=${words[index]}
                .isFirstBoard=${shown.find((each) => each.kind === 'board') === cell}
                .care=${care.get(cell.id)}
                .asks=${held.has(cell.id)}
                .draft=${this.predictions[cell.id]?.text ?? ''}
                .expected=${madePrediction(this.predictions, cell.id)}
                .state=${stateOf(states, cell.id)}
                .fromBefore=${this.run.saysFromBefore(cell.id)}
                .takesLong=${this.run.takesLong}
                .cursor=${boardOf(cell) === board ? timeInTrace(cell, states, place?.time) : undefined}
                .chosenPart=${boardOf(cell) === board ? this.chosenPart : undefined}
                @focusin=${() => this.takeInHand(cell)}
                @pointerdown=${() => this.takeInHand(cell)}
              ></tt-cell>`,
          )}
        </div>
      </main>
      <tt-tray
        role="region"
        aria-label="Knobs"
        .knobs=${board === undefined ? [] : trayKnobs(document, this.opened, cells, states, board)}
        .chosenPart=${this.chosenPart}
        @tt-edit=${this.edit}
        @tt-settle=${this.settle}
      ></tt-tray>`;
  }

  private readonly edit = (event: EditEvent): void => {
    event.stopPropagation();
    this.apply(event.edit);
  };

  private apply(edit: Edit): void {
    if (this.history !== undefined) this.announce(record(this.history, edit));
  }

  private readonly settle = (): void => {
    if (this.history !== undefined) this.announce(settle(this.history));
  };

  private announce(history: History): void {
    if (history !== this.history) this.dispatchEvent(new HistoryEvent(history));
  }

  private readonly moveCursor = (event: CursorEvent): void => {
    this.cursor = { cell: event.cell, time: event.time };
  };

  private readonly choosePart = (event: PartEvent): void => {
    this.chosenPart = event.part;
  };

  private takeInHand(cell: PageCell): void {
    const board = boardOf(cell);
    if (board === undefined || board === this.touchedBoard) return;
    this.touchedBoard = board;
    this.chosenPart = undefined;
  }

  private readonly followLink = (event: CellLinkEvent): void => {
    const calm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const cell = this.renderRoot.querySelector(`tt-cell#${CSS.escape(event.cell)}`);
    cell?.scrollIntoView({ behavior: calm ? 'auto' : 'smooth', block: 'center' });
  };

  private readonly steer = (event: RunEvent): void => {
    if (event.wish === 'stop') this.run.stop();
    else this.run.again();
  };
}
