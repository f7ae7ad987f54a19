import type { TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, html, LitElement, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { cursorState, eventTimes } from '../chart/cursor.ts';
import { fates, fateWords } from '../chart/fate-marks.ts';
import { type AnalogLane, type Bar, type LogicLane, type Scene, type StripLane, traceScene } from '../chart/scene.ts';
import { cursorWords } from '../chart/words.ts';
import { shared } from '../styles/shared.ts';
import { fateGlyph, fateMark, fateStyles, stripePattern } from './fate-glyphs.ts';
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
    css`
      .chart {
        position: relative;
        touch-action: pan-y;
        cursor: crosshair;
        border-radius: 3px;
      }
      svg.lanes {
        display: block;
        width: 100%;
        overflow: visible;
      }
      text {
        fill: var(--quiet);
        font-size: 13px;
      }
      .name {
        fill: var(--ink);
        font-weight: 550;
      }
      .unit,
      .tick {
        font-size: 12px;
      }
      .trace {
        fill: none;
        stroke: var(--slate);
        stroke-width: 1.8;
        stroke-linejoin: round;
      }
      .zero,
      .foot {
        stroke: var(--line);
        stroke-width: 1.5;
      }
      .limit {
        stroke: var(--edge);
        stroke-width: 1.3;
        stroke-dasharray: 1.5 4.5;
        stroke-linecap: round;
      }
      .limit-name {
        font-size: 12px;
        text-anchor: end;
        paint-order: stroke;
        stroke: var(--ground);
        stroke-width: 4px;
        stroke-linejoin: round;
      }
      .shade {
        fill: var(--shade);
      }
      .bar {
        fill: var(--bar);
      }
      .bar.crowded {
        opacity: 0.45;
      }
      .bar-label {
        fill: var(--on-bar);
        text-anchor: middle;
        font-size: 12.5px;
      }
      .running {
        fill: var(--running);
      }
      .running-band {
        fill: var(--rust);
        opacity: 0.55;
      }
      .link {
        stroke: var(--rust);
        stroke-width: 1.8;
        fill: none;
      }
      .axis-tick {
        stroke: var(--edge);
      }
      .axis text {
        font-size: 12.5px;
      }
      .cursor {
        stroke: var(--gold);
        stroke-width: 1.6;
      }
      .cursor-dot {
        fill: var(--gold);
        stroke: var(--ground);
        stroke-width: 1.5;
      }
      .readout {
        fill: var(--gold);
        font-size: 12.5px;
        font-weight: 600;
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
          ${scene.lanes.map((lane) =>
            lane.kind === 'analog'
              ? analog(lane, scene)
              : lane.kind === 'logic'
                ? logic(lane, scene)
                : strip(lane, scene),
          )}
          ${axis(scene)} ${this.cursorLine(scene)}
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

  private cursorLine(scene: Scene): SVGTemplateResult | typeof nothing {
    const { trace, cursor } = this;
    if (trace === undefined || cursor === undefined) return nothing;
    const { time, lanes } = cursorState(trace, cursor);
    const x = scene.x(time);
    const atEnd = x > scene.right - 60;
    return svg`<line class="cursor" x1=${x} x2=${x} y1="0" y2=${scene.axis.top + 6} />
      <text class="readout" x=${x + (atEnd ? -6 : 6)} y="9" text-anchor=${atEnd ? 'end' : 'start'}
        >${formatQuantity(time, 's', { digits: 4 })}</text>
      ${scene.lanes.map((lane) => {
        const value = lane.kind === 'analog' ? lanes.find((each) => each.show === lane.show) : undefined;
        if (value === undefined || lane.kind !== 'analog') return nothing;
        const isJump = value.low !== value.high;
        return svg`${isJump ? nothing : svg`<circle class="cursor-dot" cx=${x} cy=${lane.y(value.low)} r="4.5" />`}
          <text class="readout" x=${scene.narrow ? scene.right : 0} text-anchor=${scene.narrow ? 'end' : 'start'}
            y=${scene.narrow ? lane.top - 8 : lane.top + 48}>${value.text}</text>`;
      })}`;
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

function laneName(scene: Scene, title: string, top: number, unit?: string): SVGTemplateResult {
  if (scene.narrow) {
    const tail = unit === undefined ? nothing : svg`<tspan class="unit" dx="8" font-weight="400">${unit}</tspan>`;
    return svg`<text class="name" x=${scene.left} y=${top - 8}>${title}${tail}</text>`;
  }
  const below = unit === undefined ? nothing : svg`<text class="unit" x="0" y=${top + 30}>${unit}</text>`;
  return svg`<text class="name" x="0" y=${top + 13}>${title}</text>${below}`;
}

function analog(lane: AnalogLane, scene: Scene): SVGTemplateResult {
  const { left, right } = scene;
  return svg`<g>
    ${laneName(scene, lane.title, lane.top, lane.unit)}
    ${
      lane.shaded === undefined
        ? nothing
        : svg`<rect class="shade" x=${left} width=${right - left} y=${lane.shaded.top}
            height=${lane.shaded.bottom - lane.shaded.top} />`
    }
    <line class="zero" x1=${left} x2=${right} y1=${lane.zero} y2=${lane.zero} />
    ${lane.ticks.map(
      (tick) => svg`<text class="tick" text-anchor=${scene.narrow ? 'start' : 'end'}
        x=${scene.narrow ? left + 2 : left - 8} y=${tick.at + (scene.narrow ? -2 : 4)}>${tick.label}</text>`,
    )}
    ${lane.limits.map((limit) => svg`<line class="limit" x1=${left} x2=${right} y1=${limit.at} y2=${limit.at} />`)}
    <path class="trace" d=${lane.path} />
    ${lane.limits.map((limit) => svg`<text class="limit-name" x=${right} y=${limit.at - 5}>${limit.label}</text>`)}
  </g>`;
}

function logic(lane: LogicLane, scene: Scene): SVGTemplateResult {
  return svg`<g>
    ${laneName(scene, lane.title, lane.top + (scene.narrow ? 0 : 3))}
    <line class="zero" x1=${scene.left} x2=${scene.right} y1=${lane.bottom} y2=${lane.bottom} />
    ${lane.bars.map((each) => bar(each, lane.top, lane.bottom))}
  </g>`;
}

function strip(lane: StripLane, scene: Scene): SVGTemplateResult {
  const { left, right } = scene;
  return svg`<g>
    ${lane.intervals.map(
      ({ x, width }) => svg`<rect class="running" x=${x} y=${lane.markTop - 5} width=${width}
          height=${lane.barTop - lane.markTop + 5} />
        <rect class="running-band" x=${x} y=${lane.runTop} width=${width} height="5" rx="2.5" />`,
    )}
    ${laneName(scene, lane.trigger, lane.markTop + (scene.narrow ? 0 : 2))}
    ${scene.narrow ? nothing : svg`<text class="unit" x="0" y=${lane.runTop + 7}>interval runs</text>`}
    ${laneName(scene, lane.output, lane.barTop + (scene.narrow ? 0 : 3))}
    <line class="zero" x1=${left} x2=${right} y1=${lane.bottom} y2=${lane.bottom} />
    ${lane.links.map((path) => svg`<path class="link" d=${path} />`)}
    ${lane.marks.map((mark) => fateMark(mark, lane.markTop))}
    ${lane.bars.map((each) => bar(each, lane.barTop, lane.bottom))}
  </g>`;
}

function bar(each: Bar, top: number, bottom: number): SVGTemplateResult {
  return svg`<rect class="bar ${each.crowded === true ? 'crowded' : ''}" x=${each.x} y=${top} width=${each.width}
      height=${bottom - top} />
    ${
      each.label === undefined
        ? nothing
        : svg`<text class="bar-label" x=${each.x + each.width / 2} y=${(top + bottom) / 2 + 4.5}>${each.label}</text>`
    }`;
}

function axis({ axis: { top, ticks, title }, right }: Scene): SVGTemplateResult {
  return svg`<g class="axis">
    ${ticks.map(
      ({ at, label }) => svg`<line class="axis-tick" x1=${at} x2=${at} y1=${top} y2=${top + 5} />
        <text x=${at} y=${top + 20} text-anchor="middle">${label}</text>`,
    )}
    <text x=${right} y=${top + 37} text-anchor="end">${title}</text>
  </g>`;
}
