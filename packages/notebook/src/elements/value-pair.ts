import { html, nothing, type TemplateResult } from 'lit';
import type { ValueView } from '../runtime/board-view.ts';

/** What the knobs of a cell turn, and how a value gets one or loses it. */
export interface KnobLook {
  readonly has: (value: ValueView) => boolean;
  readonly toggle: (value: ValueView) => void;
}

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
  /** Knobs, where values are given them in this list. */
  readonly knobs?: KnobLook | undefined;
}

/** A value of a part, edited in place, with the word that tells it from its neighbours. */
export function valuePair(value: ValueView, { isNamed, part, complaints, change, knobs }: ValueLook): TemplateResult {
  const word = part === undefined ? value.word : [part, value.word].join(' ').trim();
  return html`<span class="pair">
    ${isNamed ? html`<span class="word" aria-hidden="true" title=${value.title}>${word}</span>` : nothing}
    <tt-value
      data-value=${value.name}
      .text=${value.text}
      .hint=${value.hint ?? ''}
      .label=${`${value.name.split(/[.[]/)[0]} ${value.title}`}
      .names=${value.words ?? []}
      .isChoice=${value.words !== undefined}
      .complaint=${complaints.get(value.name)}
      .change=${(text: string) => change(value, text)}
    ></tt-value>
    ${knobs === undefined ? nothing : knobButton(value, knobs)}
  </span>`;
}

/** The button that gives a value a knob or takes it away; nothing where there is nothing to turn. */
export function knobButton(value: ValueView, { has, toggle }: KnobLook): TemplateResult | typeof nothing {
  if (value.measure === undefined || value.value === undefined) return nothing;
  return knobToggle({
    words: 'knob',
    label: `knob for ${value.place.part} ${value.title}`,
    isTurned: has(value),
    toggle: () => toggle(value),
  });
}

/** The word beside a number that gives it a knob, or takes it away where it has one. */
export function knobToggle({
  words,
  label,
  isTurned,
  toggle,
}: {
  readonly words: string;
  /** The same for screen readers: what it is a knob for. */
  readonly label: string;
  readonly isTurned: boolean;
  readonly toggle: () => void;
}): TemplateResult {
  return html`<button
    class="plain knob on-screen"
    aria-pressed=${String(isTurned)}
    aria-label=${label}
    title=${isTurned ? 'take its knob away' : 'turn it by a knob'}
    @click=${toggle}
  >${words}</button>`;
}

/** Whether a value lies inside a structured field, such as a wave. */
export function isInside(value: ValueView): boolean {
  return value.place.steps.length > 1;
}
