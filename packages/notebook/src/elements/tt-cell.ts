import { html, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Looked } from '../chart/event-rows.ts';
import { boardNames, signalNames } from '../edit/board-names.ts';
import { boardParts } from '../edit/board-values.ts';
import { formulaNames, linkNames, numberNames, readingParts } from '../edit/expression-names.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { newReading, renameReading } from '../edit/rename.ts';
import { boardPlaces, partViews, type ValueView } from '../runtime/board-view.ts';
import { type CellCare, isOtherCare } from '../runtime/cell-care.ts';
import { type CellState } from '../runtime/cell-state.ts';
import { comparisonText, type Comparison, isOtherComparison } from '../runtime/compared.ts';
import { boardOf, type PageCell, textField, written } from '../runtime/cells.ts';
import { frontValues } from '../runtime/front-values.ts';
import { type Complaint, complaintsOf, isAboutBoard, placedAtParts, sortComplaints } from '../runtime/issues.ts';
import { partShows } from '../runtime/part-shows.ts';
import { studyFields } from '../runtime/study-plan.ts';
import { valueEdit } from '../runtime/value-edit.ts';
import { shared } from '../styles/shared.ts';
import { cellStyles } from './cell-styles.ts';
import { DrawnInTurn } from './drawn-in-turn.ts';
import { EditEvent, type LookEvent } from './events.ts';
import { knobLook } from './knob-look.ts';
import { powerUpNote } from './power-up-note.ts';
import { particularFields } from './tt-particulars.ts';

/** One cell of the page: its word in the margin, its content, and below it what is to be said about its result. */
export class Cell extends DrawnInTurn {
  static override styles = [shared, cellStyles];

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
  /** Whether the sentences about the cell as a whole stand below it. */
  @property({ attribute: false }) isOpen = false;
  @property({ attribute: false }) isFolded = false;
  /** What is looked at of a trace. */
  @state() private looked: Looked = {};

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
    const boardAtFault = cell.kind !== 'board' && complaintsOf(this.state?.fault).some(isAboutBoard);
    return html`<tt-cell-state
        .state=${this.state}
        .fromBefore=${this.fromBefore}
        .takesLong=${this.takesLong}
        .boardAtFault=${boardAtFault}
      ></tt-cell-state>
      ${this.remembered()} ${this.content(cell)} ${this.compared()} ${powerUpNote(this.state?.shown)}`;
  }

  private remembered(): TemplateResult | typeof nothing {
    if (this.expected === undefined || this.cell?.kind === 'ask') return nothing;
    return html`<p class="expected"><span class="quiet">You expected:</span> ${this.expected}</p>`;
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
        return this.trace(cell);
      case 'fates':
        return this.fates(cell);
      case 'reading':
        return this.reading(cell);
      case 'formula':
        return this.formula(cell);
      case 'ask':
        return this.ask(cell);
      default:
        return html`${this.others(this.sorted(studyFields(this.document, cell)).others)}
          <tt-study .document=${this.document} .cell=${cell} .state=${this.state}></tt-study>`;
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
    const complaints = placedAtParts(complaintsOf(this.state?.fault), boardParts(this.document, name));
    const { atField, others } = sortComplaints(complaints, boardPlaces(this.document, name, parts));
    return html`${this.others(others)}
      <tt-board
        .document=${this.document}
        .board=${name}
        .parts=${parts}
        .result=${result}
        .complaints=${atField}
        .chosenPart=${this.chosenPart}
        .said=${this.care?.said ?? new Set()}
        .front=${this.isFirstBoard ? [] : frontValues(this.document, cell, parts)}
        .change=${(value: ValueView, text: string) => this.editValue(name, value, text)}
        .knobs=${knobLook(this, this.document, cell)}
      ></tt-board>`;
  }

  private trace(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const trace = shown?.kind === 'trace' ? shown : undefined;
    const { atField, others } = this.sorted(['from', 'until', 'show']);
    const show = cell.data['show'];
    return html`${this.others(others)}
      <tt-trace
        .cell=${cell.id}
        .trace=${trace}
        .cursor=${this.cursor}
        .shows=${partShows(this.document, boardOf(cell), this.chosenPart)}
        @tt-look=${this.noteLook}
      ></tt-trace>
      <p class="plan">
        <span>showing</span>
        ${this.field(
          cell,
          'show',
          isList(show) ? show.map(written).join(', ') : written(show),
          'nets and currents shown',
          atField,
          (text) => text.split(',').map((each) => each.trim()),
          signalNames(this.document, boardOf(cell)),
        )}
        ${this.window(cell, atField)}
      </p>
      <tt-trace-table .trace=${trace} .looked=${this.looked}></tt-trace-table>`;
  }

  private readonly noteLook = ({ view, detail }: LookEvent): void => {
    this.looked = { view, detail };
  };

  private fates(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const { atField, others } = this.sorted(['from', 'until', 'timer']);
    return html`${this.others(others)}
      <tt-fates .result=${shown?.kind === 'fates' ? shown : undefined}></tt-fates>
      <p class="plan">
        <span>pulses at</span>
        ${this.field(
          cell,
          'timer',
          textField(cell.data, 'timer') ?? (shown?.kind === 'fates' ? shown.timer : ''),
          'timer whose pulses are listed',
          atField,
          (text) => text,
          boardNames(this.document, boardOf(cell) ?? '').timers,
        )}
        ${this.window(cell, atField)}
      </p>`;
  }

  private reading(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const take = isRecord(cell.data['take']) ? cell.data['take'] : {};
    const names = Object.keys(take);
    const { atField, others } = this.sorted(['from', 'until', ...names.map((name) => `take.${name}`)]);
    const complaints = new Map([...atField].map(([field, message]) => [field.replace('take.', ''), message]));
    return html`${this.others(others)}
      <tt-reading
        .result=${shown?.kind === 'reading' ? shown : undefined}
        .take=${Object.fromEntries(names.map((name) => [name, written(take[name])]))}
        .complaints=${complaints}
        .names=${readingParts(this.document, boardOf(cell))}
        .change=${(name: string, text: string) =>
          this.edit(
            ['take', name],
            text === '' ? undefined : text,
            text === '' ? `take out ${name}` : `${name} to ${text}`,
          )}
        .rename=${(name: string, to: string) => this.renameReading(cell, name, to)}
        .add=${(text: string) => this.edit(['take', newReading(names, text)], text, `add ${text}`)}
      ></tt-reading>
      <p class="plan">${this.window(cell, atField)}</p>`;
  }

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
        .change=${(field: string, text: string) =>
          this.edit([field], text === '' ? undefined : text, `${field} to ${text}`)}
      ></tt-ask>`;
  }

  private sorted(fields: readonly string[]): ReturnType<typeof sortComplaints> {
    return sortComplaints(complaintsOf(this.state?.fault), fields);
  }

  /** The window a cell looks at, edited in place. */
  private window(cell: PageCell, complaints: ReadonlyMap<string, string>): TemplateResult {
    return html`<span>from</span>
      ${this.field(cell, 'from', written(cell.data['from'] ?? '0 s'), 'start of the window', complaints)}
      <span>until</span>
      ${this.field(cell, 'until', written(cell.data['until']), 'end of the window', complaints)}`;
  }

  private field(
    cell: PageCell,
    field: string,
    text: string,
    label: string,
    complaints: ReadonlyMap<string, string>,
    read: (text: string) => Json = (typed) => typed,
    names: readonly string[] = [],
  ): TemplateResult {
    return html`<tt-value
      .text=${text}
      .label=${`${label}, ${cell.id}`}
      .complaint=${complaints.get(field)}
      .names=${names}
      .change=${(typed: string) => this.edit([field], typed === '' ? undefined : read(typed), `${field} to ${typed}`)}
    ></tt-value>`;
  }

  /** Complaints that belong to no field of this cell. What is wrong with a board is said at the board. */
  private others(complaints: readonly Complaint[]): TemplateResult {
    const { cell } = this;
    const all = this.isOpen && cell ? sortComplaints(complaints, particularFields(cell)).others : complaints;
    const own = cell?.kind === 'board' ? all : all.filter((each) => !isAboutBoard(each));
    return html`${own.map(({ message }) => html`<p class="complaint" role="alert">${message}</p>`)}`;
  }

  private renameReading(cell: PageCell, name: string, to: string): void {
    const others = Object.keys(isRecord(cell.data['take']) ? cell.data['take'] : {});
    // A name that cannot be used goes into the document all the same only if nothing is overwritten by it.
    if (!others.includes(to)) this.dispatchEvent(new EditEvent(renameReading(this.document, cell.id, name, to)));
  }

  private edit(steps: readonly string[], value: Json | undefined, label: string, joins?: string): void {
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
