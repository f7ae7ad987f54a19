import type { FatesResult, PulseRow } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { fates, fateWords } from '@two-thirds/sim/chart';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';
import { fateGlyph, fateStyles } from './fate-glyphs.ts';

/** Rows shown before somebody asks for more. */
const ROWS_FIRST = 12;
const ROWS_MORE = 100;

/** What became of every input pulse of a timer: an explanation, counts, and a table with a reason for each. */
export class Fates extends LitElement {
  static override styles = [
    shared,
    fateStyles,
    tableStyles,
    css`
      .explanation {
        max-width: 68ch;
      }
      ul {
        list-style: none;
        padding: 0;
        margin: 0.9rem 0 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.3rem 1.6rem;
      }
      li {
        display: flex;
        align-items: center;
        gap: 0.45rem;
        color: var(--quiet);
      }
      li b {
        color: var(--ink);
        font-size: 1.1rem;
        font-weight: 650;
      }
      details {
        margin-top: 0.7rem;
      }
      table {
        margin-top: 0.5rem;
      }
      th,
      td {
        padding-block: 0.3rem;
      }
      .time {
        text-align: right;
        white-space: nowrap;
      }
      .fate-cell {
        white-space: nowrap;
      }
      td .glyph {
        height: 16px;
        vertical-align: -0.2em;
        margin-right: 0.4rem;
      }
      @media (max-width: 40rem) {
        tr {
          display: grid;
          grid-template-columns: auto 1fr;
          gap: 0 0.8rem;
          border-bottom: 1px solid var(--line);
          padding: 0.35rem 0;
        }
        th,
        td {
          border: 0;
          padding: 0;
        }
        .reason {
          grid-column: 1 / -1;
        }
      }
    `,
  ];

  @property({ attribute: false }) result: FatesResult | undefined;
  @state() private shown = ROWS_FIRST;

  protected override render(): TemplateResult | typeof nothing {
    const { result } = this;
    if (result === undefined) return nothing;
    return html`<p class="explanation">${result.explanation}</p>
      <ul aria-label="Input pulses of ${result.timer} by fate">
        ${fates.map((fate) => this.count(result, fate))}
      </ul>
      ${result.pulses.length === 0 ? nothing : this.table(result)}`;
  }

  private count(result: FatesResult, fate: (typeof fates)[number]): TemplateResult | typeof nothing {
    const count = result.counts[fate];
    // A zero says something only for the two fates that every divider has.
    if (count === 0 && fate !== 'started' && fate !== 'ignored') return nothing;
    return html`<li>${fateGlyph(fate)}<b>${count}</b> ${fateWords[fate]}</li>`;
  }

  private table(result: FatesResult): TemplateResult {
    const rows = result.pulses.slice(0, this.shown);
    const left = result.pulses.length - rows.length;
    return html`<details>
      <summary>every pulse and why</summary>
      <table>
        <thead class="unseen">
          <tr>
            <th scope="col">time</th>
            <th scope="col">fate</th>
            <th scope="col">why</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map(pulseRow)}
        </tbody>
      </table>
      ${
        left > 0
          ? html`<button class="plain" @click=${this.more}>
              ${Math.min(left, ROWS_MORE)} more of ${result.pulses.length}
            </button>`
          : nothing
      }
      ${result.cut ? html`<p class="quiet small">Only the first pulses are listed; the counts are complete.</p>` : nothing}
    </details>`;
  }

  private readonly more = (): void => {
    this.shown += ROWS_MORE;
  };
}

function pulseRow(pulse: PulseRow): TemplateResult {
  return html`<tr>
    <td class="time">${formatQuantity(pulse.time, 's', { digits: 4 })}</td>
    <td class="fate-cell">${fateGlyph(pulse.fate)}${pulse.fate}${pulse.open === true ? ', still low' : ''}</td>
    <td class="reason">${pulse.reason}</td>
  </tr>`;
}
