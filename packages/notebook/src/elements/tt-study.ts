import { percentText } from '@two-thirds/sim/quantity';
import type { CellResult, FaultyResult, SwapsResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { type BoardChange, changeBoard } from '../edit/board-change.ts';
import { openAsBoard } from '../edit/board-copy.ts';
import { toggleCellKnob } from '../edit/cell-knobs.ts';
import { claimNames } from '../edit/expression-names.ts';
import type { Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import { choiceNow } from '../edit/swap-point.ts';
import type { CellState } from '../runtime/cell-state.ts';
import { boardOf, type PageCell, textField } from '../runtime/cells.ts';
import { turnableValues } from '../runtime/cell-values.ts';
import { compared, comparisonText } from '../runtime/compared.ts';
import { complaintsOf, sortComplaints } from '../runtime/issues.ts';
import { studyFields } from '../runtime/study-plan.ts';
import { shared } from '../styles/shared.ts';
import { EditEvent } from './events.ts';
import type { SeenKnobs } from './tt-seen.ts';

/** A cell that computes many runs, in the element of its kind, and what it does, in a sentence to be edited. */
export class Study extends LitElement {
  static override styles = [
    shared,
    css`
      .share {
        font-size: var(--small);
        color: var(--gold);
      }
      .compared {
        max-width: 68ch;
        margin-top: 0.6rem;
        padding-left: 1rem;
        border-left: 3px solid var(--line);
        font-size: 0.9375rem;
      }
      .says {
        font-size: 1.0625rem;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  /** With the last good result, or what is computed of it so far. */
  @property({ attribute: false }) state: CellState | undefined;
  /** What it had before the last step of undo. */
  @property({ attribute: false }) former: CellResult | undefined;
  /** What the board has at the places of a kit, and what that was found from. */
  private known: { readonly from: readonly unknown[]; readonly now: readonly number[] } = {
    from: [undefined],
    now: [],
  };

  protected override render(): TemplateResult | typeof nothing {
    const { cell, state } = this;
    if (cell === undefined) return nothing;
    const result = state?.shown;
    const fields = studyFields(this.document, cell);
    const { atField } = sortComplaints(complaintsOf(state?.fault), fields);
    const plan = html`<tt-study-plan .document=${this.document} .cell=${cell} .complaints=${atField}></tt-study-plan>`;
    // What is wanted comes before the long list of what grants it.
    const isFirst = cell.kind === 'choose';
    return html`${isFirst ? plan : nothing}${cell.kind === 'claim' ? this.says(cell, atField.get('says')) : nothing}
    ${
      cell.kind === 'capture'
        ? html`<tt-capture-source .document=${this.document} .cell=${cell} .complaints=${atField}></tt-capture-source>`
        : nothing
    }
    ${result !== undefined && 'share' in result ? html`${shareLine(result.share)}${this.drawn(cell, result)}${this.compared(cell, result)}` : nothing}
    ${
      cell.kind === 'symptoms'
        ? html`<tt-symptoms
            .cell=${cell}
            .result=${result?.kind === 'symptoms' ? result : undefined}
            .complaints=${atField}
            .load=${this.load}
            .open=${this.open}
            .knobs=${seenKnobs(this.document, cell)}
            .toggle=${this.toggle}
          ></tt-symptoms>`
        : nothing
    }
    ${isFirst ? nothing : plan}`;
  }

  /** What it had before the last step, once what it has now is whole. */
  private get earlier(): CellResult | undefined {
    return this.state?.phase === 'current' && this.state.isPart !== true ? this.former : undefined;
  }

  /** What has become of its numbers by the last step. */
  private compared({ id }: PageCell, result: Exclude<CellResult, FaultyResult>): TemplateResult | typeof nothing {
    const { earlier } = this;
    if (earlier === undefined) return nothing;
    const comparison = compared(id, result, earlier);
    // A study of which nothing changed has nothing to say.
    if (comparison === undefined || comparison.changed.length === 0) return nothing;
    return html`<p class="compared"><span class="quiet">Since the last change:</span> ${comparisonText(comparison)}</p>`;
  }

  /** The claim itself, edited where it stands. */
  private says(cell: PageCell, complaint: string | undefined): TemplateResult {
    return html`<p class="says">
      <tt-expression
        .text=${textField(cell.data, 'says') ?? ''}
        .label=${`claim of ${cell.id}`}
        .complaint=${complaint}
        .names=${claimNames(this.document, boardOf(cell))}
        .change=${(text: string) =>
          this.dispatchEvent(
            new EditEvent({ path: ['page', cell.index, 'says'], value: text, label: `${cell.id} to ${text}` }),
          )}
      ></tt-expression>
    </p>`;
  }

  private drawn(cell: PageCell, result: Exclude<CellResult, FaultyResult>): TemplateResult | typeof nothing {
    const { id } = cell;
    switch (result.kind) {
      case 'sweep':
        return html`<tt-sweep .cell=${id} .result=${result} .load=${this.load}></tt-sweep>`;
      case 'map':
        return html`<tt-map
          .cell=${id}
          .result=${result}
          .former=${this.earlier?.kind === 'map' ? this.earlier : undefined}
          .load=${this.load}
        ></tt-map>`;
      case 'spread':
        return html`<tt-spread .cell=${id} .result=${result}></tt-spread>`;
      case 'choose':
        return html`<tt-choose .cell=${id} .result=${result} .load=${this.load}></tt-choose>`;
      case 'claim':
        return html`<tt-claim .cell=${id} .result=${result} .load=${this.load} .open=${this.open}></tt-claim>`;
      case 'swaps':
        return html`<tt-swaps .cell=${id} .result=${result} .now=${this.now(cell, result)} .load=${this.load} .open=${this.open}></tt-swaps>`;
      case 'capture':
        return html`<tt-capture .cell=${id} .result=${result} .load=${this.load} .open=${this.open}></tt-capture>`;
      default:
        return nothing;
    }
  }

  /** What the board has at each place of a kit, as position among its choices. */
  private now(cell: PageCell, { places }: SwapsResult): readonly number[] {
    const name = boardOf(cell) ?? '';
    const from = [valueAt(this.document, ['boards', name]), JSON.stringify(places)];
    if (!this.known.from.every((each, index) => each === from[index])) {
      this.known = { from, now: places.map((place) => choiceNow(this.document, name, place.name, place.choices)) };
    }
    return this.known.now;
  }

  /** Gives the board the values of a point, or a fault. */
  private readonly load = (change: BoardChange): void => {
    const { cell } = this;
    const edit = cell === undefined ? undefined : changeBoard(this.document, boardOf(cell) ?? '', change);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  };

  /** Gives a number of the cell a knob, or takes it away. */
  private readonly toggle = (knob: string): void => {
    const board = this.cell === undefined ? undefined : boardOf(this.cell);
    if (board !== undefined) this.dispatchEvent(new EditEvent(toggleCellKnob(this.document, board, knob)));
  };

  /** Opens a point or a fault as a board of its own, with a trace of it, below the study. */
  private readonly open = (change: BoardChange): void => {
    const { cell } = this;
    const board = cell === undefined ? undefined : boardOf(cell);
    if (cell === undefined || board === undefined) return;
    const edit = openAsBoard(this.document, board, change, cell.index + 1);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  };
}

/** Which knobs what was seen can have, by the place of the number, and whether each is there. */
function seenKnobs(document: Json, cell: PageCell): SeenKnobs {
  return Object.fromEntries(
    turnableValues(document, cell).map(({ place, knob, title, isTurned }) => [place, { knob, title, isTurned }]),
  );
}

function shareLine(share: number): TemplateResult | typeof nothing {
  return share < 1 ? html`<p class="share">${percentText(Math.floor(share * 100))} of it computed</p>` : nothing;
}
