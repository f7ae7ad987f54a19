import type { BoardResult, SymbolStandard, TraceResult } from '@two-thirds/sim/document';
import { fieldWords, formatQuantity } from '@two-thirds/sim/quantity';
import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { type CursorState, cursorState, timeInside } from '../chart/cursor.ts';
import { DetailController } from '../controllers/detail-controller.ts';
import { LiveRunController } from '../controllers/live-run-controller.ts';
import { PointedLamps } from '../controllers/pointed-lamps.ts';
import { setContact } from '../edit/contact-edits.ts';
import type { Json } from '../edit/json.ts';
import { linksOf } from '../edit/link-edits.ts';
import { type BoardPlace, isOtherPlace } from '../runtime/board-place.ts';
import { partViews, type ValueView } from '../runtime/board-view.ts';
import { instantRequest } from '../runtime/detail.ts';
import { LampLights } from '../runtime/lamp-lights.ts';
import { type LiveView, liveCursor } from '../runtime/live-view.ts';
import { partNets } from '../runtime/part-shows.ts';
import type { TrayKnob } from '../runtime/tray-knobs.ts';
import { valueEdit } from '../runtime/value-edit.ts';
import { ComputedContacts } from '../schematic/computed-contacts.ts';
import { closedByHand, closedContacts, type Contact, contactsOf } from '../schematic/contacts.ts';
import type { Drawing } from '../schematic/drawing.ts';
import { KeptDrawings } from '../schematic/kept-drawings.ts';
import { type LampState, lampStates } from '../schematic/lamps.ts';
import { shared } from '../styles/shared.ts';
import { startLiveWorker } from '../worker/live-start.ts';
import { DrawnInTurn } from './drawn-in-turn.ts';
import { EditEvent } from './events.ts';
import { atInstant } from './instant-words.ts';
import { timerLooks, voltages } from './cursor-looks.ts';
import type { SwitchEvent } from './switch-event.ts';
import type { WorkEvent } from './work-event.ts';

/** What may be drawn a moment later. */
const patient: ReadonlySet<PropertyKey> = new Set<keyof CircuitInHand>([
  'document',
  'board',
  'trace',
  'cursor',
  'standard',
  'knobs',
]);

/** The circuit in hand: the drawing of the board being worked on, and its state at the cursor. */
export class CircuitInHand extends DrawnInTurn {
  static override styles = [
    shared,
    css`
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

  /** The document that the board stands in. */
  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) board: BoardResult | undefined;
  /** Why there is no drawing, where there is none. */
  @property({ attribute: false }) noDrawing = '';
  /** The trace the cursor stands in. */
  @property({ attribute: false }) trace: TraceResult | undefined;
  /** Seconds. */
  @property({ attribute: false }) cursor: number | undefined;
  @property({ attribute: false }) chosenPart: string | undefined;
  /** The board in hand among those of its page. */
  @property({ attribute: false, hasChanged: isOtherPlace }) place: BoardPlace | undefined;
  /** The standard that its drawing follows. */
  @property({ attribute: false }) standard: SymbolStandard = 'IEC 60617';
  /** The knobs of the tray. */
  @property({ attribute: false }) knobs: readonly TrayKnob[] = [];
  private readonly kept = new KeptDrawings();
  private drawings: readonly Drawing[] = [];
  private contacts: readonly Contact[] = [];
  private readonly computed = new ComputedContacts();

  private readonly moment = new DetailController(this);
  private readonly lights = new LampLights();
  private readonly live = new LiveRunController(this, startLiveWorker, this.lights);
  private readonly pointed = new PointedLamps(this, this.lights);

  /** Part of {@link DrawnInTurn}: a run by hand follows a knob at once. */
  protected override canWait(changed: PropertyValues<this>): boolean {
    const isLive = this.live.view.phase !== 'away';
    return !isLive && changed.size > 0 && [...changed.keys()].every((name) => patient.has(name));
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    const { document, place, board, trace, cursor } = this;
    if (changed.has('document') || changed.has('place') || changed.has('board')) {
      this.contacts = place === undefined ? [] : contactsOf(document, place.board);
      this.drawings = board === undefined ? [] : this.kept.of(board.parts, linksOf(document, board.board));
    }
    this.live.show(document, board === undefined ? undefined : place?.board, board?.parts ?? []);
    const isPointed = trace !== undefined && cursor !== undefined;
    this.moment.ask(trace, isPointed ? instantRequest(trace, [timeInside(trace, cursor)]) : undefined, 'painted');
  }

  protected override render(): TemplateResult {
    const { board, place, trace, cursor } = this;
    const { view } = this.live;
    const isLive = view.phase !== 'away';
    const isOfNow = trace !== undefined && this.computed.areOf(trace, this.contacts);
    const pointed =
      trace === undefined || cursor === undefined ? undefined : cursorState(trace, cursor, this.moment.answer);
    const state = isLive ? liveCursor(view) : pointed;
    const lamps =
      board === undefined
        ? []
        : isLive
          ? liveLamps(board, view)
          : this.pointed.show(board.board, pointedLamps(board, state));
    const worked = isLive
      ? closedByHand(view.presses, view.worked)
      : closedContacts(this.contacts, pointed?.time, isOfNow ? pointed?.exact?.closed : undefined);
    const closed = new Set([...worked, ...(state?.exact?.active ?? [])]);
    const chosenNets = new Set(partNets(this.document, place?.board, this.chosenPart));
    const draw = (drawing: Drawing, isLarge: boolean): TemplateResult =>
      html`<tt-drawing
        .drawing=${drawing}
        .isLarge=${isLarge}
        .name=${board?.board ?? ''}
        .voltages=${voltages(state)}
        .lamps=${lamps}
        .timers=${timerLooks(state)}
        .closed=${closed}
        .standard=${this.standard}
        .switches=${isLive ? noParts : new Set(this.contacts.filter(isSwitch).map(({ part }) => part))}
        .chosenPart=${this.chosenPart}
        .chosenNets=${chosenNets}
        .presses=${view.presses}
        .worked=${view.worked}
        .tones=${isLive && board !== undefined ? toneTexts(board, view) : noTones}
        @tt-work=${this.work}
        @tt-switch=${this.switch}
      ></tt-drawing>`;
    return html`<h2 class="margin-word">
        circuit in hand${place === undefined ? nothing : html` <span class="as-written">${place.board}</span>`}
      </h2>
      ${(place?.links ?? []).map((link) => html`<p class="small quiet">${link}</p>`)}
      ${
        board === undefined
          ? html`<p class="quiet">
              ${place === undefined ? 'No circuit yet.' : this.noDrawing}
            </p>`
          : html`<tt-drawings
                aria-busy=${this.moment.isWaiting}
                .drawings=${this.drawings}
                .name=${board.board}
                .draw=${draw}
              ></tt-drawings>
              ${this.chosen(board)}
              <slot name="what-if"></slot>
              <tt-hands-on
                class="on-screen"
                .live=${this.live}
                .view=${view}
                .buzzers=${board.parts.filter(({ kind }) => kind === 'buzzer').map(({ name }) => name)}
                @tt-work=${this.work}
              ></tt-hands-on>
              <tt-running-trace
                ?hidden=${!isLive}
                .live=${this.live}
                .board=${board.board}
                .parts=${board.parts}
              ></tt-running-trace>
              ${
                state === undefined
                  ? nothing
                  : atInstant(
                      state,
                      isLive ? 'now, by hand' : 'at the cursor',
                      isLive ? undefined : trace,
                      board,
                      lamps,
                    )
              }
              ${nets(board)}`
      }`;
  }

  /** The part that was chosen, with what it can be turned by. */
  private chosen(board: BoardResult): TemplateResult | typeof nothing {
    const { document, chosenPart } = this;
    if (chosenPart === undefined) return nothing;
    const part = partViews(document, board.board, board).find(({ name }) => name === chosenPart);
    if (part === undefined) return nothing;
    return html`<tt-chosen-part
      .view=${part}
      .knobs=${this.knobs.filter((knob) => knob.part === chosenPart)}
      .change=${(value: ValueView, text: string) => this.editValue(board.board, value, text)}
    ></tt-chosen-part>`;
  }

  private editValue(board: string, value: ValueView, text: string): void {
    const edit = valueEdit(this.document, board, value, text);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  }

  private readonly switch = (event: SwitchEvent): void => {
    event.stopPropagation();
    const { document, place } = this;
    const edit = place === undefined ? undefined : setContact(document, place.board, event.part, event.closed);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  };

  private readonly work = (event: WorkEvent): void => {
    event.stopPropagation();
    this.live.work(event.part, event.pressed);
  };
}

const noParts: ReadonlySet<string> = new Set();

/** Whether a contact stays as a hand leaves it. */
function isSwitch({ kind }: Contact): boolean {
  return kind === 'switch' || kind === 'jumper';
}

const noTones: ReadonlyMap<string, string> = new Map();

/** How often lamps that are shown steady flash, and loudspeakers sound, in figures. */
function toneTexts(board: BoardResult, { lamps, tones }: LiveView): ReadonlyMap<string, string> {
  const steady = [...lamps].flatMap(([part, { frequency }]) =>
    frequency === undefined ? [] : [[part, frequency] as const],
  );
  const speakers = [...tones].filter(([part]) =>
    board.parts.some(({ name, kind }) => name === part && kind === 'speaker'),
  );
  return new Map([...steady, ...speakers].map(([part, frequency]) => [part, formatQuantity(frequency, 'Hz')]));
}

/** The LEDs of a run by hand: their mean current, and the light they may be shown with. */
function liveLamps(board: BoardResult, { currents, lamps }: LiveView): LampState[] {
  return lampStates(board.parts, currents).map((lamp) => ({ ...lamp, light: lamps.get(lamp.part)?.light ?? 0 }));
}

/** The LEDs at a cursor: none without one, `undefined` until its exact state is there. */
function pointedLamps(board: BoardResult, state: CursorState | undefined): LampState[] | undefined {
  if (state === undefined) return [];
  return state.exact === undefined ? undefined : lampStates(board.parts, state.exact.currents);
}

/** An end of a part in words: `K1 normally open`. */
function endWords(end: string): string {
  const dot = end.indexOf('.');
  return dot < 0 ? end : `${end.slice(0, dot)} ${fieldWords(end.slice(dot + 1))}`;
}

function nets(board: BoardResult): TemplateResult {
  return html`<h2 class="margin-word nets">nets, and what meets at them</h2>
    <dl>
      ${board.nets.map(
        ({ net, joins }) =>
          html`<dt>${net}</dt>
            <dd>${joins.map(endWords).join(', ')}</dd>`,
      )}
    </dl>`;
}
