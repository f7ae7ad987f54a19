import { html, LitElement, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { KnobBounds } from '../edit/bounded-scale.ts';
import { canTurnFreely, FAR_TURN, freeTurn, inDigits } from '../edit/free-turn.ts';
import { knobReach } from '../edit/knob-reach.ts';
import { type KnobScale, knobScale } from '../edit/knob-scale.ts';
import { type KnobTick, knobTicks } from '../edit/knob-ticks.ts';
import { type Measure, measureText, writtenMeasure } from '../edit/measure.ts';
import { shared } from '../styles/shared.ts';
import { SettleEvent } from './events.ts';
import { knobStyles, TAPE_HEIGHT } from './knob-styles.ts';
import { plainNumber } from './plain-number.ts';
import { handler } from './handler-property.ts';

/** How much of the tape one decade, or one even step, takes (pixels). */
const PIXELS_PER_DECADE = 168;
const PIXELS_PER_STEP = 14;
/** A pointer that moves less than this is a tap, which turns to the value under it (pixels). */
const TAP = 4;
/** Room of one character of a label on the tape (pixels). */
const CHARACTER = 6.6;
/** What stands for infinity where only a number can. */
const NO_LIMIT = 1e13;

/**
 * A knob: a tape of values that is pulled past a fixed pointer. It rests on preferred values; with Shift (or with
 * `free`) it stands anywhere. Arrow keys turn by one value, Page keys by ten, Home and End to the ends of the tape; a
 * button goes back to the value the document was opened with.
 */
export class Knob extends LitElement {
  static override styles = [shared, knobStyles];

  /** Short name, for example `R1` or `wave period`. */
  @property({ attribute: false }) name = '';
  /** What is turned, for screen readers. */
  @property({ attribute: false }) label = '';
  /** What the number is. */
  @property({ attribute: false }) measure: Measure = 'Ω';
  /** The word for infinity, where the value may be without a limit. */
  @property({ attribute: false }) limitless = 'none';
  /** The present value, SI units; `undefined` where what was typed cannot be read. */
  @property({ attribute: false }) value: number | undefined;
  /** The value as it stands in the document. */
  @property({ attribute: false }) text = '';
  /** The value the document was opened with. */
  @property({ attribute: false }) nominal: number | undefined;
  @property({ attribute: false }) complaint: string | undefined;
  /** Where it stops, if not at the ends of its tape. */
  @property({ attribute: false }) bounds: KnobBounds | undefined;
  /** Whether the knob stands anywhere, not only on preferred values. */
  @property({ attribute: false }) free = false;
  /** Called with the text to write into the document, and whether it is part of a longer turn. */
  @property(handler) change: (text: string, turning: boolean) => void = () => undefined;

  @state() private width = 200;
  /** The value that stands until the document has it: several key presses may come before one is drawn. */
  private pending: number | undefined;
  private drag: { readonly x: number; readonly position: number; moved: boolean } | undefined;
  private readonly watcher = new ResizeObserver(([entry]) => {
    if (entry !== undefined && entry.contentRect.width > 0) this.width = entry.contentRect.width;
  });

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.watcher.disconnect();
  }

  protected override updated(): void {
    const tape = this.renderRoot.querySelector('.tape');
    if (tape !== null) this.watcher.observe(tape);
    this.pending = undefined;
  }

  protected override render(): TemplateResult {
    const { value, nominal } = this;
    const moved = nominal !== undefined && value !== nominal;
    return html`<div class="head ${this.complaint === undefined ? '' : 'wrong'}">
        <span class="name" aria-hidden="true">${this.name}</span>
        <tt-value
          .text=${this.text}
          .label=${`${this.label}, value`}
          .complaint=${this.complaint}
          .change=${(text: string) => this.change(text, false)}
        ></tt-value>
        ${
          moved
            ? html`<button title="back to the value it was opened with" @click=${this.reset}>
                back to ${measureText(nominal, this.measure, this.limitless)}
              </button>`
            : nothing
        }
      </div>
      ${value === undefined ? nothing : this.tape(value)}`;
  }

  private get scale(): KnobScale {
    return knobScale(this.measure, this.nominal ?? this.value ?? 1, this.bounds);
  }

  private isFree(shift: boolean, value: number): boolean {
    return (shift || this.free) && canTurnFreely(this.measure, value);
  }

  private written(value: number): string {
    return writtenMeasure(value, this.measure, this.limitless);
  }

  private get pixelsPerTurn(): number {
    return this.scale.law === 'ratio' ? PIXELS_PER_DECADE : PIXELS_PER_STEP;
  }

  private tape(value: number): TemplateResult {
    const { scale, width } = this;
    const middle = width / 2;
    const x = (at: number): number => middle + (scale.position(at) - scale.position(value)) * this.pixelsPerTurn;
    const reach = (middle + 20) / this.pixelsPerTurn;
    const from = scale.at(scale.position(value) - reach);
    const until = scale.at(scale.position(value) + reach);
    const { least, greatest } = this.reach(value);
    return html`<div class="frame">
      <div
        class="tape"
        role="slider"
        tabindex="0"
        aria-label=${this.label}
        aria-valuemin=${plainNumber(least)}
        aria-valuemax=${plainNumber(Math.min(greatest, NO_LIMIT))}
        aria-valuenow=${plainNumber(Math.min(value, NO_LIMIT))}
        aria-valuetext=${measureText(value, this.measure, this.limitless)}
        @keydown=${this.key}
        @blur=${this.settle}
        @pointerdown=${this.grab}
        @pointermove=${this.pull}
        @pointerup=${this.letGo}
        @pointercancel=${this.drop}
      >
        <svg width=${width} height=${TAPE_HEIGHT} viewBox="0 0 ${width} ${TAPE_HEIGHT}" aria-hidden="true">
          ${knobTicks(scale, this.measure, from, until, this.limitless).map((tick) => tickMark(tick, x(tick.value), width))}
          ${
            this.nominal === undefined
              ? nothing
              : svg`<path class="rest-start" d="M${x(this.nominal) - 4} ${TAPE_HEIGHT - 5}l4 -4 4 4 -4 4z" />`
          }
          <line class="pointer-line" x1=${middle} x2=${middle} y1="0" y2="20" />
          <path class="pointer" d="M${middle - 5} 0h10l-5 7z" />
        </svg>
      </div>
    </div>`;
  }

  private readonly reset = (): void => {
    if (this.nominal !== undefined) this.change(this.written(this.nominal), false);
  };

  private readonly settle = (): void => {
    this.dispatchEvent(new SettleEvent());
  };

  /** How far the knob can be turned from where it stands. */
  private reach(value: number): { least: number; greatest: number } {
    return knobReach(this.scale, this.nominal ?? value, value);
  }

  private turnTo(wanted: number): void {
    const { least, greatest } = this.reach(this.value ?? wanted);
    const value = Math.min(greatest, Math.max(least, wanted));
    if (value === (this.pending ?? this.value)) return;
    this.pending = value;
    this.change(this.written(value), true);
  }

  private readonly key = (event: KeyboardEvent): void => {
    const from = this.pending ?? this.value;
    const turns = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: FAR_TURN, PageDown: -FAR_TURN };
    const turn = turns[event.key as keyof typeof turns] as number | undefined;
    if (from === undefined) return;
    if (event.key === 'Home') this.turnTo(this.reach(from).least);
    else if (event.key === 'End') this.turnTo(this.reach(from).greatest);
    else if (turn === undefined) return;
    else if (this.isFree(event.shiftKey, from)) this.turnTo(freeTurn(this.scale, from, turn));
    else this.turnTo(this.scale.step(from, turn));
    event.preventDefault();
  };

  private readonly grab = (event: PointerEvent): void => {
    if (this.value === undefined || event.button !== 0) return;
    const tape = event.currentTarget as HTMLElement;
    tape.setPointerCapture(event.pointerId);
    tape.focus();
    this.drag = { x: event.clientX, position: this.scale.position(this.value), moved: false };
  };

  private readonly pull = (event: PointerEvent): void => {
    if (this.drag === undefined) return;
    const distance = event.clientX - this.drag.x;
    if (!this.drag.moved && Math.abs(distance) < TAP) return;
    this.drag.moved = true;
    this.turnToPosition(this.drag.position - distance / this.pixelsPerTurn, event.shiftKey);
  };

  private readonly letGo = (event: PointerEvent): void => {
    if (this.drag !== undefined && !this.drag.moved) {
      const box = (event.currentTarget as HTMLElement).getBoundingClientRect();
      const offset = event.clientX - box.left - box.width / 2;
      this.turnToPosition(this.drag.position + offset / this.pixelsPerTurn, event.shiftKey);
    }
    this.drop();
  };

  private readonly drop = (): void => {
    if (this.drag === undefined) return;
    this.drag = undefined;
    this.settle();
  };

  private turnToPosition(position: number, shift: boolean): void {
    const value = this.scale.at(position);
    this.turnTo(this.isFree(shift, value) ? inDigits(value, 3) : this.scale.snap(value));
  }
}

/** A tick with its label, unless the edge of the tape would cut the label off. */
function tickMark(tick: KnobTick, x: number, width: number): SVGTemplateResult {
  const half = ((tick.label?.length ?? 0) * CHARACTER) / 2 + 4;
  const whole = x - half >= 0 && x + half <= width;
  return svg`<line x1=${x} x2=${x} y1="8" y2=${tick.label === undefined ? 14 : 19} />
    ${tick.label === undefined || !whole ? nothing : svg`<text x=${x} y="31">${tick.label}</text>`}`;
}
