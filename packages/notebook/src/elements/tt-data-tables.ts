import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { DataTable } from '../chart/data-table.ts';
import { shared } from '../styles/shared.ts';

/** Tables that unfold below a drawing of the same data. */
export class DataTables extends LitElement {
  static override styles = [
    shared,
    css`
      .wide {
        overflow: auto;
        max-height: 26rem;
        margin-top: 0.4rem;
      }
      table {
        border-collapse: collapse;
        font-size: 0.9375rem;
        margin-bottom: 1rem;
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
      tbody th {
        color: var(--ink);
        white-space: nowrap;
      }
    `,
  ];

  /** What is read here, for screen readers. */
  @property({ attribute: false }) label = '';
  /** What unfolds them. */
  @property({ attribute: false }) words = 'the same as a table';
  /** Makes the tables; called only once they are unfolded. */
  @property({ attribute: false }) tables: () => readonly DataTable[] = () => [];
  @state() private open = false;

  protected override render(): TemplateResult {
    return html`<details @toggle=${this.toggle}>
      <summary class="small">${this.words}</summary>
      ${
        this.open
          ? html`<div class="wide" tabindex="0" role="group" aria-label=${this.label}>${this.tables().map(table)}</div>`
          : ''
      }
    </details>`;
  }

  private readonly toggle = (event: Event): void => {
    this.open = (event.target as HTMLDetailsElement).open;
  };
}

function table({ caption, columns, rows }: DataTable): TemplateResult {
  return html`<table>
    <caption>
      ${caption}
    </caption>
    <thead>
      <tr>
        ${columns.map((column) => html`<th scope="col">${column}</th>`)}
      </tr>
    </thead>
    <tbody>
      ${rows.map(
        ([head, ...cells]) =>
          html`<tr>
            <th scope="row">${head}</th>
            ${cells.map((cell) => html`<td>${cell}</td>`)}
          </tr>`,
      )}
    </tbody>
  </table>`;
}
