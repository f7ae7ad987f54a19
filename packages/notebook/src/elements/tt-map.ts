import {
  FORMER_BOUNDARIES,
  fillOf,
  mapDrawing,
  type MapScene,
  mapScene,
  mapSvg,
  nearestPoint,
  nowPlace,
  nowRing,
  rampBar,
  studyPatterns,
} from '@two-thirds/sim/chart';
import { cellCsv, type MapResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { formerBoundaries } from '../chart/former-boundaries.ts';
import { mapPointWords, mapTable } from '../chart/map-words.ts';
import { type PointValue, pointText } from '../edit/load-point.ts';
import { WidthController } from '../controllers/width-controller.ts';
import { shared } from '../styles/shared.ts';
import { drawn } from './drawn.ts';
import { formerSample, mapStyles, pointMark } from './map-drawing.ts';
import { rampStyles } from './ramp-styles.ts';
import { studyStyles } from './study-styles.ts';
import type { LaneTool } from './tt-lane-tools.ts';

interface GridPoint {
  readonly column: number;
  readonly row: number;
}

/** With Shift the arrow keys go this many points at once. */
const FAR = 5;
const LEGEND_WIDTH = 220;
const LEGEND_DIGITS = 3;

/**
 * A map of one reading over two values of a board: regions of one ratio each, or a scale of colours, with the boundaries
 * between them. Every point is read by pointer or keyboard, and given to the board by click or Enter.
 */
export class StudyMap extends LitElement {
  static override styles = [
    shared,
    studyStyles,
    rampStyles,
    mapStyles,
    css`
      ul {
        list-style: none;
        padding: 0;
        margin: 0.4rem 0 0;
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.25rem 1.1rem;
        font-size: var(--small);
        color: var(--quiet);
      }
      li svg {
        vertical-align: -0.25em;
        margin-right: 0.35rem;
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: MapResult | undefined;
  /** What it had before the last change, to be laid over it. */
  @property({ attribute: false }) former: MapResult | undefined;
  /** Called with the point that the board is to be set to. */
  @property({ attribute: false }) load: (values: readonly PointValue[]) => void = () => undefined;
  @state() private pointed: GridPoint | undefined;
  private scene: MapScene | undefined;
  private formerLines: readonly string[] = [];
  private readonly size = new WidthController(this);

  protected override willUpdate(changed: PropertyValues<this>): void {
    const { result, former, pointed } = this;
    const { width } = this.size;
    if (result === undefined || width === 0) return;
    const isAsDrawn = !changed.has('result') && this.scene?.width === width;
    if (isAsDrawn && !changed.has('former')) return;
    const scene = isAsDrawn ? this.scene! : mapScene(result, width);
    this.scene = scene;
    this.formerLines = former === undefined ? [] : formerBoundaries(scene, result, former);
    const isOutside = pointed !== undefined && (pointed.column >= result.x.length || pointed.row >= result.y.length);
    if (isOutside) this.pointed = undefined;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { result, scene } = this;
    if (result === undefined || scene === undefined) return nothing;
    return html`<div
        class="chart"
        role="application"
        tabindex="0"
        aria-label=${`Map of ${result.name} over ${scene.x.title} and ${scene.y.title}`}
        aria-describedby="keys"
        @keydown=${this.key}
        @focus=${() => (this.pointed ??= this.present())}
        @pointermove=${this.point}
        @pointerleave=${this.leave}
        @click=${this.press}
      >
        <svg class="lanes" viewBox="0 0 ${scene.width} ${scene.height}" height=${scene.height} aria-hidden="true">
          ${guard([scene, this.formerLines], () => drawn(mapDrawing(scene, this.formerLines)))}
          ${drawn(nowRing(nowPlace(result, scene)))}
          ${pointMark(scene, this.place(result, scene, this.pointed))}
        </svg>
        <p id="keys" class="unseen">
          Arrow keys go from point to point, with Shift ${FAR} at once, Home and End to the ends of a row. Enter sets the
          board to the point.
        </p>
      </div>
      ${this.legend(result, scene)}
      <p class="readout" aria-live="polite">
        ${
          this.pointed === undefined
            ? html`<span class="quiet on-screen">Point at the map, or go there with the tab key, for the value of a point. A click or
                Enter sets the board to it.</span>`
            : this.reading(result, this.pointed)
        }
      </p>
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => this.copy(tool)}
      ></tt-lane-tools>
      <p class="sentence">${result.sentence}</p>
      <tt-data-tables .label=${`Points of ${this.cell}`} .tables=${() => mapTable(result, this.former)}></tt-data-tables>`;
  }

  private reading(result: MapResult, { column, row }: GridPoint): TemplateResult {
    const { place, value, more } = mapPointWords(result, column, row);
    return html`${place}: <b>${value}</b>${more === '' ? nothing : html`<br />${more}`}`;
  }

  private legend(result: MapResult, { classes, ...scene }: MapScene): TemplateResult {
    const [least, most] = classes.span;
    const { unit, name } = result;
    return html`<ul aria-label="Legend">
      <li>${name}</li>
      ${
        classes.isNamed || !Number.isFinite(least)
          ? nothing
          : html`<li>
              ${pointText(least, unit, LEGEND_DIGITS)}
              <svg width=${LEGEND_WIDTH} height="14" viewBox="0 0 ${LEGEND_WIDTH} 14" aria-hidden="true">
                ${drawn(rampBar(0, 0.5, LEGEND_WIDTH, 13))}
              </svg>
              ${pointText(most, unit, LEGEND_DIGITS)}${classes.isByRatio ? ', each colour by the same factor' : nothing}
            </li>`
      }
      ${classes.legend.map(
        ({ value, text }) =>
          html`<li>
            <svg width="22" height="14" viewBox="0 0 22 14" aria-hidden="true">
              ${drawn([studyPatterns])}
              <rect class="swatch ${fillOf({ ...scene, classes }, value)}" x="0.5" y="0.5" width="21" height="13" />
            </svg>
            ${text}
          </li>`,
      )}
      ${this.formerLines.length === 0 ? nothing : html`<li>${formerSample}${FORMER_BOUNDARIES}</li>`}
      ${
        nowPlace(result, { ...scene, classes }) === undefined
          ? nothing
          : html`<li>
              <svg width="22" height="18" viewBox="0 0 22 18" aria-hidden="true">${drawn(nowRing([11, 9]))}</svg>
              the board as it stands
            </li>`
      }
    </ul>`;
  }

  private copy(tool: LaneTool): string | undefined {
    const { result } = this;
    if (result === undefined) return undefined;
    if (tool === 'csv') return cellCsv(this.cell, result)[0]?.text;
    const { former } = this;
    return mapSvg(result, (scene) => (former === undefined ? [] : formerBoundaries(scene, result, former)));
  }

  private place(
    { x, y }: MapResult,
    scene: MapScene,
    at: GridPoint | undefined,
  ): readonly [number, number] | undefined {
    if (at === undefined) return undefined;
    return [scene.x.scale(x[at.column] ?? 0), scene.y.scale(y[at.row] ?? 0)];
  }

  /** The point nearest to where the board stands now. */
  private present(): GridPoint {
    const { result, scene } = this;
    const now = result === undefined || scene === undefined ? undefined : nowPlace(result, scene);
    if (result === undefined || scene === undefined || now === undefined) return { column: 0, row: 0 };
    return nearestPoint(result, scene, now[0], now[1]);
  }

  private readonly point = (event: PointerEvent): void => {
    const at = this.under(event);
    if (at === undefined || (at.column === this.pointed?.column && at.row === this.pointed.row)) return;
    this.pointed = at;
  };

  private readonly leave = (): void => {
    if (!this.matches(':focus-within')) this.pointed = undefined;
  };

  private readonly press = (event: MouseEvent): void => {
    const at = this.under(event);
    if (at === undefined) return;
    this.pointed = at;
    this.choose(at);
  };

  private under(event: MouseEvent): GridPoint | undefined {
    const { result, scene } = this;
    const box = this.renderRoot.querySelector('svg.lanes')?.getBoundingClientRect();
    if (result === undefined || scene === undefined || box === undefined) return undefined;
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    const isInside = x >= scene.left && x <= scene.right && y >= scene.top && y <= scene.bottom;
    return isInside ? nearestPoint(result, scene, x, y) : undefined;
  }

  private readonly key = (event: KeyboardEvent): void => {
    const { result } = this;
    if (result === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const now = this.pointed ?? this.present();
    const by = event.shiftKey ? FAR : 1;
    const moves: Readonly<Record<string, GridPoint>> = {
      ArrowRight: { column: now.column + by, row: now.row },
      ArrowLeft: { column: now.column - by, row: now.row },
      ArrowUp: { column: now.column, row: now.row + by },
      ArrowDown: { column: now.column, row: now.row - by },
      Home: { column: 0, row: now.row },
      End: { column: result.x.length - 1, row: now.row },
    };
    const move = moves[event.key];
    if (move === undefined && event.key !== 'Enter') return;
    event.preventDefault();
    if (move === undefined) this.choose(now);
    else {
      const inside = (at: number, count: number): number => Math.max(0, Math.min(count - 1, at));
      this.pointed = { column: inside(move.column, result.x.length), row: inside(move.row, result.y.length) };
    }
  };

  private choose({ column, row }: GridPoint): void {
    const { result } = this;
    const [x, y] = [result?.x[column], result?.y[row]];
    if (result === undefined || x === undefined || y === undefined) return;
    const { vary } = result;
    this.load([
      { name: vary.x.value, unit: vary.x.unit, value: x },
      { name: vary.y.value, unit: vary.y.unit, value: y },
    ]);
  }
}
