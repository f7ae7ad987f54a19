import { traceScene } from '@two-thirds/sim/chart';
import type { PartRow } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { LiveRunController } from '../controllers/live-run-controller.ts';
import { WidthController } from '../controllers/width-controller.ts';
import { liveTrace } from '../runtime/live-lanes.ts';
import { shared } from '../styles/shared.ts';
import { laneDrawing, laneLabel, laneStyles, plotClip, timeAxisDrawing } from './lane-drawing.ts';

/**
 * The last stretch of a run by hand, drawn while time passes. The page of it fills from the left and goes on by half once
 * it is full: nothing that is drawn moves or flickers. What is faster than a pixel is a filled envelope or a grey bar.
 */
export class RunningTrace extends LitElement {
  static override styles = [
    shared,
    laneStyles,
    css`
      :host {
        margin-top: 0.9rem;
      }
      svg.lanes {
        overflow: hidden;
      }
      .now {
        stroke: var(--gold);
        stroke-width: 1.4;
      }
    `,
  ];

  @property({ attribute: false }) live: LiveRunController | undefined;
  @property({ attribute: false }) board = '';
  @property({ attribute: false }) parts: readonly PartRow[] = [];
  private readonly size = new WidthController(this);
  private watched: LiveRunController | undefined;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    if (this.watched !== undefined) this.watched.drawing.drew = undefined;
    this.watched = undefined;
  }

  protected override willUpdate(_changed: PropertyValues<this>): void {
    if (this.live === undefined || this.live === this.watched) return;
    this.watched = this.live;
    this.live.drawing.drew = () => this.requestUpdate();
  }

  protected override render(): TemplateResult | typeof nothing {
    const { live, board, parts } = this;
    const { width } = this.size;
    const { rolling, level } = live?.drawing ?? {};
    if (rolling === undefined || level === undefined || width === 0) return nothing;
    const drawn = liveTrace(rolling, board, parts, level, live?.view.state);
    if (drawn === undefined) return nothing;
    const scene = traceScene(drawn.trace, width, rolling.page, drawn.whole);
    const now = Math.min(scene.right, scene.x(drawn.trace.until));
    return html`<svg
      class="lanes"
      role="img"
      aria-label=${`The last stretch of the run: ${scene.lanes.flatMap((lane) => ('title' in lane ? [lane.title] : [])).join(', ')}`}
      viewBox="0 0 ${scene.width} ${scene.height}"
      height=${scene.height}
    >
      ${plotClip(scene)} ${scene.lanes.map((lane) => laneDrawing(lane, scene))} ${timeAxisDrawing(scene)}
      ${scene.lanes.map((lane) => laneLabel(lane, scene, undefined))}
      <line class="now" x1=${now} x2=${now} y1="0" y2=${scene.axis.top + 6} />
    </svg>`;
  }
}
