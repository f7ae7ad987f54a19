import { type CellResult, cellNeeds } from '@two-thirds/sim/document';
import { html, type LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Looked } from '../chart/event-rows.ts';
import { boardParts } from '../edit/board-values.ts';
import { formulaNames, linkNames, numberNames } from '../edit/expression-names.ts';
import type { Json } from '../edit/json.ts';
import { boardPlaces, partViews, type ValueView } from '../runtime/board-view.ts';
import { type CellCare, isOtherCare } from '../runtime/cell-care.ts';
import { type CellState } from '../runtime/cell-state.ts';
import { comparisonText, isOtherComparison } from '../runtime/compared.ts';
import type { Comparison } from '../runtime/comparison.ts';
import { LastResult } from '../runtime/last-result.ts';
import { boardOf, isDraggedAlong, type PageCell, textField } from '../runtime/cells.ts';
import { frontValues } from '../runtime/front-values.ts';
import {
  boardFault,
  type Complaint,
  complaintsOf,
  isAboutBoard,
  placedAtParts,
  sortComplaints,
  type SortedComplaints,
} from '../runtime/issues.ts';
import { studyFields } from '../runtime/study-plan.ts';
import { valueEdit } from '../runtime/value-edit.ts';
import { shared } from '../styles/shared.ts';
import { cellStyles } from './cell-styles.ts';
import { cellKnobButtons } from './cell-knob-buttons.ts';
import { DrawnInTurn } from './drawn-in-turn.ts';
import { EditEvent, type LookEvent, PredictionEvent } from './events.ts';
import { knobButtonStyles } from './knob-button-styles.ts';
import { knobLook } from './knob-look.ts';
import { grazeNote } from './graze-note.ts';
import { powerUpNote } from './power-up-note.ts';
import { fatesContent, readingContent, type RunCellHost, traceContent } from './run-cell.ts';
import { particularFields } from './tt-particulars.ts';

/** What may be drawn a moment later: a cell that is worked on is told by the others. */
const patient: ReadonlySet<PropertyKey> = new Set<keyof Cell>([
  'document',
  'documentBefore',
  'state',
  'comparison',
  'fromBefore',
  'takesLong',
  'why',
  'care',
]);

/** One cell of the page: its word in the margin, its content, and below it what is to be said about its result. */
export class Cell extends DrawnInTurn implements RunCellHost {
  static override styles = [shared, knobButtonStyles, cellStyles];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  @property({ attribute: false }) state: CellState | undefined;
  /** What is another than it would be without what is asked of the boards. */
  @property({ attribute: false, hasChanged: isOtherComparison }) comparison: Comparison | undefined;
  /** The word in the margin, if this cell begins a section. */
  @property({ attribute: false }) word: string | undefined;
  /** Whether to say that the result comes from the values before. */
  @property({ attribute: false }) fromBefore = false;
  /** Whether the computation takes longer than a blink. */
  @property({ attribute: false }) takesLong = false;
  /** What the result waits for, or why it was given up, where that is to be said. */
  @property({ attribute: false }) why: string | undefined;
  /** Time of the cursor of this cell's board, seconds. */
  @property({ attribute: false }) cursor: number | undefined;
  @property({ attribute: false }) chosenPart: string | undefined;
  /** Whether this is the first board of the page, shown with all its parts. */
  @property({ attribute: false }) isFirstBoard = false;
  /** What has to be said for safety beside it. */
  @property({ attribute: false, hasChanged: isOtherCare }) care: CellCare | undefined;
  /** Whether the result waits for a prediction, and what is written of it so far. */
  @property({ attribute: false }) asks = false;
  @property({ attribute: false }) draft = '';
  /** The prediction that was made before the result was shown. */
  @property({ attribute: false }) expected: string | undefined;
  /** Whether its result was held back and is shown. */
  @property({ attribute: false }) isRevealed = false;
  /** The document before the last step of undo. */
  @property({ attribute: false }) documentBefore: Json | undefined;
  /** Whether the sentences about the cell as a whole stand below it. */
  @property({ attribute: false }) isOpen = false;
  @property({ attribute: false }) isFolded = false;
  /** What is looked at of a trace. */
  @state() looked: Looked = {};

  private readonly last = new LastResult();
  /** Whether the result is being held back again, so that the focus does not go with the button that was pressed. */
  private isGoingBack = false;

  /** Part of {@link DrawnInTurn}: a knob drags traces and readings along; all else that follows from it comes after them. */
  protected override canWait(changed: PropertyValues<this>): boolean {
    const before = changed.get('state');
    const isNew = before?.shown !== this.state?.shown || before?.fault !== this.state?.fault;
    const isAwaited = changed.has('state') && isNew && this.turns?.isSeen(this) === true;
    if (isAwaited && isDraggedAlong(this.cell)) return false;
    return changed.size > 0 && [...changed.keys()].every((name) => patient.has(name));
  }

  /** What it had before the last step of undo; undefined where the step left it as it is. */
  get former(): CellResult | undefined {
    return this.last.before;
  }

  protected override willUpdate(): void {
    this.last.take(this.state, this.documentBefore);
  }

  protected override updated(): void {
    if (!(this.isGoingBack && this.asks)) return;
    this.isGoingBack = false;
    this.renderRoot.querySelector<LitElement>('tt-prediction')?.focus();
  }

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    if (cell === undefined) return nothing;
    return html`<tt-margin .cell=${cell.id} .word=${this.word} .isOpen=${this.isOpen}></tt-margin>
      <div>
        ${
          // Never folded away; what a held-back run found stands at its board.
          this.asks ? nothing : html`<tt-safety .care=${this.care} .isBoard=${cell.kind === 'board'}></tt-safety>`
        }
        ${
          this.isOpen
            ? html`<tt-particulars
                .document=${this.document}
                .cell=${cell}
                .isFolded=${this.isFolded}
                .complaints=${this.sorted(particularFields(cell)).atField}
              ></tt-particulars>`
            : nothing
        }
        ${this.isFolded ? html`<tt-folded .cell=${cell}></tt-folded>` : this.body(cell)}
      </div>`;
  }

  private body(cell: PageCell): TemplateResult {
    if (this.asks && cell.kind !== 'ask')
      return html`<tt-prediction .cell=${cell.id} .text=${this.draft}></tt-prediction>`;
    const fault = cell.kind === 'board' ? undefined : boardFault(complaintsOf(this.state?.fault));
    // A note that quotes nothing stands as it is: it waits for no result.
    const hasResult = cell.kind !== 'note' || cellNeeds(cell.data).length > 0;
    return html`<tt-cell-state
        .state=${hasResult ? this.state : undefined}
        .fromBefore=${this.fromBefore}
        .takesLong=${this.takesLong}
        .why=${this.why}
        .boardFault=${fault}
      ></tt-cell-state>
      ${this.remembered()} ${this.content(cell)} ${this.compared()} ${powerUpNote(this.state?.shown)} ${grazeNote(this.state?.shown)}`;
  }

  /** What was expected, and the way back to where the result was held back. */
  private remembered(): TemplateResult | typeof nothing {
    const { cell, expected } = this;
    if (cell === undefined || cell.kind === 'ask' || (expected === undefined && !this.isRevealed)) return nothing;
    return html`<div class=${expected === undefined ? 'revealed' : 'expected'}>
      ${expected === undefined ? nothing : html`<p><span class="quiet">You expected:</span> ${expected}</p>`}
      ${
        this.isRevealed
          ? html`<button class="plain small on-screen" aria-label="hold it back again: ${cell.id}" @click=${() => this.holdBack(cell)}>
              hold it back again
            </button>`
          : nothing
      }
    </div>`;
  }

  private holdBack({ id }: PageCell): void {
    const prediction = { text: this.draft, revealed: false };
    this.isGoingBack = true;
    this.dispatchEvent(new PredictionEvent(id, prediction, `hold ${id} back again`));
  }

  private compared(): TemplateResult | typeof nothing {
    const { comparison } = this;
    if (comparison === undefined) return nothing;
    return html`<p class="compared"><span class="quiet">What if:</span> ${comparisonText(comparison)}</p>`;
  }

  private content(cell: PageCell): TemplateResult {
    switch (cell.kind) {
      case 'note':
        return this.note(cell);
      case 'board':
        return this.board(cell);
      case 'trace':
        return traceContent(this, cell);
      case 'fates':
        return fatesContent(this, cell);
      case 'reading':
        return readingContent(this, cell);
      case 'formula':
        return this.formula(cell);
      case 'ask':
        return this.ask(cell);
      default:
        return html`${this.others(this.sorted(studyFields(this.document, cell)).others)}
          <tt-study .document=${this.document} .cell=${cell} .state=${this.state} .former=${this.former}></tt-study>`;
    }
  }

  private note(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    return html`${this.others(complaintsOf(this.state?.fault))}
      <tt-note
        .cell=${cell.id}
        .text=${textField(cell.data, 'text') ?? ''}
        .names=${linkNames(this.document)}
        .result=${shown?.kind === 'note' ? shown : undefined}
        .change=${(text: string) => this.edit(['text'], text, `text of ${cell.id}`, `text ${cell.id}`)}
      ></tt-note>`;
  }

  private board(cell: PageCell): TemplateResult {
    const name = boardOf(cell) ?? '';
    const shown = this.state?.shown;
    const result = shown?.kind === 'board' ? shown : undefined;
    const parts = partViews(this.document, name, result);
    const complaints = placedAtParts(complaintsOf(this.state?.fault), name, boardParts(this.document, name));
    const { atField, others } = sortComplaints(complaints, boardPlaces(this.document, name, parts));
    return html`${this.others(others)}
      <tt-board
        .document=${this.document}
        .board=${name}
        .parts=${parts}
        .result=${result}
        .isAwaited=${this.isFirstBoard && result === undefined && this.state?.phase === 'waiting'}
        .complaints=${atField}
        .chosenPart=${this.chosenPart}
        .said=${this.care?.said ?? new Set()}
        .front=${this.isFirstBoard ? [] : frontValues(this.document, cell, parts)}
        .change=${(value: ValueView, text: string) => this.editValue(name, value, text)}
        .knobs=${knobLook(this, this.document, cell)}
      ></tt-board>`;
  }

  /** Notes what is looked at of a trace. */
  readonly noteLook = ({ view, detail }: LookEvent): void => {
    this.looked = { view, detail };
  };

  private formula(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const { atField, others } = this.sorted(['text']);
    return html`${this.others(others)}
      <tt-formula
        .cell=${cell.id}
        .text=${textField(cell.data, 'text') ?? ''}
        .result=${shown?.kind === 'formula' ? shown : undefined}
        .complaint=${atField.get('text')}
        .names=${formulaNames(this.document)}
        .change=${(text: string) => this.edit(['text'], text, `${cell.id} to ${text}`)}
      ></tt-formula>`;
  }

  private ask(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const { atField, others } = this.sorted(['question', 'answer', 'within']);
    return html`${this.others(others)}
      <tt-ask
        .cell=${cell.id}
        .data=${cell.data}
        .result=${shown?.kind === 'ask' ? shown : undefined}
        .draft=${this.draft}
        .revealed=${!this.asks}
        .complaints=${atField}
        .names=${numberNames(this.document)}
        .knob=${cellKnobButtons(this, this.document, cell, ['within'], atField).get('within')}
        .change=${(field: string, text: string) =>
          this.edit([field], text === '' ? undefined : text, `${field} to ${text}`)}
      ></tt-ask>`;
  }

  /** Complaints about the cell: those about these fields by field, and the others. */
  sorted(fields: readonly string[]): SortedComplaints {
    return sortComplaints(complaintsOf(this.state?.fault), fields);
  }

  /** Complaints that belong to no field of this cell. What is wrong with a board is said at the board. */
  others(complaints: readonly Complaint[]): TemplateResult {
    const { cell } = this;
    const all = this.isOpen && cell ? sortComplaints(complaints, particularFields(cell)).others : complaints;
    const own = cell?.kind === 'board' ? all : all.filter((each) => !isAboutBoard(each));
    return html`${own.map(({ message }) => html`<p class="complaint" role="alert">${message}</p>`)}`;
  }

  /** Writes a value of the cell. */
  edit(steps: readonly string[], value: Json | undefined, label: string, joins?: string): void {
    const { cell } = this;
    if (cell === undefined) return;
    const path = ['page', cell.index, ...steps];
    this.dispatchEvent(new EditEvent({ path, value, label, ...(joins === undefined ? {} : { joins }) }));
  }

  private editValue(board: string, value: ValueView, text: string): void {
    const edit = valueEdit(this.document, board, value, text);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  }
}
