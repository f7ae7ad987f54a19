import type { InstantRow, TraceResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { eventRows, type Looked, rowTimes } from '../chart/event-rows.ts';
import { DetailController } from '../controllers/detail-controller.ts';
import { instantRequest } from '../runtime/detail.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';

/** The data of a trace as a table: what happened at every instant, and what every lane held. */
export class TraceTable extends LitElement {
  static override styles = [
    shared,
    tableStyles,
    css`
      .wide {
        overflow-x: auto;
        max-height: 26rem;
        overflow-y: auto;
        margin-top: 0.4rem;
      }
      .number {
        text-align: right;
        white-space: nowrap;
      }
    `,
  ];

  @property({ attribute: false }) trace: TraceResult | undefined;
  /** What is looked at of it: the table tells that. */
  @property({ attribute: false }) looked: Looked = {};
  @state() private open = false;
  private readonly moments = new DetailController(this);

  protected override updated(): void {
    const { trace } = this;
    const times = trace !== undefined && this.open ? rowTimes(trace, this.looked) : [];
    this.moments.ask(trace, trace !== undefined && times.length > 0 ? instantRequest(trace, times) : undefined);
  }

  protected override render(): TemplateResult | typeof nothing {
    const { trace } = this;
    if (trace === undefined) return nothing;
    return html`<details @toggle=${this.toggle}>
      <summary class="small">the same as a table</summary>
      ${this.open ? table(trace, this.moments.answer?.instants, this.looked) : nothing}
    </details>`;
  }

  private readonly toggle = (event: Event): void => {
    this.open = (event.target as HTMLDetailsElement).open;
  };
}

function table(trace: TraceResult, instants: readonly InstantRow[] | undefined, looked: Looked): TemplateResult {
  const { rows, cut } = eventRows(trace, instants, looked);
  const where = looked.view === undefined ? '' : ' in this part of the run';
  return html`<div class="wide" tabindex="0" role="group" aria-label="Events of the trace">
    <table>
      <caption>
        ${cut ? `The first ${rows.length} instants` : 'Every instant'}${where} at which something happens
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
