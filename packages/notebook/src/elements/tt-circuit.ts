import type { BoardResult, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { cursorState, type TimerReadout } from '../chart/cursor.ts';
import { laneTitle } from '../chart/scene.ts';
import { intervalWords, triggerWords } from '../chart/words.ts';
import type { Drawing } from '../schematic/drawing.ts';
import { placeStage } from '../schematic/place.ts';
import { shapesOf, timerShapesOf } from '../schematic/shape.ts';
import { stagesOf } from '../schematic/stages.ts';
import { shared } from '../styles/shared.ts';

/** The circuit in hand: the drawing of the board being worked on, and its state at the cursor. */
export class CircuitInHand extends LitElement {
  static override styles = [
    shared,
    css`
      .drawings {
        margin: 0.9rem 0 1.2rem;
        display: grid;
        gap: 1.2rem;
      }
      .head {
        display: flex;
        gap: 0.8rem;
        align-items: baseline;
        flex-wrap: wrap;
      }
      dl {
        display: grid;
        grid-template-columns: minmax(5.5rem, auto) minmax(0, 1fr);
        gap: 0.2rem 1rem;
        font-size: 0.9375rem;
        margin-top: 0.5rem;
      }
      dt {
        color: var(--quiet);
      }
      .nets {
        margin-top: 1.4rem;
      }
      .at {
        color: var(--gold);
      }
      .timer {
        grid-column: 1 / -1;
        margin-top: 0.4rem;
        color: var(--ink);
        font-weight: 650;
      }
    `,
  ];

  @property({ attribute: false }) board: BoardResult | undefined;
  /** The trace the cursor stands in. */
  @property({ attribute: false }) trace: TraceResult | undefined;
  /** Seconds. */
  @property({ attribute: false }) cursor: number | undefined;
  @property({ attribute: false }) chosenPart: string | undefined;
  /** Names of all boards, when there are several. */
  @property({ attribute: false }) boards: readonly string[] = [];
  private drawings: readonly Drawing[] = [];

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('board')) this.drawings = drawingsOf(this.board);
  }

  protected override render(): TemplateResult {
    const { board } = this;
    return html`<h2 class="margin-word">circuit in hand${board === undefined ? nothing : html`: ${board.board}`}</h2>
      ${
        board === undefined
          ? html`<p class="quiet">No circuit yet.</p>`
          : html`<div class="drawings">
                ${this.drawings.map(
                  (drawing) =>
                    html`<tt-drawing
                      .drawing=${drawing}
                      .name=${board.board}
                      .voltages=${this.voltages()}
                      .chosenPart=${this.chosenPart}
                    ></tt-drawing>`,
                )}
              </div>
              ${this.atCursor(board)} ${nets(board)}`
      }`;
  }

  private voltages(): ReadonlyMap<string, string> {
    if (this.trace === undefined || this.cursor === undefined) return new Map();
    const { lanes } = cursorState(this.trace, this.cursor);
    return new Map(lanes.filter((lane) => lane.low === lane.high).map((lane) => [lane.show, lane.text]));
  }

  private atCursor(board: BoardResult): TemplateResult | typeof nothing {
    const { trace, cursor } = this;
    if (trace === undefined || cursor === undefined) return nothing;
    const { time, lanes, timers } = cursorState(trace, cursor);
    return html`<h2 class="margin-word">
        at the cursor, <span class="at">${formatQuantity(time, 's', { digits: 4 })}</span>
      </h2>
      <dl>
        ${lanes.map(
          (lane) =>
            html`<dt>${laneTitle(lane.show)}</dt>
              <dd>${lane.text}</dd>`,
        )}
        ${timers.map((timer) => timerState(timer, time, trace, board))}
      </dl>`;
  }
}

function nets(board: BoardResult): TemplateResult {
  return html`<h2 class="margin-word nets">nets, and what meets at them</h2>
    <dl>
      ${board.nets.map(
        ({ net, joins }) =>
          html`<dt>${net}</dt>
            <dd>${joins.map((end) => end.replace('.', ' ')).join(', ')}</dd>`,
      )}
    </dl>`;
}

function timerState(timer: TimerReadout, time: number, trace: TraceResult, board: BoardResult): TemplateResult {
  const facts = trace.timers.find((each) => each.timer === timer.timer);
  const pins = board.parts.find((part) => part.name === timer.timer)?.nets ?? {};
  return html`${trace.timers.length > 1 ? html`<dt class="timer">${timer.timer}</dt>` : nothing}
    <dt>interval</dt>
    <dd>${intervalWords(timer, time)}</dd>
    <dt>trigger</dt>
    <dd>${triggerWords(timer)}</dd>
    ${facts === undefined ? nothing : thresholdState(facts, time, trace)}
    ${
      pins['discharge'] === undefined
        ? nothing
        : html`<dt>discharge</dt>
            <dd>${timer.interval === undefined ? 'closed' : 'open'}</dd>`
    }
    <dt>output</dt>
    <dd>${timer.outputHigh ? 'high' : 'low'}</dd>`;
}

function thresholdState(
  facts: TraceResult['timers'][number],
  time: number,
  trace: TraceResult,
): TemplateResult | typeof nothing {
  const lane = trace.lanes.find((each) => each.show === facts.threshold);
  const limit = lane?.limits.find((each) => each.timer === facts.timer && each.name === 'threshold limit');
  const value = cursorState(trace, time).lanes.find((each) => each.show === facts.threshold);
  if (limit === undefined || value === undefined || lane === undefined) return nothing;
  const side = value.low >= limit.value ? 'past' : 'below';
  return html`<dt>threshold</dt>
    <dd>${side} its limit of ${formatQuantity(limit.value, lane.unit)}</dd>`;
}

function drawingsOf(board: BoardResult | undefined): readonly Drawing[] {
  if (board === undefined) return [];
  const shapes = shapesOf(board.parts);
  const timers = timerShapesOf(board.parts);
  const rails = new Set(['ground', ...shapes.filter((shape) => shape.kind === 'supply').map((shape) => shape.ends[0])]);
  return stagesOf(shapes, timers, rails).map(placeStage);
}
