import { SECTIONS, SYMBOL_STANDARDS } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { cellKnobNames } from '../edit/cell-knobs.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import { knobComplaint } from '../edit/knob-toggle.ts';
import { nameComplaint, renameBoard } from '../edit/rename.ts';
import { knobNames } from '../edit/value-names.ts';
import { cellKindWords } from '../runtime/cell-kind-words.ts';
import { boardOf, cellsOf, type PageCell, textField } from '../runtime/cells.ts';
import { plainFields } from '../runtime/plain-fields.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { type CellCommand, CommandEvent, EditEvent } from './events.ts';

/** Kinds whose result can wait for a prediction. */
const canHoldBack = new Set(['trace', 'reading']);

/** Fields that are edited here; complaints about them stand below. */
const OWN_FIELDS = ['id', 'board', 'section', 'hold_back', 'knobs', 'standard'] as const;

/** The fields of a cell that are edited in its sentences. */
export function particularFields(cell: PageCell): readonly string[] {
  return [...OWN_FIELDS, ...plainFields(cell).map(({ name }) => name)];
}

/**
 * What a cell is, as sentences that can be changed: its name, its board, its section, when its result shows; and what
 * can be done with it as a whole, as words of a sentence.
 */
export class Particulars extends LitElement {
  static override styles = [
    shared,
    choiceStyles,
    css`
      :host {
        margin-bottom: 1rem;
        padding-left: 1rem;
        border-left: 3px solid var(--line);
        font-size: 0.9375rem;
        color: var(--quiet);
        max-width: 68ch;
      }
      select {
        max-width: 100%;
        padding: 0 0.2rem;
      }
      button.plain:hover:not(:disabled) {
        color: var(--rust);
        background: none;
      }
      .keys {
        font-size: var(--small);
      }
      @media (hover: none) {
        .keys {
          display: none;
        }
      }
      p + p,
      tt-go-on {
        margin-top: 0.25rem;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  @property({ attribute: false }) isFolded = false;
  /** What is wrong with a field, by its name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  @state() private nameFault: string | undefined;
  @state() private boardFault: string | undefined;

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (!changed.has('document')) return;
    this.nameFault = undefined;
    this.boardFault = undefined;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    if (cell === undefined) return nothing;
    const board = boardOf(cell);
    return html`<p>
        This ${cellKindWords(cell.kind)} is called
        <tt-value
          class="name"
          .text=${cell.id}
          .label=${'name of this cell'}
          .complaint=${this.nameFault ?? this.complaints.get('id')}
          .change=${(to: string) => this.rename(cell, to)}
        ></tt-value>
        and stands under ${this.section(cell)}${canHoldBack.has(cell.kind) ? html`; its result ${this.holdBack(cell)}` : nothing}.
        ${board === undefined ? nothing : this.board(cell, board)}
      </p>
      ${cell.kind === 'board' ? this.circuit(cell, board ?? '') : nothing}
      <tt-plain-fields .cell=${cell} .complaints=${this.complaints}></tt-plain-fields>
      <p role="group" aria-label="What to do with ${cell.id}">
        ${this.act(this.isFolded ? 'Unfold it' : 'Fold it', { act: 'fold', cell: cell.id })},
        ${this.act('move it up', { act: 'move', cell: cell.id, places: -1 })} or
        ${this.act('down', { act: 'move', cell: cell.id, places: 1 }, 'move it down')},
        ${this.act('duplicate it', { act: 'duplicate', cell: cell.id })},
        ${this.act('delete it', { act: 'delete', cell: cell.id })}.
      </p>
      <tt-go-on
        .document=${this.document}
        .board=${board ?? this.boardAbove(cell)}
        .below=${cell.id}
        .words=${'Go on below it with'}
      ></tt-go-on>
      <p class="keys">
        On the name in the margin: ↑ and ↓ go from cell to cell, with Alt they move the cell, Delete takes it out.
      </p>`;
  }

  private act(words: string, command: CellCommand, label?: string): TemplateResult {
    return html`<button
      class="plain"
      aria-label=${label ?? nothing}
      @click=${() => this.dispatchEvent(new CommandEvent(command))}
    >${words}</button>`;
  }

  private section(cell: PageCell): TemplateResult {
    const given = textField(cell.data, 'section') ?? '';
    return this.choice(
      'section',
      given,
      [['', 'the usual word'], ...SECTIONS.map((each) => [each, each] as const)],
      (to) => this.edit(cell, 'section', to === '' ? undefined : to),
    );
  }

  private holdBack(cell: PageCell): TemplateResult {
    const options = [
      ['', 'shows at once'],
      ['wait', 'waits for a prediction'],
    ] as const;
    return this.choice('when its result shows', cell.data['hold_back'] === true ? 'wait' : '', options, (to) =>
      this.edit(cell, 'hold_back', to === '' ? undefined : true),
    );
  }

  private board(cell: PageCell, board: string): TemplateResult {
    const boards = this.boardNames();
    const options = [...new Set([board, ...boards])].map((each) => [each, each] as const);
    return html`It ${cell.kind === 'board' ? 'shows' : 'looks at'}
      ${this.choice('board', board, options, (to) => this.edit(cell, 'board', to))}.
      ${this.complaint('board')}`;
  }

  private circuit(cell: PageCell, board: string): TemplateResult {
    const knobs = cell.data['knobs'];
    return html`<p>
      Its knobs turn
      <tt-value
        .text=${isList(knobs) ? knobs.map(String).join(', ') : ''}
        .label=${'parts and fields with a knob, and numbers of cells'}
        .hint=${'no part'}
        .names=${[...knobNames(this.document, board), ...cellKnobNames(this.document, board)]}
        .complaint=${this.complaints.get('knobs') ?? knobComplaint(this.document, board, knobs)}
        .change=${(text: string) => this.edit(cell, 'knobs', names(text))}
      ></tt-value
      >; its drawing follows
      ${this.choice(
        'standard of the drawing',
        textField(cell.data, 'standard') ?? SYMBOL_STANDARDS[0],
        SYMBOL_STANDARDS.map((each) => [each, each] as const),
        (to) => this.edit(cell, 'standard', to === SYMBOL_STANDARDS[0] ? undefined : to),
      )}.
      ${
        this.boardNames().includes(board)
          ? html`The circuit itself is called
              <tt-value
                .text=${board}
                .label=${'name of this circuit'}
                .complaint=${this.boardFault}
                .change=${(to: string) => this.nameBoard(board, to)}
              ></tt-value
              >.`
          : nothing
      }
    </p>`;
  }

  private choice(
    label: string,
    value: string,
    options: readonly (readonly [string, string])[],
    change: (to: string) => void,
  ): TemplateResult {
    return html`<select aria-label=${label} @change=${(event: Event) => change((event.target as HTMLSelectElement).value)}>
      ${options.map(([key, words]) => html`<option value=${key} .selected=${key === value}>${words}</option>`)}
    </select>`;
  }

  private complaint(field: string): TemplateResult | typeof nothing {
    const message = this.complaints.get(field);
    return message === undefined ? nothing : html`<span class="complaint">${message}</span>`;
  }

  private rename(cell: PageCell, to: string): void {
    const taken = cellsOf(this.document).map(({ id }) => id);
    this.nameFault = nameComplaint(to, taken);
    if (this.nameFault === undefined) this.dispatchEvent(new CommandEvent({ act: 'rename', cell: cell.id, to }));
  }

  private nameBoard(board: string, to: string): void {
    this.boardFault = nameComplaint(to, this.boardNames());
    if (this.boardFault === undefined) this.dispatchEvent(new EditEvent(renameBoard(this.document, board, to)));
  }

  private boardNames(): string[] {
    const boards = valueAt(this.document, ['boards']);
    return isRecord(boards) ? Object.keys(boards) : [];
  }

  /** The board that the page speaks of where this cell stands. */
  private boardAbove(cell: PageCell): string | undefined {
    const cells = cellsOf(this.document);
    const above = cells.filter(({ index }) => index < cell.index).findLast((each) => boardOf(each) !== undefined);
    const found = above ?? cells.find((each) => boardOf(each) !== undefined);
    return found === undefined ? undefined : boardOf(found);
  }

  private edit(cell: PageCell, field: string, value: Json | undefined): void {
    const label = `${field.replace('_', ' ')} of ${cell.id}`;
    this.dispatchEvent(new EditEvent({ path: ['page', cell.index, field], value, label }));
  }
}

function names(text: string): string[] {
  return text
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
}
