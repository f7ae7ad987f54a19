import type { BoardResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { PartView, ValueView } from '../runtime/board-view.ts';
import { generalCautions } from '../runtime/cell-care.ts';
import { shared } from '../styles/shared.ts';
import { PartEvent } from './events.ts';

/** General cautions shown before somebody opens the rest: those that come first matter before anything else. */
const CAUTIONS_FIRST = 2;

/**
 * A board as a parts list: every value is edited in place; nets, rules of thumb and general cautions stand below. The
 * dangers of the board are not among them, see `tt-safety`.
 */
export class Board extends LitElement {
  static override styles = [
    shared,
    css`
      table {
        border-collapse: collapse;
        width: 100%;
        max-width: 52rem;
      }
      th,
      td {
        padding: 0.3rem 1.2rem 0.3rem 0;
        text-align: left;
        vertical-align: baseline;
        border-top: 1px solid var(--line);
      }
      tbody tr:first-child > * {
        border-top: 0;
      }
      tbody th {
        font-weight: 650;
        white-space: nowrap;
      }
      tr.chosen > * {
        background: var(--raised);
      }
      .title {
        color: var(--quiet);
        white-space: nowrap;
      }
      .values {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.4rem;
      }
      .pair {
        display: inline-flex;
        gap: 0.45rem;
        align-items: baseline;
        max-width: 100%;
      }
      .pair .word {
        color: var(--quiet);
        font-size: var(--small);
      }
      .front {
        gap: 0.1rem 1.8rem;
        align-items: baseline;
      }
      .textbook td {
        min-width: 4.5rem;
      }
      td.joins {
        white-space: nowrap;
        padding-right: 0;
      }
      .joins {
        color: var(--quiet);
        font-size: var(--small);
      }
      details {
        margin-top: 0.5rem;
      }
      details > :not(summary) {
        margin-top: 0.4rem;
      }
      ul {
        padding-left: 1.2em;
        max-width: 68ch;
      }
      .cautions {
        margin-top: 1rem;
        padding-left: 1rem;
        border-left: 3px solid var(--gold);
        max-width: 68ch;
        font-size: 0.9375rem;
      }
      .cautions ul {
        list-style: none;
        padding: 0;
      }
      .defaults .values {
        padding-left: 0;
      }
      .defaults p {
        margin: 0.15rem 0;
        font-size: 0.9375rem;
      }
      @media (max-width: 40rem) {
        tbody tr {
          display: grid;
          grid-template-columns: auto 1fr;
          column-gap: 0.7rem;
          border-top: 1px solid var(--line);
          padding: 0.35rem 0;
        }
        th,
        td {
          border: 0;
          padding: 0;
        }
        td.values-cell,
        .textbook td {
        min-width: 4.5rem;
      }
      td.joins {
          grid-column: 1 / -1;
        }
        .textbook td {
          grid-column: 1 / -1;
        }
      }
    `,
  ];

  @property({ attribute: false }) board = '';
  @property({ attribute: false }) parts: readonly PartView[] = [];
  @property({ attribute: false }) result: BoardResult | undefined;
  /** What is wrong with a value, by its short name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  @property({ attribute: false }) chosenPart: string | undefined;
  /** Values to show by themselves, with the parts list folded away behind them; empty to show the parts list. */
  @property({ attribute: false }) front: readonly ValueView[] = [];
  /** General cautions that need not be given again. */
  @property({ attribute: false }) said: ReadonlySet<string> = new Set();
  /** Called with a value and what was typed. */
  @property({ attribute: false }) change: (value: ValueView, text: string) => void = () => undefined;

  protected override render(): TemplateResult {
    return html`${this.front.length === 0 ? this.everything() : this.folded()} ${this.cautions()}`;
  }

  /** The values that matter here, and the rest on demand; a complaint about one of the rest opens it. */
  private folded(): TemplateResult {
    const hidden = [...this.complaints.keys()].some((name) => !this.front.some((value) => value.name === name));
    return html`<div class="values front">
        <b>${this.board}</b>
        ${this.front.map((value) => this.valuePair(value, true, value.place.part))}
      </div>
      <details ?open=${hidden}>
        <summary class="small">all parts of ${this.board}</summary>
        ${this.everything()}
      </details>`;
  }

  private everything(): TemplateResult {
    return html`${this.partsList()} ${this.defaults()} ${this.textbook()}`;
  }

  private partsList(): TemplateResult {
    return html`<table>
        <thead class="unseen">
          <tr>
            <th scope="col">part</th>
            <th scope="col">kind</th>
            <th scope="col">values</th>
            <th scope="col">nets</th>
          </tr>
        </thead>
        <tbody>
          ${this.parts.map((part) => this.partRow(part))}
        </tbody>
      </table>`;
  }

  private partRow(part: PartView): TemplateResult {
    const values = part.values.filter((value) => value.given);
    const ends = Object.entries(part.nets);
    const hasPins = ends.length > 3;
    const joins = ends.map(([terminal, net]) => (hasPins ? `${terminal} ${net}` : net)).join(hasPins ? ', ' : ' – ');
    const complaint = this.complaints.get(part.name);
    return html`<tr class=${part.name === this.chosenPart ? 'chosen' : ''} @focusin=${() => this.choose(part)}>
      <th scope="row">${part.name}</th>
      <td class="title">${part.title}</td>
      <td class="values-cell">
        <div class="values">${values.map((value, index) => this.valuePair(value, index > 0 || isInside(value)))}</div>
        ${hasPins ? html`<p class="joins">${joins}</p>` : nothing}
        ${complaint === undefined ? nothing : html`<p class="complaint">${complaint}</p>`}
      </td>
      <td class="joins">${hasPins ? nothing : joins}</td>
    </tr>`;
  }

  private valuePair(value: ValueView, named: boolean, part?: string): TemplateResult {
    return html`<span class="pair">
      ${
        named
          ? html`<span class="word" aria-hidden="true" title=${value.title}
            >${part === undefined ? value.word : [part, ...(isInside(value) ? [value.word] : [])].join(' ')}</span
          >`
          : nothing
      }
      <tt-value
        data-value=${value.name}
        .text=${value.text}
        .label=${`${value.name.split(/[.[]/)[0]} ${value.title}`}
        .complaint=${this.complaints.get(value.name)}
        .change=${(text: string) => this.change(value, text)}
      ></tt-value>
    </span>`;
  }

  private defaults(): TemplateResult | typeof nothing {
    const parts = this.parts
      .map((part) => ({ part, values: part.values.filter((value) => !value.given && value.text !== '') }))
      .filter(({ values }) => values.length > 0);
    if (parts.length === 0) return nothing;
    return html`<details class="defaults">
      <summary class="small">values that were not given, and where they come from</summary>
      <table>
        <tbody>
          ${parts.map(
            ({ part, values }) =>
              html`<tr>
                <th scope="row">${part.name}</th>
                <td>
                  ${values.map(
                    (value) =>
                      html`<p>
                        ${this.valuePair(value, true)}
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
      <summary class="small">what the rules of thumb say</summary>
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
    if (this.result === undefined) return nothing;
    const warnings = this.result.issues.map((issue) => issue.message);
    const general = generalCautions(this.result).filter((each) => !this.said.has(each));
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
          : html`<details>
              <summary>${more.length} more</summary>
              <ul>
                ${more.map((sentence) => html`<li>${sentence}</li>`)}
              </ul>
            </details>`
      }
    </div>`;
  }

  private choose(part: PartView): void {
    if (part.name !== this.chosenPart) this.dispatchEvent(new PartEvent(part.name));
  }
}

/** Whether a value lies inside a structured field, such as a wave. */
function isInside(value: ValueView): boolean {
  return value.place.steps.length > 1;
}
