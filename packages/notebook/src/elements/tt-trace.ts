import type { TraceResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { cursorState, eventTimes } from '../chart/cursor.ts';
import { fates, fateWords } from '../chart/fate-marks.ts';
import { type Scene, type StripLane, traceScene } from '../chart/scene.ts';
import { cursorWords } from '../chart/words.ts';
import { shared } from '../styles/shared.ts';
import { fateGlyph, fateStyles, stripePattern } from './fate-glyphs.ts';
import { cursorMark, laneDrawing, laneStyles, timeAxisDrawing } from './lane-drawing.ts';
import { CursorEvent } from './events.ts';
import { plainNumber } from './plain-number.ts';

/** The cursor moves by this share of the window at one key press, and by ten times as much with Shift. */
const KEY_STEP = 1 / 400;

/**
 * Traces over one axis of time: voltages and currents as lines, nets that are high or low as bars, the input pulses of
 * a timer with their fates, and one cursor through all of them, moved by pointer or keys.
 */
export class Trace extends LitElement {
  static override styles = [
    shared,
    fateStyles,
    laneStyles,
    css`
      .chart {
        position: relative;
        touch-action: pan-y;
        cursor: crosshair;
        border-radius: 3px;
      }
      .hint {
        position: absolute;
        right: 0;
        bottom: -0.1rem;
        left: 0;
        font-size: var(--small);
        color: var(--quiet);
        visibility: hidden;
      }
      .chart:focus-visible .hint {
        visibility: visible;
      }
      ul.legend {
        list-style: none;
        padding: 0;
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 1.4rem;
        font-size: var(--small);
        color: var(--quiet);
      }
      .legend svg {
        vertical-align: -0.3em;
        margin-right: 0.35rem;
      }
      .legend b {
        color: var(--ink);
        font-weight: 650;
      }
    `,
  ];

  @property({ attribute: false }) trace: TraceResult | undefined;
  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  /** Where the cursor stands, seconds. */
  @property({ attribute: false }) cursor: number | undefined;
  @state() private width = 0;
  private scene: Scene | undefined;
  private readonly watcher = new ResizeObserver(([entry]) => {
    if (entry !== undefined && entry.contentRect.width > 0) this.width = Math.floor(entry.contentRect.width);
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.watcher.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.watcher.disconnect();
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (this.trace === undefined || this.width === 0) this.scene = undefined;
    else if (changed.has('trace') || changed.has('width')) this.scene = traceScene(this.trace, this.width);
  }

  protected override render(): TemplateResult | typeof nothing {
    const { trace, scene } = this;
    if (trace === undefined || scene === undefined) return nothing;
    const time = this.cursor === undefined ? undefined : cursorState(trace, this.cursor);
    return html`<div
        class="chart"
        role="slider"
        tabindex="0"
        aria-label="Time cursor over ${trace.lanes.map((lane) => lane.show).join(', ')}"
        aria-valuemin=${plainNumber(trace.from)}
        aria-valuemax=${plainNumber(trace.until)}
        aria-valuenow=${plainNumber(time?.time ?? trace.from)}
        aria-valuetext=${time === undefined ? 'not set' : cursorWords(time)}
        @keydown=${this.key}
        @pointerdown=${this.point}
        @pointermove=${this.point}
      >
        <svg class="lanes" viewBox="0 0 ${scene.width} ${scene.height}" height=${scene.height} aria-hidden="true">
          ${stripePattern}
          ${scene.lanes.map((lane) => laneDrawing(lane, scene, time))} ${timeAxisDrawing(scene)}
          ${time === undefined ? nothing : cursorMark(scene, time)}
        </svg>
        <p class="hint" aria-hidden="true">arrow keys move the cursor, page keys go from event to event</p>
      </div>
      ${this.legend(trace)}`;
  }

  private legend(trace: TraceResult): TemplateResult | typeof nothing {
    const strips = this.scene?.lanes.filter((lane): lane is StripLane => lane.kind === 'strip') ?? [];
    if (strips.length === 0) return nothing;
    return html`${strips.map(
      ({ timer, counts }) =>
        html`<ul class="legend" aria-label="Input pulses of ${timer} by fate">
          ${trace.timers.length > 1 ? html`<li>${timer}</li>` : nothing}
          ${fates
            .filter((fate) => counts[fate] > 0)
            .map((fate) => html`<li>${fateGlyph(fate)}${fateWords[fate]}: <b>${counts[fate]}</b></li>`)}
        </ul>`,
    )}`;
  }

  private readonly point = (event: PointerEvent): void => {
    const pressed = event.type === 'pointerdown' || event.buttons === 1;
    if (this.scene === undefined || !pressed) return;
    const chart = event.currentTarget as HTMLElement;
    if (event.type === 'pointerdown') chart.setPointerCapture(event.pointerId);
    const box = chart.getBoundingClientRect();
    this.moveTo(this.scene.x.invert(((event.clientX - box.left) / box.width) * this.scene.width));
  };

  private readonly key = (event: KeyboardEvent): void => {
    const { trace } = this;
    if (trace === undefined) return;
    const now = this.cursor ?? trace.from;
    const step = (trace.until - trace.from) * KEY_STEP * (event.shiftKey ? 10 : 1);
    const target: Record<string, () => number | undefined> = {
      ArrowRight: () => now + step,
      ArrowUp: () => now + step,
      ArrowLeft: () => now - step,
      ArrowDown: () => now - step,
      Home: () => trace.from,
      End: () => trace.until,
      PageDown: () => eventTimes(trace).find((time) => time > now),
      PageUp: () => eventTimes(trace).findLast((time) => time < now),
    };
    const move = target[event.key];
    if (move === undefined) return;
    event.preventDefault();
    const time = move();
    if (time !== undefined) this.moveTo(time);
  };

  private moveTo(time: number): void {
    const { trace } = this;
    if (trace === undefined) return;
    this.dispatchEvent(new CursorEvent(this.cell, Math.min(trace.until, Math.max(trace.from, time))));
  }
}
