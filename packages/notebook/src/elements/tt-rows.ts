import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { FocusAfterEdit } from '../controllers/focus-after-edit.ts';
import type { Json } from '../edit/json.ts';
import type { ValueView } from '../runtime/board-view.ts';
import { cleared, type ListView, nounOf, shorter } from '../runtime/list-fields.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { knobButtonStyles } from './knob-button-styles.ts';
import { knobButton, type KnobLook } from './value-pair.ts';

/** More rows than these are not shown: nobody edits a thousand presses by hand. */
const MOST_ROWS = 40;

/**
 * A list of a part: presses, touches, changes, points of a wave. Every entry is a row of values that are edited in place;
 * entries are added at the end and taken out at their row, by pointer or keyboard.
 */
export class Rows extends LitElement {
  static override styles = [
    shared,
    choiceStyles,
    knobButtonStyles,
    css`
      :host {
        color: var(--quiet);
        font-size: 0.9375rem;
      }
      ol {
        list-style: none;
        padding: 0;
      }
      /* Where there is little room, values go on below each other; what takes the row out stays at its end. */
      li,
      .values,
      .pair {
        display: flex;
        align-items: baseline;
        gap: 0 0.45rem;
      }
      .values {
        flex-wrap: wrap;
        min-width: 0;
      }
      li .number {
        flex: none;
        min-width: 1.4rem;
      }
      li > button {
        flex: none;
      }
      /* A complaint stands below its row, which stays one line. */
      li.wrong .pair,
      li tt-value {
        display: contents;
      }
      li tt-value::part(complaint) {
        order: 1;
        flex: 1 0 100%;
      }
      .hint {
        font-size: var(--small);
      }
    `,
  ];

  @property({ attribute: false }) list: ListView | undefined;
  /** What the list belongs to, for screen readers: `S1`, `jumper 1`. */
  @property({ attribute: false }) owner = '';
  /** What is wrong with a value, an entry or the list, by its place. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  /** Called with a value of a row and what was typed. */
  @property({ attribute: false }) change: (value: ValueView, text: string) => void = () => undefined;
  /** Called with the whole list as it is to be, what was done, in a few words, and which entry was taken out, if one was. */
  @property({ attribute: false }) replace: (entries: readonly Json[], label: string, removed?: number) => void = () =>
    undefined;

  /** What the knobs of the cell turn, where values are given them here. */
  @property({ attribute: false }) knobs: KnobLook | undefined;

  private readonly focused = new FocusAfterEdit(this, () => this.list?.entries.length);

  protected override render(): TemplateResult | typeof nothing {
    const { list, owner } = this;
    if (list === undefined) return nothing;
    const { rows, one } = list;
    const noun = nounOf(one);
    const unsaid = [list.name, ...rows.map((_, row) => `${list.name}[${row}]`)].map((place) =>
      this.complaints.get(place),
    );
    return html`<ol aria-label="${noun} list of ${owner}">
        ${rows.slice(0, MOST_ROWS).map((_, row) => this.row(list, row, noun))}
      </ol>
      ${rows.length > MOST_ROWS ? html`<p class="hint">and ${rows.length - MOST_ROWS} more in the file</p>` : nothing}
      ${unsaid.map((complaint) => (complaint === undefined ? nothing : html`<p class="complaint">${complaint}</p>`))}
      <button class="plain more on-screen" aria-label="add ${one} to ${owner}" @click=${() => this.add(list)}>add ${one}</button>`;
  }

  private row(list: ListView, row: number, noun: string): TemplateResult {
    const cells = list.rows[row] ?? [];
    const isWrong = cells.some(({ value }) => this.complaints.has(value.name));
    return html`<li class=${isWrong ? 'wrong' : ''}>
      <span class="number">${row + 1}.</span>
      <span class="values">${cells.map(
        ({ word, value, hint }) =>
          html`<span class="pair">${word === '' ? nothing : html`<span aria-hidden="true">${word}</span>`}
            <tt-value
              .text=${value.text}
              .hint=${hint}
              .label=${`${this.owner} ${value.title}`}
              .complaint=${this.complaints.get(value.name)}
              .change=${(text: string) =>
                text === '' && hint !== ''
                  ? this.replace(cleared(list, value), `${value.name} to ${hint}`)
                  : this.change(value, text)}
            ></tt-value>
            ${this.knobs === undefined ? nothing : knobButton(value, this.knobs)}</span>`,
      )}</span>
      ${
        list.mayShrink
          ? html`<button
              class="plain on-screen"
              aria-label="take out ${noun} ${row + 1} of ${this.owner}"
              @click=${() => this.takeOut(list, row, noun)}
            >
              take out
            </button>`
          : nothing
      }
    </li>`;
  }

  private add(list: ListView): void {
    this.focusOn(list.longer.length, list.longer.length);
    this.replace(list.longer, `add ${list.one} to ${this.owner}`);
  }

  private takeOut(list: ListView, row: number, noun: string): void {
    const left = list.entries.length - 1;
    this.focusOn(Math.min(row + 1, left), left);
    this.replace(shorter(list, row), `take out ${noun} ${row + 1} of ${this.owner}`, row);
  }

  /** The focus goes to a row once there are so many, or to what adds one if there is no such row. */
  private focusOn(row: number, length: number): void {
    this.focused.await(length, `li:nth-child(${row}) tt-value`, '.more');
  }
}
