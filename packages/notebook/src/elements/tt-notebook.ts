import type { BoardResult, TraceResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { startingTime } from '../chart/cursor.ts';
import { RunController } from '../controllers/run-controller.ts';
import { boardParts, valueChange } from '../edit/board-values.ts';
import { type Edit, type History, record, settle } from '../edit/history.ts';
import { isList, type Json } from '../edit/json.ts';
import { valueView } from '../runtime/board-view.ts';
import { stateOf, waiting } from '../runtime/cell-state.ts';
import { boardOf, cellsOf, type PageCell, titleOf } from '../runtime/cells.ts';
import { complaintsOf, placedAtParts, sortComplaints } from '../runtime/issues.ts';
import { heldCells, madePrediction, type Predictions } from '../runtime/predictions.ts';
import { marginWords } from '../runtime/sections.ts';
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
import type { TrayKnob } from './tt-tray.ts';

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

  @state() private cursor: { readonly cell: string; readonly time: number } | undefined;
  @state() private chosenPart: string | undefined;
  @state() private boardInHand: string | undefined;
  @state() private isFolded = true;
  private readonly run = new RunController(this, startWorker);

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('key')) {
      this.run.clear();
      this.cursor = undefined;
      this.chosenPart = undefined;
      this.boardInHand = undefined;
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
    const said = this.saidCautions(shown);
    const board = this.board(cells);
    const place = this.cursorPlace(
      shown.filter((cell) => !held.has(cell.id)),
      board,
    );
    return html`<aside class=${this.isFolded ? 'folded' : ''} aria-label="Circuit in hand" tabindex="-1">
        <button class="fold" aria-expanded=${!this.isFolded} @click=${() => (this.isFolded = !this.isFolded)}>
          <span class="margin-word">${this.isFolded ? 'show' : 'fold away'} the circuit in hand</span>
        </button>
        <tt-circuit
          .board=${this.boardResult(cells, board)}
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
                .said=${said.get(cell.id)}
                .asks=${held.has(cell.id)}
                .draft=${this.predictions[cell.id]?.text ?? ''}
                .expected=${madePrediction(this.predictions, cell.id)}
                .state=${stateOf(this.run.states, cell.id)}
                .fromBefore=${this.run.saysFromBefore(cell.id)}
                .takesLong=${this.run.takesLong}
                .cursor=${boardOf(cell) === board ? this.cursorIn(cell, place?.time) : undefined}
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
        .knobs=${board === undefined ? [] : this.knobs(document, cells, board)}
        .chosenPart=${this.chosenPart}
        @tt-settle=${this.settle}
      ></tt-tray>`;
  }

  /** The board in hand: the one last touched, else the first on the page. */
  private board(cells: readonly PageCell[]): string | undefined {
    const names = cells.map(boardOf).filter((name): name is string => name !== undefined);
    return this.boardInHand !== undefined && names.includes(this.boardInHand) ? this.boardInHand : names[0];
  }

  private boardResult(cells: readonly PageCell[], board: string | undefined): BoardResult | undefined {
    for (const cell of cells) {
      const { shown } = stateOf(this.run.states, cell.id);
      if (boardOf(cell) === board && shown?.kind === 'board') return shown;
    }
    return undefined;
  }

  /** For each board cell, the cautions that cells above it have given already. */
  private saidCautions(cells: readonly PageCell[]): Map<string, ReadonlySet<string>> {
    const found = new Map<string, ReadonlySet<string>>();
    let so: ReadonlySet<string> = new Set();
    for (const cell of cells) {
      const result = stateOf(this.run.states, cell.id).shown;
      if (result?.kind !== 'board') continue;
      found.set(cell.id, so);
      so = new Set([...so, ...result.cautions]);
    }
    return found;
  }

  private traceOf(cell: PageCell | undefined): TraceResult | undefined {
    const shown = cell === undefined ? undefined : stateOf(this.run.states, cell.id).shown;
    return shown?.kind === 'trace' ? shown : undefined;
  }

  /** The trace that the cursor of a board stands in, and its time: where it was put, or where the first trace begins to tell. */
  private cursorPlace(
    cells: readonly PageCell[],
    board: string | undefined,
  ): { readonly trace: TraceResult; readonly time: number } | undefined {
    const traces = cells.filter((cell) => cell.kind === 'trace' && boardOf(cell) === board);
    const chosen = traces.find((cell) => cell.id === this.cursor?.cell);
    const trace = this.traceOf(chosen ?? traces.find((cell) => this.traceOf(cell) !== undefined));
    if (trace === undefined) return undefined;
    return { trace, time: chosen === undefined ? startingTime(trace) : (this.cursor?.time ?? 0) };
  }

  /** The cursor as far as it lies in a cell's own window. */
  private cursorIn(cell: PageCell, time: number | undefined): number | undefined {
    const trace = this.traceOf(cell);
    return trace !== undefined && time !== undefined && time >= trace.from && time <= trace.until ? time : undefined;
  }

  private knobs(document: Json, cells: readonly PageCell[], board: string): TrayKnob[] {
    const result = this.boardResult(cells, board);
    const boardCells = cells.filter((cell) => cell.kind === 'board' && boardOf(cell) === board);
    const names = boardCells.flatMap((cell) => (isList(cell.data['knobs']) ? cell.data['knobs'] : []));
    const faults = boardCells.map((cell) => stateOf(this.run.states, cell.id).fault);
    const parts = boardParts(document, board);
    const complaints = placedAtParts(
      faults.flatMap((fault) => complaintsOf(fault)),
      parts,
    );
    return [...new Set(names.filter((name) => typeof name === 'string'))].flatMap((name) => {
      const view = valueView(document, board, name, result);
      if (view?.unit === undefined) return [];
      const { atField } = sortComplaints(complaints, [view.name]);
      return [
        {
          name,
          part: view.place.part,
          label: `${view.place.part} ${view.title}`,
          unit: view.unit,
          value: view.value,
          text: view.text,
          nominal: valueView(this.opened, board, name, result)?.value,
          complaint: atField.get(view.name),
          change: (text: string, turning: boolean) => {
            const change = valueChange(document, board, view.place, text);
            if (change === undefined) return;
            const joins = turning ? { joins: `knob ${board} ${name}` } : {};
            this.apply({ ...change, label: `${name} to ${text}`, ...joins });
          },
        },
      ];
    });
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
    if (board === undefined || board === this.boardInHand) return;
    this.boardInHand = board;
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
