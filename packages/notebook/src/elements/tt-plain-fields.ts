import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { PageCell } from '../runtime/cells.ts';
import { plainFields } from '../runtime/plain-fields.ts';
import { shared } from '../styles/shared.ts';
import { EditEvent } from './events.ts';

/** The fields of a cell that nothing on the page stands for, as words of a sentence with their values as text. */
export class PlainFields extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        margin-top: 0.25rem;
      }
      tt-value {
        color: var(--ink);
      }
    `,
  ];

  @property({ attribute: false }) cell: PageCell | undefined;
  /** What is wrong with a field, by its name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    const fields = cell === undefined ? [] : plainFields(cell);
    if (cell === undefined || fields.length === 0) return nothing;
    return html`<p>
      ${fields.map(
        (field) =>
          html`${field.words}
            <tt-value
              .text=${field.text}
              .label=${`${field.name}, ${cell.id}`}
              .hint=${'not given'}
              .complaint=${this.complaints.get(field.name)}
              .change=${(typed: string) =>
                this.dispatchEvent(
                  new EditEvent({
                    path: ['page', cell.index, field.name],
                    value: typed === '' ? undefined : typed,
                    label: `${field.name} to ${typed}`,
                  }),
                )}
            ></tt-value
            >; `,
      )}
    </p>`;
  }
}
