import type { Direction } from '@two-thirds/sim/board';
import type { SymbolStandard } from '@two-thirds/sim/document';
import { html, LitElement, nothing, type PropertyValues, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { WideDrawing } from '../controllers/wide-drawing.ts';
import { WidthController } from '../controllers/width-controller.ts';
import type { PressPart } from '../runtime/live-protocol.ts';
import type { Drawing, NetName, PlacedBox, PlacedSymbol } from '../schematic/drawing.ts';
import type { LampState } from '../schematic/lamps.ts';
import { netPlaces, partPlaces } from '../schematic/part-places.ts';
import { symbolTexts } from '../schematic/room.ts';
import { stateWords } from '../schematic/state-words.ts';
import { strokesOf } from '../schematic/symbols.ts';
import type { TimerLook } from '../schematic/timer-look.ts';
import { shared } from '../styles/shared.ts';
import { drawingStyles } from './drawing-styles.ts';
import { PartEvent } from './events.ts';
import { HoldGesture } from './hold-gesture.ts';
import { lampStyles } from './lamp-styles.ts';
import { pinText } from './pin-text.ts';
import { SwitchEvent } from './switch-event.ts';
import { WorkEvent } from './work-event.ts';

/** A circuit drawn with graphic symbols; nets carry their names and, where a cursor stands, their voltages. */
export class CircuitDrawing extends LitElement {
  static override styles = [shared, drawingStyles, lampStyles];

  @property({ attribute: false }) drawing: Drawing | undefined;
  /** Whether it is drawn larger than usual, where there is room. */
  @property({ attribute: false }) isLarge = false;
  /** What the drawing is of. */
  @property({ attribute: false }) name = '';
  /** Voltages at the cursor by net, as text. */
  @property({ attribute: false }) voltages: ReadonlyMap<string, string> = new Map();
  /** LEDs at the cursor. */
  @property({ attribute: false }) lamps: readonly LampState[] = [];
  /** Timers at the cursor. */
  @property({ attribute: false }) timers: ReadonlyMap<string, TimerLook> = new Map();
  @property({ attribute: false }) chosenPart: string | undefined;
  /** The nets that the chosen part lies on. */
  @property({ attribute: false }) chosenNets: ReadonlySet<string> = new Set();
  /** Contacts that a click opens or closes for good. */
  @property({ attribute: false }) switches: ReadonlySet<string> = new Set();
  /** Parts that can be worked in the drawing. */
  @property({ attribute: false }) presses: readonly PressPart[] = [];
  /** Parts that are worked at present. */
  @property({ attribute: false }) worked: ReadonlySet<string> = new Set();
  /** Contacts that conduct, relays that are pulled in, buzzers that sound. */
  @property({ attribute: false }) closed: ReadonlySet<string> = new Set();
  /** The standard that the symbols follow. */
  @property({ attribute: false }) standard: SymbolStandard = 'IEC 60617';
  /** What stands below parts that flash or sound: how often a second. */
  @property({ attribute: false }) tones: ReadonlyMap<string, string> = new Map();
  @query('.view') private readonly view!: HTMLElement | null;
  private readonly width = new WidthController(this);
  private readonly beyond = new WideDrawing(this);
  private readonly gestures = new Map<string, HoldGesture>();

  protected override render(): TemplateResult | typeof nothing {
    const { drawing } = this;
    if (drawing === undefined) return nothing;
    const isScrolled = this.width.width > 0 && this.width.width < Math.ceil(drawing.width * this.leastScale);
    return html`<div
      class="view ${isScrolled && this.beyond.left !== '' ? 'more-left' : ''} ${isScrolled && this.beyond.right !== '' ? 'more-right' : ''}"
      role=${isScrolled ? 'region' : nothing}
      tabindex=${isScrolled ? '0' : nothing}
      aria-label=${isScrolled ? `Circuit of ${this.name}, wider than its place` : nothing}
      @scroll=${this.look}
    ><svg
      role=${drawing.symbols.some(({ part }) => this.switches.has(part)) ? 'group' : 'img'}
      aria-labelledby="title"
      aria-describedby="description"
      width=${drawing.width}
      height=${drawing.height}
      viewBox="0 0 ${drawing.width} ${drawing.height}"
    >
      <title id="title">Circuit of ${this.name}</title>
      <desc id="description">${drawing.description}${stateWords(drawing, this)}</desc>
      ${this.wires(drawing, false)} ${this.wires(drawing, true)}
      ${drawing.box === undefined ? nothing : this.box(drawing.box)}
      ${drawing.symbols.map((each) => this.symbol(each))}
      ${drawing.names.map(
        ({ net, x, y, anchor, voltage }) =>
          svg`<text class="net ${this.chosenNets.has(net) ? 'marked' : ''}" x=${x} y=${y} text-anchor=${anchor}>${net}</text>
            ${this.voltage(net, voltage)}`,
      )}
    </svg></div>
    ${isScrolled ? this.waysOn() : nothing}`;
  }

  /** What lies beyond the edges of a drawing that is wider than its place, as ways to get there. */
  private waysOn(): TemplateResult {
    return html`<p class="ways-on">
      ${(['left', 'right'] as const).map((side) =>
        this.beyond[side] === ''
          ? nothing
          : html`<button class="plain ${side}" @click=${() => this.view && this.beyond.step(this.view, side)}>
              ${side === 'left' ? `← further left: ${this.beyond.left}` : `further right: ${this.beyond.right} →`}
            </button>`,
      )}
    </p>`;
  }

  private readonly look = (): void => {
    const { drawing, view } = this;
    if (drawing !== undefined && view !== null) this.beyond.look(view, partPlaces(drawing), netPlaces(drawing));
  };

  /** Whether the drawing would not go into its place at the scale at which its texts are as small as they may be. */
  private get isTight(): boolean {
    const { drawing, width } = this;
    if (drawing === undefined || this.isLarge) return false;
    return width.width > 0 && width.width < Math.ceil(drawing.width * LEAST_SCALE);
  }

  /** How small it may become; below that it is scrolled. One that was enlarged stays large in any place. */
  private get leastScale(): number {
    return this.isLarge ? LARGE_LEAST_SCALE : this.isTight ? TIGHT_SCALE : LEAST_SCALE;
  }

  /** How large its texts are drawn: in a tight place all but the texts may become smaller. */
  private get textSize(): number {
    return this.isTight ? LEAST_TEXT / TIGHT_SCALE : TEXT;
  }

  /** Scales the drawing to its place, but never so far down that its texts could not be read. */
  protected override updated(changed: PropertyValues<this>): void {
    const { drawing, view } = this;
    const style = this.renderRoot.querySelector('svg')?.style;
    if (drawing === undefined || style === undefined) return;
    style.setProperty('width', `${drawing.width * (this.isLarge ? LARGE_SCALE : 1)}px`);
    style.setProperty('min-width', `${Math.ceil(drawing.width * this.leastScale)}px`);
    style.setProperty('--text', `${this.textSize}px`);
    const chosen = partPlaces(drawing).find(({ part }) => part === this.chosenPart);
    if (view !== null && chosen !== undefined && changed.has('chosenPart')) this.beyond.show(view, chosen);
    this.look();
  }

  /** The wires and junctions of the nets that are marked, or of all others. */
  private wires({ wires, dots }: Drawing, isMarked: boolean): SVGTemplateResult {
    const mark = isMarked ? 'marked' : '';
    const isOne = ({ net }: { readonly net: string }): boolean => this.chosenNets.has(net) === isMarked;
    return svg`${wires.filter(isOne).map(({ path }) => svg`<path class="wire ${mark}" d=${path} />`)}
      ${dots.filter(isOne).map(({ x, y }) => svg`<circle class="dot ${mark}" cx=${x} cy=${y} r=${isMarked ? 4 : 2.8} />`)}`;
  }

  /** The voltage of a net. */
  private voltage(net: string, { x, y, anchor }: NetName['voltage']): SVGTemplateResult | typeof nothing {
    const text = this.voltages.get(net);
    return text === undefined
      ? nothing
      : svg`<text class="net voltage" x=${x} y=${y} text-anchor=${anchor}>${text}</text>`;
  }

  private symbol(placed: PlacedSymbol): SVGTemplateResult {
    const { part, label, kind, x, y, first, value, polarised } = placed;
    const texts = symbolTexts(placed);
    const beside = texts.name.x;
    const plus = polarised || kind === 'supply' || kind === 'buzzer';
    const press = this.presses.find((each) => each.part === part);
    const isWorked = this.worked.has(part);
    const tone = this.tones.get(part);
    const isClosed = this.closed.has(part);
    const isSwitch = this.switches.has(part);
    const state = `${part === this.chosenPart ? 'chosen' : ''} ${press === undefined ? '' : 'pressable'} ${isWorked ? 'worked' : ''} ${isSwitch ? 'switch' : ''}`;
    return svg`<g class="symbol ${state}" data-part=${part} transform="translate(${x} ${y})"
        role=${isSwitch ? 'switch' : nothing}
        tabindex=${isSwitch ? '0' : nothing}
        aria-checked=${isSwitch ? String(isClosed) : nothing}
        aria-label=${isSwitch ? `${kind} ${label === undefined ? part : `${label} ${value}`}, closed` : nothing}
        @click=${() => this.take(part)}
        @keydown=${(event: KeyboardEvent) => this.key(event, part)}
        @pointerdown=${(event: PointerEvent) => this.gesture(part)?.pointerDown(event)}
        @pointerup=${() => this.gesture(part)?.end()}
        @pointercancel=${() => this.gesture(part)?.end()}
        @touchend=${(event: TouchEvent) => this.lift(event, part)}
        @lostpointercapture=${() => this.gesture(part)?.end()}>
      ${
        press === undefined && !isSwitch
          ? svg`<rect class="hit" x="-16" y="-19" width="32" height="38" rx="4" />`
          : svg`<rect class="hit" x="-20" y="-22" width="37" height="44" rx="4" />`
      }
      ${this.glow(part, value)}
      ${kind === 'speaker' && tone !== undefined ? svg`<path class="sound" d="M16-7a9 9 0 0 1 0 14" />` : nothing}
      ${kind === 'buzzer' && isClosed ? svg`<path class="sound" d="M19-7a9 9 0 0 1 0 14" />` : nothing}
      <g transform=${turn(kind, first) ?? nothing}>
        ${strokesOf(kind, this.standard, isClosed).map(({ path, fill }) => svg`<path class=${fill} d=${path} />`)}
        ${plus ? svg`<path class="line" d="M-13 -10h6m-3 -3v6" />` : nothing}
      </g>
      <text class="part" x=${texts.name.x} y=${texts.name.y} text-anchor=${texts.name.anchor}>${label ?? part}</text>
      <text class="quiet-text" x=${texts.value.x} y=${texts.value.y} text-anchor=${texts.value.anchor}>${value}</text>
      ${tone === undefined ? nothing : this.tone(tone, x, beside, value === '' ? 19 : 28)}
    </g>`;
  }

  /** A figure below a part's value; at the right edge it ends there. */
  private tone(text: string, x: number, beside: number, y: number): SVGTemplateResult {
    const room = (this.drawing?.width ?? 0) - x;
    const isTight = beside + text.length * BOLD_CHARACTER > room;
    return svg`<text class="voltage" x=${isTight ? room : beside} y=${y} text-anchor=${isTight ? 'end' : 'start'}>${text}</text>`;
  }

  /** How a part is worked in the drawing; undefined where it cannot be. */
  private gesture(part: string): HoldGesture | undefined {
    const press = this.presses.find((each) => each.part === part);
    if (press === undefined) return undefined;
    const springsBack = press.kind === 'button' || press.kind === 'finger';
    const gesture =
      this.gestures.get(part) ??
      new HoldGesture((held) => {
        if (springsBack) this.dispatchEvent(new WorkEvent(part, held));
        else if (held) this.dispatchEvent(new WorkEvent(part, !this.worked.has(part)));
      });
    this.gestures.set(part, gesture);
    return gesture;
  }

  /** The light of an LED: an area of its colour, the denser, the more light it gives, inside a ring. */
  private glow(part: string, colour: string): SVGTemplateResult | typeof nothing {
    const light = this.lamps.find((lamp) => lamp.part === part)?.light ?? 0;
    return light === 0
      ? nothing
      : svg`<circle class="glow ${colour.replace(' ', '-')}" r="14" opacity=${(0.3 + 0.5 * light).toFixed(2)} /><circle class="ring" r="14" />`;
  }

  private box({ part, family, x, y, width, height, pins, nameY }: PlacedBox): SVGTemplateResult {
    return svg`<g class="symbol ${part === this.chosenPart ? 'chosen' : ''}" @click=${() => this.choose(part)}>
      <rect class="outline" x=${x} y=${y} width=${width} height=${height} />
      <rect class="hit" x=${x} y=${y} width=${width} height=${height} />
      ${pins.map((pin) => pinText(pin, this.timers.get(part), this.textSize / TEXT))}
      <text class="part" x=${x + width / 2} y=${nameY} text-anchor="middle">${part}</text>
      <text class="quiet-text" x=${x + width / 2} y=${nameY + 15} text-anchor="middle">${family}</text>
    </g>`;
  }

  /** Chooses a part; a jumper or switch that stays as it is left goes to its other position. */
  private take(part: string): void {
    this.choose(part);
    if (this.switches.has(part)) this.dispatchEvent(new SwitchEvent(part, !this.closed.has(part)));
  }

  /** Ends a touch of a part that is worked here: the page may have moved, and a click would go to what lies there now. */
  private lift(event: TouchEvent, part: string): void {
    if (this.gesture(part) === undefined || !event.cancelable) return;
    event.preventDefault();
    this.take(part);
  }

  private key(event: KeyboardEvent, part: string): void {
    if ((event.key !== 'Enter' && event.key !== ' ') || event.repeat) return;
    event.preventDefault();
    this.take(part);
  }

  private choose(part: string): void {
    this.dispatchEvent(new PartEvent(part));
  }
}

/** How a symbol, drawn with its first end on top and what leaves its middle on the left, is turned. */
function turn(kind: string, first: Direction): string | undefined {
  if (first === 'up' || (first === 'down' && isReadUpright(kind))) return undefined;
  return first === 'down' ? 'scale(1 -1)' : first === 'left' ? 'rotate(-90)' : 'rotate(-90) scale(1 -1)';
}

/** Whether a symbol holds a sign that would mean something else upside down. */
function isReadUpright(kind: string): boolean {
  return kind === 'signal' || kind === 'probe';
}

/** The text of a drawing stays at 12 px or more: as large as the smallest of the page. */
const TEXT = 12.5;
const LEAST_TEXT = 12;
const LEAST_SCALE = LEAST_TEXT / TEXT;
/** In a tight place symbols and gaps become smaller than that; texts have room to grow by as much against them. */
const TIGHT_SCALE = 0.9;
const LARGE_SCALE = 1.5;
const LARGE_LEAST_SCALE = 1.25;

/** Room of one character of a bold figure (pixels). */
const BOLD_CHARACTER = 8.2;
