import { fates, fateWords, type StripLane, traceScene } from '@two-thirds/sim/chart';
import type { CellResult, FatesResult, TraceResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { WidthController } from '../controllers/width-controller.ts';
import type { Json } from '../edit/json.ts';
import { type OpeningRunPlan, openingRun, STRIP, TOLD } from '../runtime/opening-run.ts';
import { shared } from '../styles/shared.ts';
import { SimulationClient } from '../worker/client.ts';
import { startWorker } from '../worker/start.ts';
import { fateGlyph, fateStyles } from './fate-glyphs.ts';
import { laneDrawing, laneLabel, laneStyles, plotClip, stripes, timeAxisDrawing } from './lane-drawing.ts';

/** Columns of the lanes; the strip is made of events, not of columns. */
const COLUMNS = 2;

/**
 * The fate strip of a page's first timer, computed here and now, with what the run says of it. It begins after the page
 * has been painted, and leaves room for itself until then.
 */
export class OpeningRun extends LitElement {
  static override styles = [
    shared,
    fateStyles,
    laneStyles,
    css`
      :host {
        min-height: 20rem;
      }
      .title {
        color: var(--quiet);
        font-size: var(--small);
      }
      ul {
        list-style: none;
        padding: 0;
        margin: 0.4rem 0 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 1.4rem;
        font-size: var(--small);
        color: var(--quiet);
      }
      li {
        display: flex;
        align-items: center;
        gap: 0.4rem;
      }
      li b {
        color: var(--ink);
      }
      .told {
        margin-top: 0.7rem;
        max-width: 74ch;
      }
      a {
        font-weight: 650;
        white-space: nowrap;
      }
      @media (max-width: 40rem) {
        :host {
          min-height: 27.25rem;
        }
      }
    `,
  ];

  /** The document of the page. */
  @property({ attribute: false }) page: Json = null;
  /** The title of the page. */
  @property({ attribute: false }) name = '';
  /** Where a link to the page leads. */
  @property({ attribute: false }) address = '';
  @state() private trace: TraceResult | undefined;
  @state() private told: FatesResult | undefined;
  @state() private failure: string | undefined;
  private readonly size = new WidthController(this);
  private client: SimulationClient | undefined;
  private run: OpeningRunPlan | undefined;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('page')) this.run = openingRun(this.page);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    // Two frames: the page is painted by then.
    requestAnimationFrame(() => requestAnimationFrame(() => this.begin()));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.client?.stop();
    this.client = undefined;
  }

  private begin(): void {
    const { run } = this;
    if (!this.isConnected || this.told !== undefined || run === undefined) return;
    this.client = new SimulationClient(startWorker, {
      result: (_, result) => this.take(result),
      progress: () => undefined,
      failed: (message) => {
        this.failure = message;
      },
      settled: () => this.client?.stop(),
    });
    this.client.run({ text: JSON.stringify(run.document), batches: [[STRIP, TOLD]], columns: COLUMNS });
  }

  private take(result: CellResult): void {
    if (!result.ok) this.failure = result.error.message;
    else if (result.kind === 'trace') this.trace = result;
    else if (result.kind === 'fates') this.told = result;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { trace, told, failure } = this;
    if (this.run === undefined) return nothing;
    if (failure !== undefined) return html`<p class="quiet" role="alert">${failure}</p>`;
    if (trace === undefined || told === undefined || this.size.width === 0) {
      return html`<p class="title">${this.name}: the first run is being computed.</p>`;
    }
    const scene = traceScene(trace, this.size.width);
    const strip = scene.lanes.find((lane): lane is StripLane => lane.kind === 'strip');
    return html`<p class="title">${this.name}: what became of every pulse, computed just now</p>
      <svg
        class="lanes"
        role="img"
        aria-label="Input pulses by their fates over the output they make"
        viewBox="0 0 ${scene.width} ${scene.height}"
        height=${scene.height}
      >
        ${stripes} ${plotClip(scene)} ${scene.lanes.map((lane) => laneDrawing(lane, scene))} ${timeAxisDrawing(scene)}
        ${scene.lanes.map((lane) => laneLabel(lane, scene, undefined))}
      </svg>
      <ul>
        ${fates
          .filter((fate) => (strip?.counts[fate] ?? 0) > 0)
          .map((fate) => html`<li>${fateGlyph(fate)}${fateWords[fate]}: <b>${strip?.counts[fate]}</b></li>`)}
      </ul>
      <p class="told">${told.explanation} <a href=${this.address}>turn ${this.run.knob}</a></p>`;
  }
}
