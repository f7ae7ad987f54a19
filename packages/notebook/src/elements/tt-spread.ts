import { cellSvg, histogramDrawing, histogramScene, spreadLook } from '@two-thirds/sim/chart';
import { cellCsv, type SpreadReading, type SpreadResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { insideWords, percent, spreadTables } from '../chart/spread-words.ts';
import { WidthController } from '../controllers/width-controller.ts';
import { shared } from '../styles/shared.ts';
import { chartLook } from './chart-look.ts';
import { drawn } from './drawn.ts';
import { studyStyles } from './study-styles.ts';
import type { LaneTool } from './tt-lane-tools.ts';

/** Values that carry less of the variance than this are not listed beside the histogram. */
const LEAST_SHARE = 0.005;
const SHARE_WIDTH = 120;

/** Readings of boards whose values lie anywhere within their tolerances: a histogram each, and which value matters. */
export class Spread extends LitElement {
  static override styles = [
    shared,
    studyStyles,
    chartLook(spreadLook),
    css`
      figure {
        margin: 0 0 1rem;
      }
      figcaption {
        display: flex;
        flex-wrap: wrap;
        gap: 0 1.2rem;
        font-size: 0.9375rem;
      }
      ul {
        list-style: none;
        padding: 0;
        margin: 0.2rem 0 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.4rem;
        font-size: var(--small);
        color: var(--quiet);
      }
      li svg {
        vertical-align: -0.05em;
        margin-inline: 0.4rem;
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: SpreadResult | undefined;
  private readonly size = new WidthController(this);

  protected override render(): TemplateResult | typeof nothing {
    const { result } = this;
    const { width } = this.size;
    if (result === undefined || width === 0) return nothing;
    return html`${result.readings.map((reading) => this.reading(result, reading))}
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => this.copy(tool)}
      ></tt-lane-tools>
      <p class="sentence">${result.sentence}</p>
      <tt-data-tables .label=${`Numbers of ${this.cell}`} .tables=${() => spreadTables(result)}></tt-data-tables>`;
  }

  private reading(result: SpreadResult, reading: SpreadReading): TemplateResult {
    const scene = histogramScene(reading, this.size.width);
    const inside = insideWords(reading);
    return html`<figure>
      <figcaption>
        <b>${reading.name}</b>
        ${inside === '' ? nothing : html`<span>inside its limits: ${inside}</span>`}
        ${reading.missing === 0 ? nothing : html`<span class="quiet">without a value: ${reading.missing} samples</span>`}
      </figcaption>
      ${
        scene === undefined
          ? html`<p class="quiet">No sample has a value yet.</p>`
          : html`<svg
              class="lanes"
              role="img"
              aria-label=${`Distribution of ${reading.name}; the numbers stand in the table below`}
              viewBox="0 0 ${scene.width} ${scene.height}"
              height=${scene.height}
            >
              ${drawn(histogramDrawing(scene))}
            </svg>`
      }
      ${shares(result, reading)}
    </figure>`;
  }

  private copy(tool: LaneTool): string | undefined {
    const { result } = this;
    if (result === undefined) return undefined;
    // Every chart of the cell, not only the first.
    return tool === 'csv' ? cellCsv(this.cell, result)[0]?.text : cellSvg(result);
  }
}

/** Which values the variance of a reading follows, the largest first. */
function shares({ parts }: SpreadResult, { variance }: SpreadReading): TemplateResult | typeof nothing {
  if (variance === null) return nothing;
  const listed = parts
    .map(({ value }, index) => ({ value, share: variance.shares[index] ?? 0 }))
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share);
  return html`<ul aria-label="What the variance follows">
    <li>it follows</li>
    ${listed.map(
      ({ value, share }) =>
        html`<li>
          ${value}<svg width=${SHARE_WIDTH * share} height="9" aria-hidden="true"
            ><rect class="samples" width="100%" height="9" /></svg
          >${percent(share)}
        </li>`,
    )}
  </ul>`;
}
