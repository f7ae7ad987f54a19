import { cellSvg } from '@two-thirds/sim/chart';
import { cellCsv, type ChooseResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { chooseTables, setCells, setColumns, setValues } from '../chart/choose-words.ts';
import type { PointValue } from '../edit/load-point.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';
import type { LaneTool } from './tt-lane-tools.ts';
import { studyStyles } from './study-styles.ts';

/** Sets of values that can be built, the nearest to what is wanted first; each is given to the board by its button. */
export class Choose extends LitElement {
  static override styles = [
    shared,
    studyStyles,
    tableStyles,
    css`
      th,
      td {
        padding: 0.2rem 1.1rem 0.2rem 0;
        vertical-align: inherit;
        white-space: nowrap;
      }
      .granted {
        font-weight: 600;
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: ChooseResult | undefined;
  /** Called with the values that the board is to have. */
  @property({ attribute: false }) load: (values: readonly PointValue[]) => void = () => undefined;

  protected override render(): TemplateResult | typeof nothing {
    const { result } = this;
    if (result === undefined) return nothing;
    const tables = chooseTables(result);
    return html`<div class="wide" tabindex="0" role="group" aria-label=${`Sets of ${this.cell}`}>
        <table>
          <caption>
            The nearest sets first
          </caption>
          <thead>
            <tr>
              <th scope="col">place</th>
              ${setColumns(result).map((column) => html`<th scope="col">${column}</th>`)}
              <th scope="col">within what is allowed</th>
              <th scope="col">the board</th>
            </tr>
          </thead>
          <tbody>
            ${result.sets.map(
              (set, index) =>
                html`<tr class=${set.granted ? 'granted' : ''}>
                  <th scope="row">${index + 1}</th>
                  ${setCells(result, set).map((text) => html`<td>${text}</td>`)}
                  <td>${set.granted ? 'yes' : 'no'}${set.inStock === false ? ', not in stock' : nothing}</td>
                  <td>
                    <button
                      class="plain"
                      aria-label=${`set to this: place ${index + 1}`}
                      @click=${() => this.load(setValues(result, set))}
                    >
                      set to this
                    </button>
                  </td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => (tool === 'csv' ? cellCsv(this.cell, result)[0]?.text : cellSvg(result))}
      ></tt-lane-tools>
      <p class="sentence">${result.sentence}</p>
      ${
        tables.length === 0
          ? nothing
          : html`<tt-data-tables
              .words=${'other series, and what was left out'}
              .label=${`More of ${this.cell}`}
              .tables=${() => tables}
            ></tt-data-tables>`
      }`;
  }
}
