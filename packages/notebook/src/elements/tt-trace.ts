import { fates, fateWords, type Scene, type StripLane, traceScene } from '@two-thirds/sim/chart';
import { cellCsv, type TraceResult } from '@two-thirds/sim/document';
import { html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { cursorState, hasManyTimes, timeInside } from '../chart/cursor.ts';
import { following, isWhole, keptInside, timeDigits, type Window } from '../chart/view.ts';
import { FormerLines } from '../chart/former-lines.ts';
import { cursorWords } from '../chart/words.ts';
import { DetailController } from '../controllers/detail-controller.ts';
import type { DrawingTurns } from '../controllers/drawing-turns.ts';
import { instantRequest, windowRequest } from '../runtime/detail.ts';
import { areOtherShows } from '../runtime/part-shows.ts';
import { WidthController } from '../controllers/width-controller.ts';
import { shared } from '../styles/shared.ts';
import { CursorEvent, LookEvent } from './events.ts';
import { fateGlyph, fateStyles } from './fate-glyphs.ts';
import {
  cursorMark,
  FORMER_WORDS,
  formerDrawing,
  laneDrawing,
  laneLabel,
  laneMark,
  laneStyles,
  plotClip,
  stripes,
  tellsOf,
  timeAxisDrawing,
} from './lane-drawing.ts';
import { type GestureHost, LaneGestures } from './lane-gestures.ts';
import { plainNumber } from './plain-number.ts';
import { selfContainedSvg } from './self-contained-svg.ts';
import { idleTools, KEY_STEP, keyMove, viewWith } from './trace-moves.ts';
import { traceStyles } from './trace-styles.ts';
import type { LaneTool } from './tt-lane-tools.ts';

/** Columns for every pixel that a detail is drawn in. */
const COLUMNS_PER_PIXEL = 2;
/** A run in which more happens than this is long: its overview is shown even while all of it is looked at. */
const LONG_RUN = 80;

/**
 * Traces over one axis of time: voltages and currents as lines, nets that are high or low as bars, the input pulses of
 * a timer with their fates, and one cursor through all of them. What is looked at can be any part of the run, down to
 * a ten-thousand-millionth of it; it is computed anew for the pixels it is drawn in.
 */
export class Trace extends LitElement {
  static override styles = [shared, fateStyles, laneStyles, traceStyles];

  @property({ attribute: false }) trace: TraceResult | undefined;
  /** What it was before the last step of undo. */
  @property({ attribute: false }) former: TraceResult | undefined;
  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  /** Where the cursor stands, seconds. */
  @property({ attribute: false }) cursor: number | undefined;
  /** Nets and currents of the part that was chosen: their lanes are marked. */
  @property({ attribute: false, hasChanged: areOtherShows }) shows: readonly string[] = [];
  /** When what can wait is drawn. */
  @property({ attribute: false, hasChanged: () => false }) turns: DrawingTurns | undefined;
  /** The part that is looked at; undefined for the whole. */
  @state() private chosen: Window | undefined;
  /** The stretch that is being marked out. */
  @state() private marked: Window | undefined;
  private scene: Scene | undefined;
  /** What the scene was laid out from: a cursor that moves does not lay it out again. */
  private laidOut: readonly unknown[] = [];
  /** What was told last of the part that is looked at. */
  private told: Pick<LookEvent, 'view' | 'detail'> = { view: undefined, detail: undefined };
  private readonly formerLines = new FormerLines();
  private readonly detail = new DetailController(this);
  private readonly moment = new DetailController(this);
  private readonly gestures = new LaneGestures(this.gestureHost());
  private readonly size = new WidthController(this);

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    const { trace } = this;
    const { width } = this.size;
    if (changed.has('trace') && trace !== undefined && this.chosen !== undefined)
      this.look(keptInside(this.chosen, trace));
    if (changed.has('trace')) this.detail.forget();
    const isPointed = trace !== undefined && this.cursor !== undefined;
    const moment = isPointed ? instantRequest(trace, [timeInside(trace, this.cursor ?? 0)]) : undefined;
    this.moment.ask(trace, moment, 'painted');
    const laidOut = trace === undefined || width === 0 ? [] : [this.drawn(trace), width, this.view, trace];
    if (laidOut.length === this.laidOut.length && laidOut.every((each, place) => each === this.laidOut[place])) return;
    this.laidOut = laidOut;
    this.scene =
      trace === undefined || width === 0 ? undefined : traceScene(this.drawn(trace), width, this.view, trace);
  }

  protected override updated(): void {
    const { trace, scene, chosen } = this;
    const columns = scene === undefined ? 0 : Math.round((scene.right - scene.left) * COLUMNS_PER_PIXEL);
    const isPart = trace !== undefined && chosen !== undefined && columns > 0;
    this.detail.ask(trace, isPart ? windowRequest(trace, chosen, columns) : undefined);
    this.tellLook();
  }

  /** Tells what is looked at, so that the table beside the trace follows. */
  private tellLook(): void {
    const { trace, chosen } = this;
    const drawn = trace === undefined ? undefined : this.drawn(trace);
    const detail = drawn === trace ? undefined : drawn;
    if (chosen === this.told.view && detail === this.told.detail) return;
    this.told = { view: chosen, detail };
    this.dispatchEvent(new LookEvent(chosen, detail));
  }

  /** What is looked at. */
  private get view(): Window {
    return this.chosen ?? this.trace ?? { from: 0, until: 1 };
  }

  /** What is drawn: the part in detail once it is computed, till then what is known of the whole. */
  private drawn(trace: TraceResult): TraceResult {
    const { answer } = this.detail;
    const { from, until } = this.view;
    return answer?.from === from && answer.until === until ? answer : trace;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { trace, scene, view } = this;
    if (trace === undefined || scene === undefined) return nothing;
    const time = this.cursor === undefined ? undefined : cursorState(trace, this.cursor, this.moment.answer);
    const digits = timeDigits(view, 1 / KEY_STEP);
    const whole = isWhole(view, trace);
    const former = this.former === undefined || !whole ? [] : this.formerLines.over(scene, this.former);
    return html`<div
        class="chart"
        role="slider"
        tabindex="0"
        aria-label="Time cursor over ${trace.lanes.map((lane) => lane.show).join(', ')}"
        aria-valuemin=${plainNumber(trace.from)}
        aria-valuemax=${plainNumber(trace.until)}
        aria-valuenow=${plainNumber(time?.time ?? trace.from)}
        aria-valuetext=${time === undefined ? 'not set' : cursorWords(time, digits)}
        aria-describedby="keys former"
        aria-busy=${this.detail.isWaiting || this.moment.isWaiting}
        @keydown=${this.key}
        @pointerdown=${this.gestures.down}
        @pointermove=${this.gestures.move}
        @pointerup=${this.gestures.up}
        @pointercancel=${this.gestures.cancel}
        @wheel=${{ handleEvent: this.gestures.wheel, passive: false }}
      >
        <svg class="lanes" viewBox="0 0 ${scene.width} ${scene.height}" height=${scene.height} aria-hidden="true">
          ${former.length === 0 ? nothing : formerDrawing(scene, former)}
          ${guard(
            [scene],
            () => svg`${stripes} ${plotClip(scene)}
          ${scene.lanes.map((lane) => laneDrawing(lane, scene))} ${timeAxisDrawing(scene)}`,
          )}
          <rect
            class="axis-grip ${whole ? '' : 'part'}"
            x=${scene.left}
            y=${scene.axis.top}
            width=${scene.right - scene.left}
            height=${scene.height - scene.axis.top}
          />
          ${scene.lanes.filter((lane) => tellsOf(lane, this.shows)).map(laneMark)}
          ${time === undefined ? nothing : cursorMark(scene, time, digits)}
          ${scene.lanes.map((lane) => laneLabel(lane, scene, time))} ${this.mark(scene)}
        </svg>
        <p class="hint ${scene.narrow ? 'narrow' : ''}" aria-hidden="true">
          arrow and page keys move the cursor; + − , . 0 the view
        </p>
        <p id="former" class="unseen">${former.length === 0 ? '' : FORMER_WORDS}</p>
        <p id="keys" class="unseen">
          Arrow keys move the cursor, page keys go from event to event. Plus and minus look closer and wider, comma and
          full stop earlier and later, 0 at the whole run.
        </p>
      </div>
      ${
        whole && !hasManyTimes(trace, LONG_RUN)
          ? nothing
          : html`<tt-overview
              .turns=${this.turns}
              .trace=${trace}
              .view=${view}
              .width=${scene.width}
              .left=${scene.left}
              .right=${scene.right}
              .look=${this.lookAt}
            ></tt-overview>`
      }
      <tt-lane-tools
        .label=${`View and copies of ${this.cell}`}
        .idle=${idleTools(view, trace, this.detail.isWaiting)}
        .use=${(tool: LaneTool) => this.use(tool)}
      ></tt-lane-tools>
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

  /** The stretch that is being marked out. */
  private mark({ x, axis }: Scene): unknown {
    if (this.marked === undefined) return nothing;
    const [from, until] = [x(this.marked.from), x(this.marked.until)];
    return svg`<rect class="marked" x=${from} y="0" width=${until - from} height=${axis.top} />`;
  }

  private gestureHost(): GestureHost {
    return {
      view: () => this.view,
      whole: () => this.trace ?? this.view,
      place: (event) => this.place(event),
      look: (view) => this.look(view),
      moveCursor: (time) => this.moveTo(time),
      mark: (stretch) => {
        this.marked = stretch;
      },
    };
  }

  private place(event: PointerEvent | WheelEvent): { share: number; onAxis: boolean } {
    const { scene } = this;
    const box = this.renderRoot.querySelector('.chart')?.getBoundingClientRect();
    if (scene === undefined || box === undefined) return { share: 0, onAxis: false };
    const at = ((event.clientX - box.left) / box.width) * scene.width;
    const share = (at - scene.left) / (scene.right - scene.left);
    return { share, onAxis: event.clientY - box.top > scene.axis.top };
  }

  private readonly key = (event: KeyboardEvent): void => {
    const { trace, view } = this;
    if (trace === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const move = keyMove(event, trace, view, this.cursor ?? trace.from);
    if (move === undefined) return;
    event.preventDefault();
    if ('tool' in move) this.use(move.tool);
    else if (move.time !== undefined) this.moveTo(move.time);
  };

  private use(tool: LaneTool): string | undefined {
    const { trace } = this;
    if (trace === undefined) return undefined;
    if (tool === 'csv') return cellCsv(this.cell, this.drawn(trace))[0]?.text;
    if (tool === 'svg') return this.svgText(trace);
    this.look(viewWith(tool, this.view, trace, this.cursor));
    return undefined;
  }

  private svgText(trace: TraceResult): string | undefined {
    const drawing = this.renderRoot.querySelector<SVGSVGElement>('svg.lanes');
    const shown = trace.lanes.map((lane) => lane.show).join(', ');
    const legends = this.renderRoot.querySelectorAll('ul.legend');
    return drawing === null ? undefined : selfContainedSvg(drawing, `${shown} of ${trace.board} over time`, legends);
  }

  private readonly lookAt = (view: Window): void => this.look(view);

  private look(view: Window | undefined): void {
    const { trace } = this;
    this.chosen = trace === undefined || view === undefined || isWhole(view, trace) ? undefined : view;
  }

  private moveTo(time: number): void {
    const { trace } = this;
    if (trace === undefined) return;
    const inside = timeInside(trace, time);
    this.look(following(this.view, trace, inside));
    this.dispatchEvent(new CursorEvent(this.cell, inside));
  }
}
