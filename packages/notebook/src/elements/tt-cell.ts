import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { boardParts, valueChange, valuePlace } from '../edit/board-values.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { typedValue } from '../edit/typed-value.ts';
import { partViews, type PartView, type ValueView } from '../runtime/board-view.ts';
import type { CellCare } from '../runtime/cell-care.ts';
import { type CellState } from '../runtime/cell-state.ts';
import { boardOf, type PageCell, textField } from '../runtime/cells.ts';
import { type Complaint, complaintsOf, isAboutBoard, placedAtParts, sortComplaints } from '../runtime/issues.ts';
import { shared } from '../styles/shared.ts';
import { EditEvent, RunEvent } from './events.ts';

/** One cell of the page: its word in the margin, its content, and below it what is to be said about its result. */
export class Cell extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: grid;
        grid-template-columns: 6.5rem minmax(0, 1fr);
        column-gap: 1rem;
        scroll-margin-top: 5rem;
      }
      .margin-word {
        padding-top: 0.35rem;
      }
      .plan {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0 0.5rem;
        margin-top: 0.5rem;
        color: var(--quiet);
        font-size: var(--small);
      }
      .say {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0.2rem 0.8rem;
        margin-bottom: 0.6rem;
        font-size: var(--small);
        color: var(--gold);
      }
      progress {
        accent-color: var(--gold);
        width: 8rem;
        height: 0.6rem;
      }
      .complaint {
        margin-bottom: 0.5rem;
      }
      .expected {
        max-width: 68ch;
        margin-bottom: 1rem;
        padding-left: 1rem;
        border-left: 3px solid var(--gold);
        white-space: pre-line;
      }
      @media (max-width: 44rem) {
        :host {
          display: block;
        }
        .margin-word {
          padding: 0 0 0.45rem;
        }
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  @property({ attribute: false }) state: CellState | undefined;
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
  @property({ attribute: false }) care: CellCare | undefined;
  /** Whether the result waits for a prediction, and what is written of it so far. */
  @property({ attribute: false }) asks = false;
  @property({ attribute: false }) draft = '';
  /** The prediction that was made before the result was shown. */
  @property({ attribute: false }) expected: string | undefined;

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    if (cell === undefined) return nothing;
    return html`${this.word === undefined ? html`<span></span>` : html`<h2 class="margin-word">${this.word}</h2>`}
      <div>
        ${this.safety(cell)}
        ${
          this.asks
            ? html`<tt-prediction .cell=${cell.id} .text=${this.draft}></tt-prediction>`
            : html`${this.notice()} ${this.remembered()} ${this.content(cell)}`
        }
      </div>`;
  }

  /** Never folded away; what a held-back run found stands at its board. */
  private safety(cell: PageCell): TemplateResult | typeof nothing {
    if (this.asks) return nothing;
    return html`<tt-safety .care=${this.care} .isBoard=${cell.kind === 'board'}></tt-safety>`;
  }

  private notice(): TemplateResult | typeof nothing {
    const { state } = this;
    if (state === undefined) return nothing;
    const isWaiting = state.phase === 'waiting' && this.takesLong;
    const boardAtFault = this.cell?.kind !== 'board' && complaintsOf(state.fault).some(isAboutBoard);
    if (!this.fromBefore && !isWaiting && !boardAtFault && state.phase !== 'stopped') return nothing;
    return html`<p class="say" role="status">
      ${this.fromBefore ? html`<span>from the values before</span>` : nothing}
      ${boardAtFault ? html`<span>the board has a value that cannot be used</span>` : nothing}
      ${
        isWaiting
          ? html`<progress aria-label="share computed" .value=${state.progress ?? 0} ?hidden=${state.progress === undefined}></progress>
              <button class="plain" @click=${() => this.dispatchEvent(new RunEvent('stop'))}>stop computing</button>`
          : nothing
      }
      ${
        state.phase === 'stopped'
          ? html`<span>computing was stopped</span>
              <button class="plain" @click=${() => this.dispatchEvent(new RunEvent('again'))}>compute</button>`
          : nothing
      }
    </p>`;
  }

  private remembered(): TemplateResult | typeof nothing {
    if (this.expected === undefined) return nothing;
    return html`<p class="expected"><span class="quiet">You expected:</span> ${this.expected}</p>`;
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
      default:
        return this.others(complaintsOf(this.state?.fault));
    }
  }

  private note(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    return html`${this.others(complaintsOf(this.state?.fault))}
      <tt-note
        .cell=${cell.id}
        .text=${textField(cell.data, 'text') ?? ''}
        .result=${shown?.kind === 'note' ? shown : undefined}
        .change=${(text: string) => this.edit(['text'], text, `text of ${cell.id}`, `text ${cell.id}`)}
      ></tt-note>`;
  }

  private board(cell: PageCell): TemplateResult {
    const name = boardOf(cell) ?? '';
    const shown = this.state?.shown;
    const result = shown?.kind === 'board' ? shown : undefined;
    const parts = partViews(this.document, name, result);
    const fields = parts.flatMap((part) => [part.name, ...part.values.map((value) => value.name)]);
    const complaints = placedAtParts(complaintsOf(this.state?.fault), boardParts(this.document, name));
    const { atField, others } = sortComplaints(complaints, fields);
    return html`${this.others(others)}
      <tt-board
        .board=${name}
        .parts=${parts}
        .result=${result}
        .complaints=${atField}
        .chosenPart=${this.chosenPart}
        .said=${this.care?.said ?? new Set()}
        .front=${this.isFirstBoard ? [] : this.frontValues(cell, parts)}
        .change=${(value: ValueView, text: string) => this.editValue(name, value, text)}
      ></tt-board>`;
  }

  /** The values that a board cell names as its knobs. */
  private frontValues(cell: PageCell, parts: readonly PartView[]): ValueView[] {
    const knobs = cell.data['knobs'];
    const data = boardParts(this.document, boardOf(cell) ?? '');
    return (isList(knobs) ? knobs : []).flatMap((name) => {
      const place = typeof name === 'string' ? valuePlace(data, name) : undefined;
      if (place === undefined) return [];
      const full = [place.part, ...place.steps].join('.');
      return parts.flatMap((part) => part.values).filter((value) => value.name === full);
    });
  }

  private trace(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const trace = shown?.kind === 'trace' ? shown : undefined;
    const { atField, others } = this.sorted(['from', 'until', 'show']);
    const show = cell.data['show'];
    return html`${this.others(others)}
      <tt-trace .cell=${cell.id} .trace=${trace} .cursor=${this.cursor}></tt-trace>
      <p class="plan">
        <span>showing</span>
        ${this.field(
          cell,
          'show',
          isList(show) ? show.map(written).join(', ') : written(show),
          'nets and currents shown',
          atField,
          (text) => text.split(',').map((each) => each.trim()),
        )}
        ${this.window(cell, atField)}
      </p>
      <tt-trace-table .trace=${trace}></tt-trace-table>`;
  }

  private fates(cell: PageCell): TemplateResult {
    const shown = this.state?.shown;
    const { atField, others } = this.sorted(['from', 'until', 'timer']);
    return html`${this.others(others)}
      <tt-fates .result=${shown?.kind === 'fates' ? shown : undefined}></tt-fates>
      <p class="plan">
        <span>pulses at</span>
        ${this.field(cell, 'timer', textField(cell.data, 'timer') ?? '', 'timer whose pulses are listed', atField)}
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
        .change=${(name: string, text: string) => this.edit(['take', name], text, `${name} to ${text}`)}
      ></tt-reading>
      <p class="plan">${this.window(cell, atField)}</p>`;
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
  ): TemplateResult {
    return html`<tt-value
      .text=${text}
      .label=${`${label}, ${cell.id}`}
      .complaint=${complaints.get(field)}
      .change=${(typed: string) => this.edit([field], typed === '' ? undefined : read(typed), `${field} to ${typed}`)}
    ></tt-value>`;
  }

  /** Complaints that belong to no field of this cell. What is wrong with a board is said at the board. */
  private others(complaints: readonly Complaint[]): TemplateResult {
    const own = this.cell?.kind === 'board' ? complaints : complaints.filter((each) => !isAboutBoard(each));
    return html`${own.map(({ message }) => html`<p class="complaint" role="alert">${message}</p>`)}`;
  }

  private edit(steps: readonly string[], value: Json | undefined, label: string, joins?: string): void {
    const { cell } = this;
    if (cell === undefined) return;
    const path = ['page', cell.index, ...steps];
    this.dispatchEvent(new EditEvent({ path, value, label, ...(joins === undefined ? {} : { joins }) }));
  }

  private editValue(board: string, value: ValueView, text: string): void {
    const typed = typedValue(text, value.raw, value.text);
    const change = valueChange(this.document, board, value.place, typed);
    if (change !== undefined) this.dispatchEvent(new EditEvent({ ...change, label: `${value.name} to ${text}` }));
  }
}

function written(value: Json | undefined): string {
  if (value === undefined) return '';
  return typeof value === 'string' ? value : typeof value === 'number' ? `${value} s` : JSON.stringify(value);
}
