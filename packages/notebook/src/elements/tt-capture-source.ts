import { type CaptureColumn, captureColumns } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { boardNames } from '../edit/board-names.ts';
import type { Json } from '../edit/json.ts';
import {
  chosenColumns,
  type ColumnChoice,
  type ColumnChoices,
  lacksUnit,
  withColumn,
} from '../runtime/capture-columns.ts';
import { holdsRows, sourceName } from '../runtime/capture-text.ts';
import { boardOf, type PageCell, textField } from '../runtime/cells.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { wideStyles } from '../styles/tables.ts';
import { CaptureFileEvent, type CaptureFileView, CaptureWatchEvent } from './capture-events.ts';
import { EditEvent } from './events.ts';

/** So much of the rows in a page tells their columns (characters). */
const HEAD = 65_536;

const TIMES = ['s', 'ms', 'µs', 'ns'];
const VOLTS = ['V', 'mV'];

/**
 * Where a measurement comes from: the file, which can be chosen or dropped here, and which of its columns was measured
 * where. What the file does not say is asked for.
 */
export class CaptureSource extends LitElement {
  static override styles = [
    shared,
    wideStyles,
    choiceStyles,
    css`
      :host {
        margin-bottom: 0.9rem;
        font-size: 0.9375rem;
        color: var(--quiet);
      }
      p {
        max-width: 68ch;
      }
      .where {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0 0.6rem;
      }
      .where b {
        color: var(--ink);
        font-weight: 600;
        overflow-wrap: anywhere;
      }
      progress {
        accent-color: var(--gold);
        width: 8rem;
        height: 0.6rem;
      }
      table {
        border-collapse: collapse;
        margin: 0.3rem 0 0.5rem;
      }
      select {
        max-width: min(12rem, 31vw);
      }
      th,
      td {
        padding: 0.1rem 0.7rem 0.1rem 0;
        text-align: left;
        font-weight: 500;
      }
      tbody th {
        color: var(--ink);
        font-weight: 600;
      }
      .asked {
        color: var(--rust);
        font-weight: 600;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  /** What is wrong with a field, by its name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  @state() private view: CaptureFileView | undefined;
  /** Whether the columns are unfolded: once asked for they stay, so that nothing closes under the pointer. */
  @state() private isOpen = false;
  private watched: string | undefined;
  private headOf: { readonly data: string; readonly head: readonly CaptureColumn[] | undefined } | undefined;

  protected override willUpdate(): void {
    if (this.complaints.has('columns')) this.isOpen = true;
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (!changed.has('cell')) return;
    const { data } = this;
    if (data === this.watched || holdsRows(data)) return;
    this.watched = data;
    this.dispatchEvent(new CaptureWatchEvent(this, data, (view) => (this.view = view)));
  }

  private get data(): string {
    return this.cell === undefined ? '' : (textField(this.cell.data, 'data') ?? '');
  }

  protected override render(): TemplateResult | typeof nothing {
    const { cell, data } = this;
    if (cell === undefined) return nothing;
    const head = this.head();
    return html`<p class="where">
        <span>${this.where(data)}</span>
        <button class="plain" @click=${() => this.renderRoot.querySelector('input')?.click()}>
          ${this.act(data)}
        </button>
        <span class="small">or drop one on this cell</span>
        ${
          this.view?.share === undefined || holdsRows(data)
            ? nothing
            : html`<progress aria-label="share of the file that is read" .value=${this.view.share}></progress>`
        }
      </p>
      ${this.complaint(data)} ${head === undefined ? nothing : this.columns(cell, head)}
      <input
        type="file"
        hidden
        accept=".csv,.tsv,.txt,.dat,text/csv"
        aria-label=${`measurement of ${cell.id}`}
        @change=${this.chosen}
      />`;
  }

  private act(data: string): string {
    if (holdsRows(data) || this.view !== undefined) return 'choose another CSV file';
    return sourceName(data) === undefined ? 'choose a CSV file' : 'choose it';
  }

  private where(data: string): TemplateResult {
    const name = sourceName(data);
    if (holdsRows(data)) {
      return name === undefined ? html`The measurement is kept in this page.` : html`Kept in this page: <b>${name}</b>`;
    }
    if (name === undefined) return html`No measurement yet:`;
    if (this.view === undefined) return html`The measurement is the file <b>${name}</b>, which has to be chosen again:`;
    return html`Measured: <b>${name}</b>, too long for this page itself; what was read of it is kept in this browser.`;
  }

  private complaint(data: string): TemplateResult | typeof nothing {
    // That there is no file is said already.
    const isThere = holdsRows(data) || this.view !== undefined;
    const message = isThere ? this.complaints.get('data') : undefined;
    return message === undefined ? nothing : html`<p class="complaint" role="alert">${message}</p>`;
  }

  /** The columns of the rows in the page, or of the file. */
  private head(): readonly CaptureColumn[] | undefined {
    const { data } = this;
    if (!holdsRows(data)) return this.view?.head;
    if (this.headOf?.data !== data) this.headOf = { data, head: captureColumns(data.slice(0, HEAD)) };
    return this.headOf.head;
  }

  private columns(cell: PageCell, head: readonly CaptureColumn[]): TemplateResult {
    const { nets } = boardNames(this.document, boardOf(cell) ?? '');
    const choices = chosenColumns(
      head,
      cell.data['columns'],
      nets.filter((net) => net !== 'ground'),
    );
    const complaint = this.complaints.get('columns');
    const told = [['time', choices.time] as const, ...choices.nets]
      .filter(([, { position }]) => position !== undefined)
      .map(([what, { position }]) => `${what} from ${columnWords(head, position ?? 0)}`);
    return html`<details
      ?open=${this.isOpen}
      @toggle=${(event: Event) => (this.isOpen = (event.target as HTMLDetailsElement).open)}
    >
      <summary class="small">${told.length === 0 ? 'no column is known yet' : told.join(', ')}</summary>
      ${complaint === undefined ? nothing : html`<p class="asked" role="status">${question(head, choices) ?? complaint}</p>`}
      <div class="wide"><table>
        <thead>
          <tr>
            <th scope="col">what</th>
            <th scope="col">column</th>
            <th scope="col">unit</th>
          </tr>
        </thead>
        <tbody>
          ${this.row(cell, head, choices, 'time', choices.time)}
          ${[...choices.nets].map(([net, choice]) => this.row(cell, head, choices, net, choice))}
        </tbody>
      </table></div>
    </details>`;
  }

  private row(
    cell: PageCell,
    head: readonly CaptureColumn[],
    choices: ColumnChoices,
    what: string,
    choice: ColumnChoice,
  ): TemplateResult {
    const units = what === 'time' ? TIMES : VOLTS;
    const said = head[(choice.position ?? 0) - 1]?.unit;
    const lacks = lacksUnit(head, choice);
    const change = (to: ColumnChoice): void => {
      const value = withColumn(head, choices, what, to);
      this.dispatchEvent(new EditEvent({ path: ['page', cell.index, 'columns'], value, label: `column of ${what}` }));
    };
    return html`<tr>
      <th scope="row">${what}</th>
      <td>
        <select
          aria-label=${`column of ${what}`}
          @change=${(event: Event) => {
            const position = Number((event.target as HTMLSelectElement).value);
            change({ position: position === 0 ? undefined : position, unit: position === 0 ? '' : choice.unit });
          }}
        >
          <option value="0" .selected=${choice.position === undefined}>
            ${what === 'time' ? 'not known' : 'not measured'}
          </option>
          ${head.map(
            ({ position, first }) =>
              html`<option value=${position} .selected=${choice.position === position}>
                ${columnWords(head, position)} (${first})
              </option>`,
          )}
        </select>
      </td>
      <td>
        ${
          choice.position === undefined
            ? nothing
            : html`<select
                aria-label=${`unit of ${what}`}
                @change=${(event: Event) => change({ ...choice, unit: (event.target as HTMLSelectElement).value })}
              >
                <option value="" .selected=${choice.unit === ''}>
                  ${lacks || said === null ? 'which unit?' : 'as the file says'}
                </option>
                ${units.map((unit) => html`<option value=${unit} .selected=${choice.unit === unit}>${unit}</option>`)}
              </select>`
        }
      </td>
    </tr>`;
  }

  private readonly chosen = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    const [file] = input.files ?? [];
    input.value = '';
    if (file !== undefined && this.cell !== undefined) this.dispatchEvent(new CaptureFileEvent(this.cell.id, file));
  };
}

/** A column in words: its title, or its place. */
function columnWords(head: readonly CaptureColumn[], position: number): string {
  const title = head[position - 1]?.title ?? '';
  return title === '' ? `column ${position}` : title;
}

/** What the file does not say, as questions; undefined where it is something else that is wrong. */
function question(head: readonly CaptureColumn[], { time, nets }: ColumnChoices): string | undefined {
  const measured = [...nets].filter(([, { position }]) => position !== undefined);
  const lacking = [['time', time] as const, ...measured].filter(([, choice]) => lacksUnit(head, choice));
  const questions = [
    ...(time.position === undefined ? ['Which column is the time?'] : []),
    ...(lacking.length > 0 ? [`In which unit is ${lacking.map(([what]) => what).join(', and ')}?`] : []),
    ...(measured.length === 0 ? ['Which column was measured at which net?'] : []),
  ];
  return questions.length === 0 ? undefined : questions.join(' ');
}
