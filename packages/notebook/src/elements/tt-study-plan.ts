import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Json } from '../edit/json.ts';
import type { PageCell } from '../runtime/cells.ts';
import type { PlanField } from '../runtime/plan-field.ts';
import { planFields } from '../runtime/study-plan.ts';
import { shared } from '../styles/shared.ts';
import { cellKnobButtons } from './cell-knob-buttons.ts';
import { EditEvent } from './events.ts';
import { knobButtonStyles } from './knob-button-styles.ts';

/** What a study does, in a sentence whose values are edited where they stand. */
export class StudyPlan extends LitElement {
  static override styles = [
    shared,
    knobButtonStyles,
    css`
      p {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0 0.5rem;
        margin-top: 0.5rem;
        color: var(--quiet);
        font-size: var(--small);
      }
      /* What is wrong stands below its field, and the sentence goes on in a new line. */
      .wrong {
        flex: 1 0 100%;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  /** What is wrong with a field, by its name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    const fields = cell === undefined ? [] : planFields(this.document, cell);
    if (fields.length === 0) return nothing;
    const knobs =
      cell === undefined
        ? new Map<string, TemplateResult>()
        : cellKnobButtons(
            this,
            this.document,
            cell,
            fields.map(({ name }) => name),
            this.complaints,
          );
    return html`<p>${fields.map((field) => this.field(field, knobs.get(field.name)))}</p>`;
  }

  /** @param knobs the buttons that give its numbers a knob. */
  private field(
    { name, words, text, label, hint, names, adds, expression, change }: PlanField,
    knobs: TemplateResult | undefined,
  ): TemplateResult {
    const typed = (given: string): void => {
      const edit = change(given);
      if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
    };
    const complaint = this.complaints.get(name);
    const shown = adds ? 'on-screen' : '';
    const wrong = complaint === undefined ? '' : 'wrong';
    if (expression !== undefined) {
      return html`<span class=${shown}>${words}</span>
        <tt-expression
          class="${shown} ${wrong}"
          .text=${text}
          .label=${label}
          .hint=${hint}
          .names=${expression}
          .complaint=${complaint}
          .change=${typed}
        ></tt-expression>`;
    }
    return html`<span class=${shown}>${words}</span>
      <span class="turned ${shown} ${wrong}">
        <tt-value
          .text=${text}
          .label=${label}
          .hint=${hint}
          .names=${names}
          .complaint=${complaint}
          .change=${typed}
        ></tt-value>
        ${knobs ?? nothing}
      </span>`;
  }
}
