import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type BoardPlace, isOtherPlace } from '../runtime/board-place.ts';
import type { TrayKnob } from '../runtime/tray-knobs.ts';
import { shared } from '../styles/shared.ts';
import { boardKnob } from './board-knob.ts';

/** Room left behind a knob that is brought into view (pixels): what fades out lies beyond it. */
const LEFT_OVER = 24;

/** The knobs of the circuit in hand, along the bottom edge; on narrow pages one at a time. */
export class Tray extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        background: var(--panel);
        border-top: 1px solid var(--line);
        padding: 0.55rem 1.75rem 0.45rem;
      }
      .row {
        display: flex;
        gap: 2.2rem;
        align-items: flex-start;
      }
      .side {
        display: grid;
        gap: 0.35rem;
        padding-top: 0.3rem;
        flex: none;
      }
      label {
        display: flex;
        gap: 0.4rem;
        align-items: center;
        font-size: var(--small);
        color: var(--quiet);
        white-space: nowrap;
        min-height: 1.5rem;
      }
      input {
        accent-color: var(--slate);
        margin: 0;
        width: 1rem;
        height: 1rem;
      }
      .knobs {
        display: grid;
        grid-auto-flow: column;
        grid-auto-columns: minmax(11rem, 17rem);
        gap: 2rem;
        flex: 1;
        min-width: 0;
        overflow-x: auto;
        /* Room for the ring around the knob that has the focus. */
        padding: 4px;
      }
      .choice {
        display: none;
      }
      .side .margin-word {
        max-width: 9rem;
        overflow: hidden;
        text-overflow: ellipsis;
        white-space: nowrap;
      }
      .none .margin-word {
        display: inline;
        margin-right: 1rem;
      }
      @media (max-width: 60rem) {
        :host {
          padding: 0.4rem 1rem 0.35rem;
        }
        .row {
          display: block;
        }
        .knobs tt-knob:not(.front) {
          display: none;
        }
        /* No room for it, but the heading must not be empty. */
        .side .word {
          position: absolute;
          width: 1px;
          height: 1px;
          overflow: hidden;
          clip-path: inset(50%);
        }
        .knobs {
          grid-auto-columns: minmax(0, 1fr);
        }
        .bar {
          display: flex;
          gap: 0.25rem;
          justify-content: space-between;
          align-items: center;
        }
        .choice {
          flex: 1;
          padding-right: 1rem;
          mask-image: linear-gradient(to left, transparent, black 1.2rem);
          display: flex;
          gap: 0.15rem;
          overflow-x: auto;
          min-width: 0;
        }
        .choice button {
          flex: none;
          white-space: nowrap;
          font-size: var(--small);
        }
        .choice button[aria-pressed='true'] {
          color: var(--ink);
          font-weight: 650;
          background: var(--raised);
        }
        .side {
          padding: 0;
          display: flex;
          gap: 0.8rem;
          align-items: center;
        }
        .side .margin-word {
          max-width: 7rem;
        }
      }
    `,
  ];

  /** The board the knobs belong to. */
  @property({ attribute: false, hasChanged: isOtherPlace }) place: BoardPlace | undefined;
  @property({ attribute: false }) knobs: readonly TrayKnob[] = [];
  /** Whether the board has been computed: before, its parts and their values are not known. */
  @property({ attribute: false }) isComputed = false;
  @property({ attribute: false }) chosenPart: string | undefined;
  @state() private free = false;
  @state() private front: string | undefined;
  /** Whether the knob in front is to be brought into view. */
  private isToBeSeen = false;

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    const front = this.newKnob(changed) ?? (changed.has('chosenPart') ? this.knobOfChosenPart() : undefined);
    if (front === undefined) return;
    this.front = front.name;
    this.isToBeSeen = true;
  }

  protected override updated(): void {
    if (!this.isToBeSeen) return;
    this.isToBeSeen = false;
    // Sideways alone, and without the focus: the page stays where it is being read.
    for (const each of this.renderRoot.querySelectorAll<HTMLElement>('.choice [aria-pressed=true], tt-knob.front')) {
      const { parentElement: row, offsetLeft: left, offsetWidth: width } = each;
      if (row === null) continue;
      const end = left - row.offsetLeft + width;
      if (end > row.scrollLeft + row.clientWidth || left - row.offsetLeft < row.scrollLeft)
        row.scrollLeft = end - row.clientWidth + LEFT_OVER;
    }
  }

  /** The knob that came where the tray was shown already: whoever asked for it wants to see it. */
  private newKnob(changed: Map<PropertyKey, unknown>): TrayKnob | undefined {
    const before = changed.get('knobs') as readonly TrayKnob[] | undefined;
    if (before === undefined || changed.has('place') || changed.has('isComputed')) return undefined;
    const [knob, ...more] = this.knobs.filter(({ name }) => !before.some((each) => each.name === name));
    return more.length === 0 ? knob : undefined;
  }

  private knobOfChosenPart(): TrayKnob | undefined {
    return this.knobs.find((each) => each.part !== undefined && each.part === this.chosenPart);
  }

  protected override render(): TemplateResult | typeof nothing {
    const { knobs, place } = this;
    if (place === undefined) return nothing;
    if (knobs.length === 0) {
      return html`<p class="none quiet small">
        ${this.heading(place)}
        ${
          this.isComputed
            ? 'No value of this board is named as a knob; each can be typed in its list of parts.'
            : 'They come once this board is computed.'
        }
      </p>`;
    }
    const front = knobs.some((knob) => knob.name === this.front) ? this.front : knobs[0]?.name;
    return html`<div class="row">
      <div class="bar">
        <div class="choice" role="group" aria-label="Knob to turn">
          ${knobs.map(
            (knob) =>
              html`<button aria-pressed=${knob.name === front} @click=${() => (this.front = knob.name)}>
                ${knob.short}
              </button>`,
          )}
        </div>
        <div class="side">
          ${this.heading(place)}
          <label title="Shift does the same while it is held">
            <input type="checkbox" .checked=${!this.free} @change=${this.toggle} />
            preferred
          </label>
        </div>
      </div>
      <div class="knobs">
        ${knobs.map(
          (knob) =>
            html`${boardKnob(this, knob, {
              label: knob.label,
              tray: {
                isFront: knob.name === front,
                isChosen: knob.part !== undefined && knob.part === this.chosenPart,
                free: this.free,
              },
            })}`,
        )}
      </div>
    </div>`;
  }

  /** Names the board where the page has more than one. */
  private heading({ board, isOnly }: BoardPlace): TemplateResult {
    return html`<h2 class="margin-word">
      <span class="word">knobs</span>${isOnly ? nothing : html` <span class="as-written">${board}</span>`}
    </h2>`;
  }

  private readonly toggle = (event: Event): void => {
    this.free = !(event.target as HTMLInputElement).checked;
  };
}
