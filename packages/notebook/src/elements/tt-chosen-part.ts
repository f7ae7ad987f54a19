import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { PartView, ValueView } from '../runtime/board-view.ts';
import type { TrayKnob } from '../runtime/tray-knobs.ts';
import { shared } from '../styles/shared.ts';
import { boardKnob } from './board-knob.ts';
import { isInside } from './value-pair.ts';

/** The part that was chosen, at its drawing: what it is, where it lies, and its knobs; without a knob its values. */
export class ChosenPart extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        border-top: 2px solid var(--teal);
        padding: 0.45rem 0 0.2rem;
        margin-bottom: 1rem;
      }
      .about {
        font-size: var(--small);
        color: var(--quiet);
        margin-bottom: 0.3rem;
      }
      b {
        font-size: 1rem;
        color: var(--ink);
      }
      tt-knob {
        max-width: 20rem;
        margin-top: 0.4rem;
      }
      .values {
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 1rem;
      }
      .pair {
        display: inline-flex;
        gap: 0.35rem;
        align-items: baseline;
      }
      .word {
        color: var(--quiet);
        font-size: var(--small);
      }
    `,
  ];

  @property({ attribute: false }) view: PartView | undefined;
  /** The knobs of the part in the tray. */
  @property({ attribute: false }) knobs: readonly TrayKnob[] = [];
  /** Called with a value and what was typed. */
  @property({ attribute: false }) change: (value: ValueView, text: string) => void = () => undefined;

  protected override render(): TemplateResult | typeof nothing {
    const { view: part, knobs } = this;
    if (part === undefined) return nothing;
    const nets = [...new Set(Object.values(part.nets))];
    return html`<p class="about"><b>${part.name}</b> ${part.title}, on ${nets.join(' – ')}</p>
      ${knobs.map((knob) => boardKnob(this, knob, { label: drawingLabel(part.name, knob.label.slice(part.name.length + 1)) }))}
      ${knobs.length === 0 ? this.values(part) : nothing}`;
  }

  /** The values that were given; of a part with none, the one it is known by. */
  private values({ values }: PartView): TemplateResult {
    const given = values.filter((value) => value.given && !isInside(value));
    return html`<div class="values">
      ${(given.length === 0 ? values.slice(0, 1) : given).map(
        (value) => html`<span class="pair">
          <span class="word" aria-hidden="true">${value.title}</span>
          <tt-value
            .text=${value.text}
            .label=${drawingLabel(value.place.part, value.title)}
            .change=${(text: string) => this.change(value, text)}
          ></tt-value>
        </span>`,
      )}
    </div>`;
  }
}

/** Tells the field here from that of the same value in the parts list and the tray. */
function drawingLabel(part: string, title: string): string {
  return `${part}, ${title} at the drawing`;
}
