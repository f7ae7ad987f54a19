import type { TraceResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { eventRows } from '../chart/event-rows.ts';
import { shared } from '../styles/shared.ts';

/** The data of a trace as a table: what happened at every instant, and what every lane held. */
export class TraceTable extends LitElement {
  static override styles = [
    shared,
    css`
      .wide {
        overflow-x: auto;
        max-height: 26rem;
        overflow-y: auto;
        margin-top: 0.4rem;
      }
      table {
        border-collapse: collapse;
        font-size: 0.9375rem;
      }
      caption {
        text-align: left;
        color: var(--quiet);
        padding-bottom: 0.3rem;
      }
      th,
      td {
        padding: 0.25rem 1.2rem 0.25rem 0;
        text-align: left;
        vertical-align: top;
        border-bottom: 1px solid var(--line);
      }
      th {
        color: var(--quiet);
        font-weight: 500;
      }
      .number {
        text-align: right;
        white-space: nowrap;
      }
    `,
  ];

  @property({ attribute: false }) trace: TraceResult | undefined;
  @state() private open = false;

  protected override render(): TemplateResult | typeof nothing {
    const { trace } = this;
    if (trace === undefined) return nothing;
    return html`<details @toggle=${this.toggle}>
      <summary class="small">the same as a table</summary>
      ${this.open ? table(trace) : nothing}
    </details>`;
  }

  private readonly toggle = (event: Event): void => {
    this.open = (event.target as HTMLDetailsElement).open;
  };
}

function table(trace: TraceResult): TemplateResult {
  const { rows, cut } = eventRows(trace);
  return html`<div class="wide" tabindex="0" role="group" aria-label="Events of the trace">
    <table>
      <caption>
        ${cut ? `The first ${rows.length} instants at which something happens` : 'Every instant at which something happens'}
      </caption>
      <thead>
        <tr>
          <th scope="col" class="number">time</th>
          <th scope="col">what happens</th>
          ${trace.lanes.map((lane) => html`<th scope="col" class="number">${lane.show}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html`<tr>
              <td class="number">${row.timeText}</td>
              <td>${row.what.join('; ')}</td>
              ${row.values.map((value) => html`<td class="number">${value}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
