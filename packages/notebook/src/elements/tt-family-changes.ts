import { documentsNamed, familyChanges, timerFamilies, type TimerFamily } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { PartView } from '../runtime/board-view.ts';
import { shared } from '../styles/shared.ts';

/** What would change if a timer were of another family, on demand. */
export class FamilyChanges extends LitElement {
  static override styles = [
    shared,
    css`
      ul {
        padding-left: 1.2em;
        max-width: 68ch;
        font-size: var(--small);
      }
    `,
  ];

  @property({ attribute: false }) timer: PartView | undefined;
  @state() private open: readonly TimerFamily[] = [];

  protected override render(): TemplateResult | typeof nothing {
    const family = timerFamilies.find(
      (each) => each === this.timer?.values.find(({ name }) => name === `${this.timer?.name}.family`)?.text,
    );
    if (family === undefined) return nothing;
    return html`${timerFamilies
      .filter((each) => each !== family)
      .map(
        (other) =>
          html`<details @toggle=${(event: Event) => this.toggle(other, event)}>
            <summary class="small">what changes with ${other}</summary>
            ${this.open.includes(other) ? changes(family, other) : nothing}
          </details>`,
      )}`;
  }

  private toggle(family: TimerFamily, { target }: Event): void {
    const others = this.open.filter((each) => each !== family);
    this.open = (target as HTMLDetailsElement).open ? [...others, family] : others;
  }
}

/** What changes between two families as a list; nothing where one of them is not known. */
export function familyChangesBetween(from: string, to: string): TemplateResult | typeof nothing {
  const [one, other] = [from, to].map((word) => timerFamilies.find((each) => each === word));
  return one === undefined || other === undefined ? nothing : changes(one, other);
}

function changes(from: TimerFamily, to: TimerFamily): TemplateResult {
  const found = familyChanges(from, to);
  const documents = documentsNamed(found.map(({ toSource }) => toSource));
  return html`<ul>
      ${found.map(({ sentence, toSource }) => html`<li>${sentence} <span class="quiet">(${toSource})</span></li>`)}
    </ul>
    ${documents.length === 0 ? nothing : html`<p class="quiet small">${documents.join('; ')}.</p>`}`;
}
