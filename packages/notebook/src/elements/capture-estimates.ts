import type { CaptureResult } from '@two-thirds/sim/document';
import { css, html, nothing, svg, type TemplateResult } from 'lit';
import { estimateCells, estimatedValues, type EstimateStrip, estimateStrip } from '../chart/capture-words.ts';
import type { BoardChange } from '../edit/board-change.ts';

const STRIP = 110;

/** The table of estimates. */
export const estimateStyles = css`
  th,
  td {
    vertical-align: baseline;
    white-space: nowrap;
  }
  tbody th {
    color: var(--ink);
    font-weight: 650;
  }
  .strip {
    display: block;
    overflow: visible;
  }
  .limits {
    stroke: var(--teal);
    stroke-width: 5;
    opacity: 0.55;
  }
  .stated {
    stroke: var(--rust);
    stroke-width: 1.6;
    stroke-dasharray: 3 2;
  }
  .estimate {
    fill: var(--ground);
    stroke: var(--ink);
    stroke-width: 1.6;
  }
`;

/**
 * The values that were estimated, each along a line with its limits.
 *
 * @param cell id of the cell.
 * @param load called with what the board is to be given.
 */
export function captureEstimates(
  cell: string,
  result: CaptureResult,
  load: (change: BoardChange) => void,
): TemplateResult | typeof nothing {
  const { fit, sentences } = result;
  if (fit === null && sentences.fit.length === 0) return nothing;
  const values = estimatedValues(result);
  return html`<h3>Values estimated</h3>
    ${
      fit === null
        ? nothing
        : html`<div class="wide" tabindex="0" role="group" aria-label=${`Values estimated of ${cell}`}>
            <table>
              <thead>
                <tr>
                  <th scope="col">value</th>
                  <td></td>
                  <th scope="col">as stated</th>
                  <th scope="col">estimated</th>
                  <th scope="col">uncertain by</th>
                  <th scope="col">95 times in 100 within</th>
                </tr>
              </thead>
              <tbody>
                ${fit.estimates.map(
                  (each) =>
                    html`<tr>
                      <th scope="row">${each.name}</th>
                      <td>${strip(estimateStrip(each))}</td>
                      ${estimateCells(each).map((text) => html`<td>${text}</td>`)}
                    </tr>`,
                )}
              </tbody>
            </table>
          </div>`
    }
    ${
      values.length === 0
        ? nothing
        : html`<button class="plain" @click=${() => load(values)}>set the board to what was estimated</button>`
    }
    <div class="sentences">${sentences.fit.map((sentence) => html`<p class="small quiet">${sentence}</p>`)}</div>`;
}

/** An estimate along a line: limits as a band, the value as a ring, what the board states as a dashed mark. */
function strip(at: EstimateStrip | undefined): TemplateResult | typeof nothing {
  if (at === undefined) return nothing;
  const { marked, value, from, to } = at;
  return html`<svg class="strip" width=${STRIP} height="16" aria-hidden="true">
    ${svg`<line class="axis-tick" x1="0" x2=${STRIP} y1="8" y2="8" />
      <line class="limits" x1=${from * STRIP} x2=${Math.max(to * STRIP, from * STRIP + 1)} y1="8" y2="8" />
      ${marked === undefined ? nothing : svg`<line class="stated" x1=${marked * STRIP} x2=${marked * STRIP} y1="0" y2="16" />`}
      <circle class="estimate" cx=${value * STRIP} cy="8" r="3.5" />`}
  </svg>`;
}
