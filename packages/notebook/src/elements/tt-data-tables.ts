import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { DataTable } from '../chart/data-table.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';

/** Tables that unfold below a drawing of the same data. */
export class DataTables extends LitElement {
  static override styles = [
    shared,
    tableStyles,
    css`
      .wide {
        overflow: auto;
        max-height: 26rem;
        margin-top: 0.4rem;
      }
      table {
        margin-bottom: 1rem;
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
