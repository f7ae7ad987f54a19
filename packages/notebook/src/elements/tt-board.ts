import { USUAL_CAUTIONS } from '@two-thirds/sim/circuit';
import type { BoardResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import type { PartView, ValueView } from '../runtime/board-view.ts';
import { generalCautions } from '../runtime/cell-care.ts';
import { saidAtBoard } from '../runtime/issues.ts';
import { isInRow } from '../runtime/list-fields.ts';
import { shared } from '../styles/shared.ts';
import { boardStyles } from './board-styles.ts';
import { knobButtonStyles } from './knob-button-styles.ts';
import { type KnobLook, type ValueLook, valuePair } from './value-pair.ts';

/** General cautions shown before somebody opens the rest: those that come first matter before anything else. */
const CAUTIONS_FIRST = 2;

/** What stands folded below the parts of a board once it is computed. */
const DEFAULTS = 'values that were not given, and where they come from';
const TEXTBOOK = 'what the rules of thumb say';
const familyWords = (timer: string): string => `what ${timer} has from its family, and where that is from`;

/**
 * A board as a parts list: every value is edited in place; nets, rules of thumb and general cautions stand below. The
 * dangers of the board are not among them, see `tt-safety`.
 */
export class Board extends LitElement {
  static override styles = [shared, boardStyles, knobButtonStyles];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) board = '';
  @property({ attribute: false }) parts: readonly PartView[] = [];
  @property({ attribute: false }) result: BoardResult | undefined;
  /** Whether its first result is still to come: what is said of every board is said already, all else has its room. */
  @property({ attribute: false }) isAwaited = false;
  /** What is wrong with a value, by its short name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  @property({ attribute: false }) chosenPart: string | undefined;
  /** Values to show by themselves, with the parts list folded away behind them; empty to show the parts list. */
  @property({ attribute: false }) front: readonly ValueView[] = [];
  /** General cautions that need not be given again. */
  @property({ attribute: false }) said: ReadonlySet<string> = new Set();
  /** Called with a value and what was typed. */
  @property({ attribute: false }) change: (value: ValueView, text: string) => void = () => undefined;
  /** What the knobs of the cell turn. */
  @property({ attribute: false }) knobs: KnobLook | undefined;

  /** A folded list of parts opens for the part that was chosen. */
  protected override updated(changed: PropertyValues<this>): void {
    const list = this.renderRoot.querySelector<HTMLDetailsElement>('details.all');
    if (changed.has('chosenPart') && list !== null && this.parts.some(({ name }) => name === this.chosenPart))
      list.open = true;
  }

  protected override render(): TemplateResult {
    return html`${this.front.length === 0 ? this.everything() : this.folded()} ${this.cautions()}`;
  }

  /** The values that matter here, and the rest on demand; a complaint about one of the rest opens it. */
  private folded(): TemplateResult {
    const hidden = [...this.complaints.keys()].some((name) => !this.front.some((value) => value.name === name));
    return html`<div class="values front">
        <b>${this.board}</b>
        ${this.front.map((value) => valuePair(value, this.look(true, value.place.part)))}
      </div>
      <details class="all" ?open=${hidden}>
        <summary class="small">all parts of ${this.board}</summary>
        ${this.everything()}
      </details>`;
  }

  private everything(): TemplateResult {
    return html`<tt-parts
        .document=${this.document}
        .board=${this.board}
        .parts=${this.parts}
        .complaints=${this.complaints}
        .chosenPart=${this.chosenPart}
        .change=${this.change}
        .knobs=${this.knobs}
      ></tt-parts>
      <tt-links .document=${this.document} .board=${this.board} .complaints=${this.complaints}></tt-links>
      ${this.isAwaited ? this.room() : html`${this.defaults()} ${this.families()} ${this.textbook()}`}`;
  }

  /** The room of what comes with the first result: nothing that is read or pressed below moves when it is there. */
  private room(): TemplateResult[] {
    const timers = this.parts.filter(({ kind }) => kind === 'timer').map(({ name }) => familyWords(name));
    const isReady = valueAt(this.document, ['boards', this.board, 'ready']) !== undefined;
    const words = [DEFAULTS, ...timers, ...(isReady ? [TEXTBOOK] : [])];
    return words.map((each) => html`<details class="room"><summary class="small">${each}</summary></details>`);
  }

  private look(isNamed: boolean, part?: string): ValueLook {
    return { isNamed, complaints: this.complaints, change: this.change, ...(part === undefined ? {} : { part }) };
  }

  private defaults(): TemplateResult | typeof nothing {
    const rows = this.parts.map((part) => ({
      part,
      values: part.values.filter((value) => isPlainDefault(value, part)),
    }));
    return this.notGiven(DEFAULTS, rows);
  }

  /** What timers have from their families, each of it ready to be stated otherwise. */
  private families(): TemplateResult[] {
    return this.parts
      .filter(({ kind }) => kind === 'timer')
      .map((part) => {
        const values = part.values.filter(({ given, place }) => !given && place.steps[0] === 'with');
        const rows = [{ part, values }];
        return html`${this.notGiven(familyWords(part.name), rows, true)}`;
      });
  }

  private notGiven(
    words: string,
    rows: readonly { readonly part: PartView; readonly values: readonly ValueView[] }[],
    isTitled = false,
  ): TemplateResult | typeof nothing {
    const filled = rows.filter(({ values }) => values.length > 0);
    if (filled.length === 0) return nothing;
    return html`<details class="defaults">
      <summary class="small">${words}</summary>
      <table>
        <tbody>
          ${filled.map(
            ({ part, values }) =>
              html`<tr>
                <th scope="row">${part.name}</th>
                <td>
                  ${values.map(
                    (value) =>
                      html`<p>
                        ${valuePair(isTitled ? { ...value, word: value.title } : value, { ...this.look(true), knobs: this.knobs })}
                        ${value.source === undefined ? nothing : html`<span class="joins">${value.source}</span>`}
                      </p>`,
                  )}
                </td>
              </tr>`,
          )}
        </tbody>
      </table>
    </details>`;
  }

  private textbook(): TemplateResult | typeof nothing {
    const rows = this.result?.textbook ?? [];
    if (rows.length === 0) return nothing;
    return html`<details class="textbook">
      <summary class="small">${TEXTBOOK}</summary>
      <table>
        <tbody>
          ${rows.map(
            (row) =>
              html`<tr>
                <th scope="row">${row.name}</th>
                <td>
                  ${row.value === null ? 'no value' : row.unit === null ? row.value : formatQuantity(row.value, row.unit)}
                </td>
                <td>
                  ${row.formula}
                  <p class="joins">${row.source}</p>
                </td>
              </tr>`,
          )}
        </tbody>
      </table>
    </details>`;
  }

  /** Warnings in full, for they are about this board, then the general cautions, of which the rest folds. */
  private cautions(): TemplateResult | typeof nothing {
    const { result } = this;
    if (result === undefined && !this.isAwaited) return nothing;
    const warnings = result?.issues.map((issue) => saidAtBoard(issue.message, this.board)) ?? [];
    const all = result === undefined ? USUAL_CAUTIONS : generalCautions(result);
    const general = all.filter((each) => !this.said.has(each));
    if (warnings.length + general.length === 0) return nothing;
    const more = general.slice(CAUTIONS_FIRST);
    return html`<div class="cautions" role="note" aria-label="Cautions for ${this.board}">
      <p class="margin-word">take care</p>
      <ul>
        ${[...warnings, ...general.slice(0, CAUTIONS_FIRST)].map((sentence) => html`<li>${sentence}</li>`)}
      </ul>
      ${
        more.length === 0
          ? nothing
          : html`<details class="on-paper">
              <summary class="on-screen">${more.length} more</summary>
              <ul>
                ${more.map((sentence) => html`<li>${sentence}</li>`)}
              </ul>
            </details>`
      }
    </div>`;
  }
}

/** Whether a value is a default that is edited here; lists and bouncing are begun beside the part, families stand alone. */
function isPlainDefault(value: ValueView, { lists }: PartView): boolean {
  const [field] = value.place.steps;
  return !value.given && value.text !== '' && field !== 'bounce' && field !== 'with' && !isInRow(value, lists);
}
