import { captureDrawing, cellSvg, type CaptureScene, captureScene, nearestSample } from '@two-thirds/sim/chart';
import { cellCsv, type CaptureResult } from '@two-thirds/sim/document';
import {
  css,
  html,
  LitElement,
  nothing,
  type PropertyValues,
  svg,
  type SVGTemplateResult,
  type TemplateResult,
} from 'lit';
import { property, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { captureTables, sampleWords } from '../chart/capture-words.ts';
import { WidthController } from '../controllers/width-controller.ts';
import type { BoardChange } from '../edit/board-change.ts';
import { pointText } from '../edit/load-point.ts';
import { cautionLines, cautionStyles } from '../styles/cautions.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';
import { captureEstimates, estimateStyles } from './capture-estimates.ts';
import { captureExplanations, explanationStyles } from './capture-explanations.ts';
import { captureStyles } from './capture-styles.ts';
import { drawn } from './drawn.ts';
import { plainNumber } from './plain-number.ts';
import { studyStyles } from './study-styles.ts';
import type { LaneTool } from './tt-lane-tools.ts';

/** With Shift the arrow keys go this many samples at once. */
const FAR = 10;

/** A measurement laid over the prediction: both as lines, what is left, the values estimated, what may stand behind it. */
export class CaptureOverlay extends LitElement {
  static override styles = [
    shared,
    studyStyles,
    tableStyles,
    cautionStyles,
    captureStyles,
    estimateStyles,
    explanationStyles,
    css`
      .readout {
        min-height: 3em;
      }
      .sentences p {
        max-width: 68ch;
      }
      .sentences p + p {
        margin-top: 0.2rem;
      }
      h3 {
        margin: 1.2rem 0 0.3rem;
        font-size: 1rem;
        font-weight: 650;
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: CaptureResult | undefined;
  /** Called with what the board is to be given. */
  @property({ attribute: false }) load: (change: BoardChange) => void = () => undefined;
  /** Called with what a board of its own is to be given. */
  @property({ attribute: false }) open: (change: BoardChange) => void = () => undefined;
  /** Position among the samples. */
  @state() private at: number | undefined;
  @state() private listsAll = false;
  private scene: CaptureScene | undefined;
  private readonly size = new WidthController(this);

  protected override willUpdate(changed: PropertyValues<this>): void {
    const { result } = this;
    const { width } = this.size;
    if (result === undefined || width === 0) return;
    if (!changed.has('result') && this.scene?.width === width) return;
    this.scene = captureScene(result, width);
    if (this.at !== undefined && this.at >= result.times.length) this.at = undefined;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { result, scene } = this;
    if (result === undefined) return nothing;
    const { reading, overlay, apart } = result.sentences;
    return html`${cautionLines(result.cautions)} ${scene === undefined ? nothing : this.chart(result, scene)}
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => this.copy(tool)}
      ></tt-lane-tools>
      <div class="sentences">
        ${[...overlay].map((sentence) => html`<p>${sentence}</p>`)}
        ${reading.map((sentence) => html`<p class="small quiet">${sentence}</p>`)}
      </div>
      ${captureEstimates(this.cell, result, this.load)}
      ${captureExplanations(result, this.listsAll, {
        load: this.load,
        open: this.open,
        listAll: () => (this.listsAll = true),
      })}
      <div class="sentences">${apart.map((sentence) => html`<p class="sentence">${sentence}</p>`)}</div>
      <tt-data-tables .label=${`Samples of ${this.cell}`} .tables=${() => captureTables(result)}></tt-data-tables>`;
  }

  private chart(result: CaptureResult, scene: CaptureScene): TemplateResult {
    const { times } = result;
    const time = this.at === undefined ? undefined : times[this.at];
    const words = this.at === undefined ? undefined : sampleWords(result, this.at);
    const nets = result.nets.map(({ net }) => net).join(' and ');
    return html`<div
        class="chart"
        role="slider"
        tabindex="0"
        aria-label=${`${nets} measured and predicted over time`}
        aria-valuemin=${plainNumber(times[0] ?? 0)}
        aria-valuemax=${plainNumber(times.at(-1) ?? 0)}
        aria-valuenow=${plainNumber(time ?? times[0] ?? 0)}
        aria-valuetext=${time === undefined || words === undefined ? 'not set' : `${pointText(time, 's')}: ${words}`}
        aria-describedby="keys"
        @keydown=${this.key}
        @focus=${() => (this.at ??= 0)}
        @pointermove=${this.point}
        @pointerleave=${() => {
          if (!this.matches(':focus-within')) this.at = undefined;
        }}
      >
        <svg class="lanes" viewBox="0 0 ${scene.width} ${scene.height}" height=${scene.height} aria-hidden="true">
          ${guard([scene], () => drawn(captureDrawing(scene)))} ${this.cursor(result, scene)}
        </svg>
        <p id="keys" class="unseen">
          Arrow keys go from sample to sample, with Shift ${FAR} at once, page keys from edge to edge.
        </p>
      </div>
      <ul class="legend" aria-label="Legend">
        <li>
          <svg width="30" height="8" aria-hidden="true">${svg`<path class="measured" d="M0 4h30" />`}</svg>measured
        </li>
        <li>
          <svg width="30" height="8" aria-hidden="true">${svg`<path class="predicted" d="M0 4h30" />`}</svg>predicted with
          the values stated
        </li>
        <li>apart: predicted less measured; shaded, the noise</li>
      </ul>
      <p class="readout" aria-hidden="true">
        ${
          time === undefined
            ? html`<span class="quiet on-screen">Point at the chart, or go there with the tab key, for exact values.</span>`
            : html`<b>${pointText(time, 's')}</b>: ${words}`
        }
      </p>`;
  }

  private cursor(result: CaptureResult, scene: CaptureScene): SVGTemplateResult | typeof nothing {
    const { at } = this;
    if (at === undefined) return nothing;
    const x = scene.x(result.times[at] ?? 0);
    const lanes = scene.lanes.filter(({ kind }) => kind === 'net');
    return svg`<line class="cursor" x1=${x} x2=${x} y1="4" y2=${scene.axis.top + 5} />
      ${lanes.map(({ y }, index) => {
        const value = result.nets[index]?.measured[at];
        return value === undefined ? nothing : svg`<circle class="cursor-dot" cx=${x} cy=${y(value)} r="4" />`;
      })}`;
  }

  private copy(tool: LaneTool): string | undefined {
    const { result } = this;
    if (result === undefined) return undefined;
    if (tool === 'csv') return cellCsv(this.cell, result)[0]?.text;
    return cellSvg(result);
  }

  private readonly point = (event: PointerEvent): void => {
    const { scene, result } = this;
    const box = this.renderRoot.querySelector('svg.lanes')?.getBoundingClientRect();
    if (scene === undefined || result === undefined || box === undefined) return;
    const x = event.clientX - box.left;
    if (x >= scene.left - 10) this.at = nearestSample(result.times, scene.x.invert(x));
  };

  private readonly key = (event: KeyboardEvent): void => {
    const { result, scene } = this;
    if (result === undefined || scene === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const { times, edges } = result;
    const last = times.length - 1;
    const now = this.at ?? 0;
    // A sample a pixel: of more, the keys would seem to do nothing.
    const one = Math.max(1, Math.round(times.length / (scene.right - scene.left)));
    const by = one * (event.shiftKey ? FAR : 1);
    const stops = edges.map(({ measured }) => nearestSample(times, measured));
    const moves: Readonly<Record<string, number | undefined>> = {
      ArrowRight: now + by,
      ArrowUp: now + by,
      ArrowLeft: now - by,
      ArrowDown: now - by,
      Home: 0,
      End: last,
      PageDown: stops.find((stop) => stop > now) ?? now,
      PageUp: stops.findLast((stop) => stop < now) ?? now,
    };
    const to = moves[event.key];
    if (to === undefined) return;
    event.preventDefault();
    this.at = Math.max(0, Math.min(last, to));
  };
}
