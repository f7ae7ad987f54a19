import { cellSvg, nearestStop, sweepDrawing, type SweepScene, sweepScene } from '@two-thirds/sim/chart';
import { cellCsv, type SweepResult } from '@two-thirds/sim/document';
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { sweepStopWords, sweepTables } from '../chart/sweep-words.ts';
import type { PointValue } from '../edit/load-point.ts';
import { WidthController } from '../controllers/width-controller.ts';
import { shared } from '../styles/shared.ts';
import { drawn } from './drawn.ts';
import { fateStyles } from './fate-glyphs.ts';
import { plainNumber } from './plain-number.ts';
import { studyStyles } from './study-styles.ts';
import { sweepCursor, sweepStyles } from './sweep-drawing.ts';
import type { LaneTool } from './tt-lane-tools.ts';

/** With Shift the arrow keys go this many places at once. */
const FAR = 10;
/** A pointer this near to a jump means the jump (pixels). */
const REACH = 5;

/**
 * Readings over one value of a board: lines with the regions between jumps above them. Every point and every jump is read
 * by pointer or keyboard, and given to the board by click or Enter.
 */
export class Sweep extends LitElement {
  static override styles = [shared, fateStyles, studyStyles, sweepStyles];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: SweepResult | undefined;
  /** Called with the value that the board is to be set to. */
  @property({ attribute: false }) load: (values: readonly PointValue[]) => void = () => undefined;
  /** Position among the stops. */
  @state() private at: number | undefined;
  private scene: SweepScene | undefined;
  private readonly size = new WidthController(this);

  protected override willUpdate(changed: PropertyValues<this>): void {
    const { result } = this;
    const { width } = this.size;
    if (result === undefined || width === 0 || result.x.length === 0) return;
    if (!changed.has('result') && this.scene?.width === width) return;
    const before = this.at === undefined ? undefined : this.scene?.stops[this.at];
    this.scene = sweepScene(result, width);
    if (before !== undefined) this.at = nearestStop(this.scene, this.scene.x.scale(before.x), 0.5);
  }

  protected override render(): TemplateResult | typeof nothing {
    const { result, scene } = this;
    if (result === undefined || scene === undefined) return nothing;
    const stop = this.at === undefined ? undefined : scene.stops[this.at];
    const words = stop === undefined ? undefined : sweepStopWords(result, stop);
    const names = result.series.map(({ name }) => name).join(', ');
    return html`<div
        class="chart"
        role="slider"
        tabindex="0"
        aria-label=${`${names} over ${scene.x.title}`}
        aria-valuemin=${plainNumber(result.x[0] ?? 0)}
        aria-valuemax=${plainNumber(result.x.at(-1) ?? 0)}
        aria-valuenow=${plainNumber(stop?.x ?? result.x[0] ?? 0)}
        aria-valuetext=${words === undefined ? 'not set' : `${words.place}: ${words.value}. ${words.more}`}
        aria-describedby="keys"
        @keydown=${this.key}
        @focus=${() => (this.at ??= this.present())}
        @pointermove=${this.point}
        @pointerleave=${this.leave}
        @click=${this.press}
      >
        <svg class="lanes" viewBox="0 0 ${scene.width} ${scene.height}" height=${scene.height} aria-hidden="true">
          ${guard([scene], () => drawn(sweepDrawing(scene)))} ${sweepCursor(scene, stop)}
        </svg>
        <p id="keys" class="unseen">
          Arrow keys go from place to place, with Shift ${FAR} at once, page keys from jump to jump. Enter sets the board to
          the value.
        </p>
      </div>
      <p class="readout" aria-hidden="true">
        ${
          words === undefined
            ? html`<span class="quiet on-screen">Point at the chart, or go there with the tab key, for exact values; page keys go from
                jump to jump. A click or Enter sets the board to the value.</span>`
            : html`${words.place}: <b>${words.value}</b>${words.more === '' ? nothing : html`<br />${words.more}`}`
        }
      </p>
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => this.copy(tool)}
      ></tt-lane-tools>
      <p class="sentence">${result.sentence}</p>
      <tt-data-tables .label=${`Points of ${this.cell}`} .tables=${() => sweepTables(result)}></tt-data-tables>`;
  }

  private copy(tool: LaneTool): string | undefined {
    const { result } = this;
    if (result === undefined) return undefined;
    if (tool === 'csv') return cellCsv(this.cell, result)[0]?.text;
    return cellSvg(result);
  }

  /** The stop nearest to where the board stands now. */
  private present(): number {
    const { scene } = this;
    return scene === undefined ? 0 : nearestStop(scene, scene.now ?? scene.left, 0);
  }

  private readonly point = (event: PointerEvent): void => {
    this.at = this.under(event) ?? this.at;
  };

  private readonly leave = (): void => {
    if (!this.matches(':focus-within')) this.at = undefined;
  };

  private readonly press = (event: MouseEvent): void => {
    const at = this.under(event);
    if (at === undefined) return;
    this.at = at;
    this.choose(at);
  };

  private under(event: MouseEvent): number | undefined {
    const { scene } = this;
    const box = this.renderRoot.querySelector('svg.lanes')?.getBoundingClientRect();
    if (scene === undefined || box === undefined) return undefined;
    const x = event.clientX - box.left;
    return x < scene.left - 10 || x > scene.right + 10 ? undefined : nearestStop(scene, x, REACH);
  }

  private readonly key = (event: KeyboardEvent): void => {
    const stops = this.scene?.stops ?? [];
    if (stops.length === 0 || event.ctrlKey || event.metaKey || event.altKey) return;
    const now = this.at ?? this.present();
    const by = event.shiftKey ? FAR : 1;
    const isMark = (index: number): boolean =>
      stops[index]?.mark !== undefined && stops[index]?.mark !== stops[now]?.mark;
    const places = stops.map((_, index) => index);
    const moves: Readonly<Record<string, () => number | undefined>> = {
      ArrowRight: () => now + by,
      ArrowUp: () => now + by,
      ArrowLeft: () => now - by,
      ArrowDown: () => now - by,
      Home: () => 0,
      End: () => stops.length - 1,
      PageDown: () => places.find((index) => index > now && isMark(index)),
      PageUp: () => places.findLast((index) => index < now && isMark(index)),
    };
    const move = moves[event.key];
    if (move === undefined && event.key !== 'Enter') return;
    event.preventDefault();
    if (move === undefined) this.choose(now);
    else this.at = Math.max(0, Math.min(stops.length - 1, move() ?? now));
  };

  private choose(at: number): void {
    const { result } = this;
    const stop = this.scene?.stops[at];
    if (result === undefined || stop === undefined) return;
    this.load([{ name: result.vary.value, unit: result.vary.unit, value: stop.x }]);
  }
}
