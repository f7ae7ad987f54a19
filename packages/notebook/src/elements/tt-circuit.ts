import type { BoardResult, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { laneTitle } from '../chart/analog-lane.ts';
import { type CursorState, cursorState, timeInside, type TimerReadout } from '../chart/cursor.ts';
import { comparatorWords, intervalWords, triggerWords } from '../chart/words.ts';
import { DetailController } from '../controllers/detail-controller.ts';
import type { BoardPlace } from '../runtime/board-place.ts';
import { instantRequest } from '../runtime/detail.ts';
import type { Drawing } from '../schematic/drawing.ts';
import { type LampState, lampStates } from '../schematic/lamps.ts';
import { placeStage } from '../schematic/place.ts';
import { shapesOf, timerShapesOf } from '../schematic/shape.ts';
import { stagesOf } from '../schematic/stages.ts';
import type { TimerLook } from '../schematic/timer-look.ts';
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
  /** The board in hand among those of its page. */
  @property({ attribute: false, hasChanged: isOtherPlace }) place: BoardPlace | undefined;
  private drawings: readonly Drawing[] = [];

  private readonly moment = new DetailController(this);

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('board')) this.drawings = drawingsOf(this.board);
  }

  protected override updated(): void {
    const { trace, cursor } = this;
    const isPointed = trace !== undefined && cursor !== undefined;
    this.moment.ask(trace, isPointed ? instantRequest(trace, [timeInside(trace, cursor)]) : undefined);
  }

  protected override render(): TemplateResult {
    const { board, place, trace, cursor } = this;
    const state =
      trace === undefined || cursor === undefined ? undefined : cursorState(trace, cursor, this.moment.answer);
    const lamps = board === undefined ? [] : lampStates(board.parts, state?.exact?.currents ?? {});
    return html`<h2 class="margin-word">
        circuit in hand${place === undefined ? nothing : html` <span class="as-written">${place.board}</span>`}
      </h2>
      ${(place?.links ?? []).map((link) => html`<p class="small quiet">${link}</p>`)}
      ${
        board === undefined
          ? html`<p class="quiet">
              ${place === undefined ? 'No circuit yet.' : 'Nothing to draw: the page has no list of parts of this board.'}
            </p>`
          : html`<div class="drawings" aria-busy=${this.moment.isWaiting}>
                ${this.drawings.map(
                  (drawing) =>
                    html`<tt-drawing
                      .drawing=${drawing}
                      .name=${board.board}
                      .voltages=${voltages(state)}
                      .lamps=${lamps}
                      .timers=${timerLooks(state)}
                      .chosenPart=${this.chosenPart}
                    ></tt-drawing>`,
                )}
              </div>
              ${state === undefined || trace === undefined ? nothing : atCursor(state, trace, board, lamps)}
              ${nets(board)}`
      }`;
  }
}

/** Whether two places differ: they are made anew at every change of the page. */
function isOtherPlace(one: BoardPlace | undefined, other: BoardPlace | undefined): boolean {
  return JSON.stringify(one) !== JSON.stringify(other);
}

/** Voltages in figures by net: of the whole board where its exact state is known, else those that lanes tell. */
function voltages(state: CursorState | undefined): ReadonlyMap<string, string> {
  if (state === undefined) return new Map();
  const lanes = state.lanes.filter((lane) => lane.value !== undefined).map((lane) => [lane.show, lane.text] as const);
  const greatest = Math.max(0, ...Object.values(state.exact?.nets ?? {}).map(Math.abs));
  const all = Object.entries(state.exact?.nets ?? {}).map(
    // Nanovolts beside a supply of volts are nothing to any reader.
    ([net, value]) => [net, formatQuantity(Math.abs(value) < greatest * 1e-4 ? 0 : value, 'V')] as const,
  );
  return new Map([...all, ...lanes]);
}

function timerLooks(state: CursorState | undefined): ReadonlyMap<string, TimerLook> {
  return new Map(
    (state?.timers ?? []).map((timer) => [
      timer.timer,
      {
        isDischarging: timer.interval === undefined,
        outputHigh: timer.outputHigh,
        past: {
          threshold: timer.threshold?.past === true,
          trigger: timer.trigger?.past === true,
        },
      },
    ]),
  );
}

function atCursor(
  { time, lanes, timers }: CursorState,
  trace: TraceResult,
  board: BoardResult,
  lamps: readonly LampState[],
): TemplateResult {
  return html`<h2 class="margin-word">
      at the cursor, <span class="at as-written">${formatQuantity(time, 's', { digits: 4 })}</span>
    </h2>
    <dl>
      ${lanes.map(
        (lane) =>
          html`<dt>${laneTitle(lane.show)}</dt>
            <dd>${lane.text}</dd>`,
      )}
      ${timers.map((timer) => timerState(timer, time, trace, board))}
      ${lamps.map(
        ({ part, current, light }) =>
          html`<dt>lamp ${part}</dt>
            <dd>${light > 0 ? `lit, ${formatQuantity(current, 'A')}` : 'dark'}</dd>`,
      )}
    </dl>`;
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
  const pins = board.parts.find((part) => part.name === timer.timer)?.nets ?? {};
  const { threshold, trigger, pulse } = timer;
  return html`${trace.timers.length > 1 ? html`<dt class="timer">${timer.timer}</dt>` : nothing}
    <dt>interval</dt>
    <dd>${intervalWords(timer, time)}</dd>
    <dt>trigger</dt>
    <dd>
      ${trigger === undefined ? '…' : comparatorWords(trigger, 'trigger')}${
        pulse === undefined ? nothing : html`; ${triggerWords(pulse)}`
      }
    </dd>
    <dt>threshold</dt>
    <dd>${threshold === undefined ? '…' : comparatorWords(threshold, 'threshold')}</dd>
    ${
      pins['discharge'] === undefined
        ? nothing
        : html`<dt>discharge</dt>
            <dd>${timer.interval === undefined ? 'closed' : 'open'}</dd>`
    }
    <dt>output</dt>
    <dd>${timer.outputHigh ? 'high' : 'low'}</dd>`;
}

function drawingsOf(board: BoardResult | undefined): readonly Drawing[] {
  if (board === undefined) return [];
  const shapes = shapesOf(board.parts);
  const timers = timerShapesOf(board.parts);
  const rails = new Set(['ground', ...shapes.filter((shape) => shape.kind === 'supply').map((shape) => shape.ends[0])]);
  return stagesOf(shapes, timers, rails).map(placeStage);
}
