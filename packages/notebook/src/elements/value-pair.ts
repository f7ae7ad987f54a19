import { html, nothing, type TemplateResult } from 'lit';
import type { ValueView } from '../runtime/board-view.ts';

/** How a value stands in a list of values, and what happens to what is typed. */
export interface ValueLook {
  /** Whether a word says what it is. */
  readonly isNamed: boolean;
  /** The part, where the word has to say it too. */
  readonly part?: string;
  /** What is wrong with a value, by its short name. */
  readonly complaints: ReadonlyMap<string, string>;
  /** Called with a value and what was typed. */
  readonly change: (value: ValueView, text: string) => void;
}

/** A value of a part, edited in place, with the word that tells it from its neighbours. */
export function valuePair(value: ValueView, { isNamed, part, complaints, change }: ValueLook): TemplateResult {
  const word = part === undefined ? value.word : [part, ...(isInside(value) ? [value.word] : [])].join(' ');
  return html`<span class="pair">
    ${isNamed ? html`<span class="word" aria-hidden="true" title=${value.title}>${word}</span>` : nothing}
    <tt-value
      data-value=${value.name}
      .text=${value.text}
      .label=${`${value.name.split(/[.[]/)[0]} ${value.title}`}
      .complaint=${complaints.get(value.name)}
      .change=${(text: string) => change(value, text)}
    ></tt-value>
  </span>`;
}

/** Whether a value lies inside a structured field, such as a wave. */
export function isInside(value: ValueView): boolean {
  return value.place.steps.length > 1;
}
