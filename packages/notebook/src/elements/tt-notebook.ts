import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { repeat } from 'lit/directives/repeat.js';
import { CaptureFiles } from '../controllers/capture-files.ts';
import { CellCommands, type CommandHost } from '../controllers/cell-commands.ts';
import { ClearOfTray } from '../controllers/clear-of-tray.ts';
import { DocumentEdits } from '../controllers/document-edits.ts';
import { DrawingTurns } from '../controllers/drawing-turns.ts';
import { InHand } from '../controllers/in-hand.ts';
import { RunController } from '../controllers/run-controller.ts';
import { WhatIfController } from '../controllers/what-if-controller.ts';
import { askedOfBoards } from '../edit/asked-of-boards.ts';
import type { Edit, History } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import type { AskedOfBoard } from '../edit/what-if-mark.ts';
import { cellCare } from '../runtime/cell-care.ts';
import { boardPlace } from '../runtime/board-place.ts';
import { NO_NEWS, whatIfNews } from '../runtime/what-if-news.ts';
import { stateOf, waiting } from '../runtime/cell-state.ts';
import { boardOf, cellsOf, type PageCell, titleOf } from '../runtime/cells.ts';
import { heldCells, madePrediction, type Predictions } from '../runtime/predictions.ts';
import { boardResult, cursorPlace, drawingStandard, timeInTrace, whyUndrawn } from '../runtime/page-view.ts';
import { marginWords } from '../runtime/sections.ts';
import { nextTurns } from '../runtime/next-turns.ts';
import { KeptKnobs, type TrayKnob } from '../runtime/tray-knobs.ts';
import { shared } from '../styles/shared.ts';
import { startWorker } from '../worker/start.ts';
import { startReader } from '../worker/start-reader.ts';
import { type CommandEvent, type EditEvent, PredictionEvent, type RunEvent } from './events.ts';
import { notebookStyles } from './notebook-styles.ts';
import type { Cell } from './tt-cell.ts';

/** An open document: the circuit in hand, the experiment page, and the tray of knobs. */
export class Notebook extends LitElement implements CommandHost {
  static override styles = [shared, notebookStyles];

  /** The document with its past and future. */
  @property({ attribute: false }) history: History | undefined;
  /** The document as it was opened: what knobs go back to. */
  @property({ attribute: false }) opened: Json = null;
  /** What was expected of results that are held back. */
  @property({ attribute: false }) predictions: Predictions = {};
  /** Ids of the cells that are folded to one line. */
  @property({ attribute: false }) folded: readonly string[] = [];
  /** Tells one open document from another. */
  @property({ attribute: false }) key = '';

  @state() private isFolded = true;
  private asked: readonly AskedOfBoard[] = [];
  private readonly turns = new DrawingTurns(this, () => this.tellBusy());
  private readonly run = new RunController(this, startWorker, new CaptureFiles(this, startReader), this.turns, (ids) =>
    this.handOn(ids),
  );
  private readonly edits = new DocumentEdits(this, ({ document }) => {
    this.knobsBefore = this.shownKnobs;
    // It is on its way to be computed before the page is drawn: neither waits for the other.
    this.run.show(document);
  });
  private readonly hand = new InHand(this);
  private readonly commands = new CellCommands(this);
  private readonly knobs = new KeptKnobs();
  /** Whether a computation has taken longer than a blink since the page was opened. */
  private tookLong = false;
  private shownKnobs: readonly TrayKnob[] = [];
  /** What was shown of them when the last edit was made. */
  private knobsBefore: readonly TrayKnob[] = [];
  private readonly whatIf = new WhatIfController(this, startWorker, () => this.run.drawLater());

  constructor() {
    super();
    new ClearOfTray(this);
    this.run.onShown = () => {
      if (this.history !== undefined) this.run.foresee(nextTurns(this.history, this.shownKnobs, this.knobsBefore));
    };
  }

  /** The document as it is now. */
  get document(): Json {
    return this.history?.document ?? null;
  }

  /** The board in hand. */
  get board(): string | undefined {
    return this.hand.board;
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('key')) {
      this.run.clear();
      this.hand.reset();
      this.tookLong = false;
      this.commands.reset();
    }
    if (this.history !== undefined) {
      this.run.show(this.history.document);
      this.asked = askedOfBoards(this.history);
      this.whatIf.show(this.history.document, this.asked);
    }
    this.tellBusy();
  }

  /** Says whether the page is still at work: computes, or has results that are not drawn yet. */
  private tellBusy(): void {
    const busy = String(waiting(this.run.states).length > 0 || this.turns.isWaiting);
    if (this.getAttribute('aria-busy') !== busy) this.setAttribute('aria-busy', busy);
  }

  protected override render(): TemplateResult | typeof nothing {
    if (this.history === undefined) return nothing;
    const { document, board } = this;
    const cells = cellsOf(document);
    const held = this.commands.withoutMade(heldCells(cells, this.predictions));
    // A cell that waits for a prediction made elsewhere is not there yet.
    const shown = cells.filter((cell) => (held.get(cell.id) ?? cell.id) === cell.id);
    const words = marginWords(shown);
    const { states } = this.run;
    const care = cellCare(shown, cells, states);
    const visible = shown.filter((cell) => !held.has(cell.id));
    const place = cursorPlace(visible, states, board, this.hand.cursor);
    const knobs = this.knobs.of(document, this.opened, cells, states, board);
    this.shownKnobs = knobs;
    return html`<aside class="${this.isFolded ? 'folded' : ''} ${board === undefined ? 'bare' : ''}" aria-label="Circuit in hand" tabindex="0">
        <button class="fold on-screen" aria-expanded=${!this.isFolded} @click=${() => (this.isFolded = !this.isFolded)}>
          <span class="margin-word">${this.isFolded ? 'show' : 'fold away'} the circuit in hand</span>
        </button>
        <tt-circuit
          .document=${document}
          .place=${boardPlace(document, board)}
          .board=${boardResult(cells, states, board)}
          .noDrawing=${board === undefined ? '' : whyUndrawn(cells, states, board)}
          .standard=${drawingStandard(cells, board)}
          .trace=${place?.trace}
          .cursor=${place?.time}
          .chosenPart=${this.hand.part}
          .knobs=${knobs}
          .turns=${this.turns}
          @tt-part=${this.hand.choosePart}
          @tt-edit=${this.edit}
          @tt-settle=${this.edits.settle}
        >
          ${
            board === undefined
              ? nothing
              : html`<tt-what-if
                  class="on-screen"
                  slot="what-if"
                  .document=${document}
                  .board=${board}
                  .asked=${this.asked}
                  .turns=${this.turns}
                  .news=${
                    this.asked.length === 0
                      ? NO_NEWS
                      : whatIfNews(
                          cells,
                          board,
                          (cell) => held.has(cell.id),
                          (id) => this.whatIf.of(id, states),
                        )
                  }
                  @tt-command=${this.command}
                ></tt-what-if>`
          }
        </tt-circuit>
      </aside>
      <main
        @tt-edit=${this.edit}
        @tt-settle=${this.edits.settle}
        @tt-cursor=${this.hand.moveCursor}
        @tt-part=${this.hand.choosePart}
        @tt-cell-link=${this.hand.followLink}
        @tt-run=${this.steer}
        @tt-command=${this.command}
      >
        <h1 class="unseen">${titleOf(document)}</h1>
        <p class="unseen" role="status">${this.heard()}</p>
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
                class=${cell.kind}
                .document=${document}
                .cell=${cell}
                .word=${words[index]}
                .isFirstBoard=${shown.find((each) => each.kind === 'board') === cell}
                .care=${care.get(cell.id)}
                .asks=${held.has(cell.id)}
                .draft=${this.predictions[cell.id]?.text ?? ''}
                .expected=${madePrediction(this.predictions, cell.id)}
                .isRevealed=${cell.data['hold_back'] === true && this.predictions[cell.id]?.revealed === true}
                .state=${live(stateOf(states, cell.id))}
                .comparison=${held.has(cell.id) ? undefined : this.whatIf.of(cell.id, states)}
                .documentBefore=${this.history?.past.at(-1)?.document}
                .fromBefore=${live(this.run.saysFromBefore(cell.id))}
                .takesLong=${this.run.takesLong}
                .why=${this.run.whyWithout(cell)}
                .cursor=${live(boardOf(cell) === board ? timeInTrace(cell, states, place?.time) : undefined)}
                .chosenPart=${boardOf(cell) === board ? this.hand.part : undefined}
                .isOpen=${this.commands.openCell === cell.id}
                .isFolded=${this.folded.includes(cell.id)}
                .turns=${this.turns}
                @focusin=${() => this.focusIn(cell)}
                @pointerdown=${() => this.hand.take(cell.id)}
              ></tt-cell>`,
          )}
          <tt-go-on
            class="end on-screen"
            .document=${document}
            .board=${cells.map(boardOf).findLast((each) => each !== undefined) ?? board}
            .words=${cells.length === 0 ? 'Begin with' : 'Go on with'}
            .turns=${this.turns}
          ></tt-go-on>
        </div>
      </main>
      <tt-tray
        class="on-screen"
        role="region"
        aria-label="Knobs"
        ?hidden=${board === undefined}
        .place=${boardPlace(document, board)}
        .knobs=${knobs}
        .isComputed=${boardResult(cells, states, board) !== undefined}
        .chosenPart=${this.hand.part}
        @tt-edit=${this.edit}
        @tt-settle=${this.edits.settle}
      ></tt-tray>`;
  }

  /** Gives some cells their states ahead of all else that follows from these. */
  private handOn(ids: readonly string[]): void {
    const { board } = this;
    const { states } = this.run;
    const cells = cellsOf(this.document);
    const held = this.commands.withoutMade(heldCells(cells, this.predictions));
    const visible = cells.filter((cell) => !held.has(cell.id));
    const place = cursorPlace(visible, states, board, this.hand.cursor);
    for (const cell of cells.filter(({ id }) => ids.includes(id))) {
      const element = this.renderRoot.querySelector<Cell>(`tt-cell#${CSS.escape(cell.id)}`);
      if (element === null) continue;
      element.state = stateOf(states, cell.id);
      element.fromBefore = this.run.saysFromBefore(cell.id);
      if (boardOf(cell) === board) element.cursor = timeInTrace(cell, states, place?.time);
    }
  }

  /** What is called out while a computation takes longer than a blink, once for all cells, and when it has ended. */
  private heard(): string {
    if (this.run.takesLong) this.tookLong = true;
    if (!this.tookLong || this.run.failure !== undefined) return '';
    return this.run.takesLong ? 'the page is being computed' : 'nothing is left to compute';
  }

  private readonly edit = (event: EditEvent): void => {
    event.stopPropagation();
    this.apply(event.edit);
  };

  /** Makes one edit of the document. */
  apply(edit: Edit): void {
    this.edits.apply(edit);
  }

  /** Folds a cell to one line, or unfolds it. */
  fold(cell: string): void {
    this.edits.fold(cell);
  }

  /** Lets prediction and folding of a cell follow its new name. */
  follow(cell: string, to: string): void {
    const prediction = this.predictions[cell];
    if (prediction !== undefined) this.dispatchEvent(new PredictionEvent(to, prediction));
    this.edits.follow(cell, to);
  }

  private readonly command = (event: CommandEvent): void => {
    event.stopPropagation();
    this.commands.handle(event.command);
  };

  private focusIn(cell: PageCell): void {
    this.commands.noteFocus(cell.id);
    this.hand.take(cell.id);
  }

  private readonly steer = ({ wish }: RunEvent): void => (wish === 'stop' ? this.run.stop() : this.run.again());
}
