import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { boardNames } from '../edit/board-names.ts';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { keepBeside } from '../edit/what-if-beside.ts';
import { ask, inTheWay, takeBack, takenBack, type WhatIf, type WhatIfGroup } from '../edit/what-if.ts';
import type { AskedOfBoard } from '../edit/what-if-mark.ts';
import { usualNet, whatIfs } from '../edit/what-ifs.ts';
import { isOtherNews, NO_NEWS, type WhatIfNews } from '../runtime/what-if-news.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { DrawnInTurn } from './drawn-in-turn.ts';
import { CommandEvent, EditEvent } from './events.ts';
import { familyChangesBetween } from './tt-family-changes.ts';

/**
 * What can be asked of the board in hand at a press, as the words of one sentence: another timer, another supply, an
 * instrument on a net. What is asked is underlined in full; a second press takes it back. Below the sentence stands what
 * it changed.
 */
export class WhatIfs extends DrawnInTurn {
  static override styles = [
    shared,
    choiceStyles,
    css`
      .ask {
        margin: 0.5rem 0 0;
        font-size: 0.9375rem;
        line-height: 1.6;
        color: var(--quiet);
      }
      .ask button.plain {
        min-height: 1.5rem;
      }
      button.plain[aria-pressed='true'] {
        font-weight: 650;
        text-decoration: underline solid 2px var(--rust);
      }
      select {
        max-width: 8rem;
        padding: 0 0.2rem;
      }
      .answer {
        margin-top: 0.6rem;
        padding-left: 1rem;
        border-left: 3px solid var(--rust);
        font-size: 0.9375rem;
      }
      .answer p + p {
        margin-top: 0.3rem;
      }
      .acts {
        display: flex;
        flex-wrap: wrap;
        gap: 0 1rem;
      }
      details {
        margin-top: 0.3rem;
      }
      ul {
        padding-left: 1.2em;
        font-size: var(--small);
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) board = '';
  /** What is asked of the boards of the page. */
  @property({ attribute: false, hasChanged: isOtherAsked }) asked: readonly AskedOfBoard[] = [];
  /** What it changed in the cells of this board. */
  @property({ attribute: false, hasChanged: isOtherNews }) news: WhatIfNews = NO_NEWS;
  @state() private net: string | undefined;

  /** Part of {@link DrawnInTurn}: what can be asked of a board hardly depends on its values. */
  protected override canWait(changed: PropertyValues<this>): boolean {
    return changed.size > 0 && [...changed.keys()].every((name) => name === 'document' || name === 'news');
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('board')) this.net = undefined;
  }

  protected override render(): TemplateResult | typeof nothing {
    const own = this.asked.filter(({ board }) => board === this.board);
    const before = takenBack(this.document, own);
    const groups = whatIfs(before, this.board, this.netOf(own));
    if (groups.length === 0) return nothing;
    return html`<h2 class="margin-word">what if</h2>
      <p class="ask">
        ${groups.map((group, index) => html`${this.group(group, own, before)}${index === groups.length - 1 ? '\u2060?' : '\u2060; '}`)}
      </p>
      ${this.answer(own)}`;
  }

  private group(group: WhatIfGroup, own: readonly AskedOfBoard[], before: Json): TemplateResult {
    const { about, offers } = group;
    const words = offers.map(
      (offer, index) =>
        html`${index === 0 ? '' : index === offers.length - 1 ? ' or ' : ', '}<button
            class="plain"
            aria-pressed=${String(own.some(({ key }) => key === offer.key))}
            @click=${() => this.press(offer, own)}
          >${offer.words}</button>`,
    );
    return html`<span role="group" aria-label="what if, ${about}"
      >${about === 'instrument' ? html`${words} lay on ${this.nets(before, offers)}` : html`${group.before} ${words}`}</span
    >`;
  }

  private nets(before: Json, offers: readonly WhatIf[]): TemplateResult {
    const at = offers[0]?.key.split(' ').at(-1) ?? usualNet(before, this.board);
    const nets = boardNames(before, this.board).nets.filter((net) => net !== 'ground');
    return html`<select
      aria-label="net of the instrument"
      @change=${(event: Event) => (this.net = (event.target as HTMLSelectElement).value)}
    >
      ${nets.map((net) => html`<option value=${net} .selected=${net === at}>${net}</option>`)}
    </select>`;
  }

  private answer(own: readonly AskedOfBoard[]): TemplateResult {
    const notes = [...new Set(own.flatMap((each) => each.notes))];
    return html`<div class=${own.length === 0 ? '' : 'answer'}>
      <div role="status">
        ${own.length === 0 ? nothing : html`<p>With ${own.map((each) => each.told).join(', ')}: ${this.words()}</p>`}
      </div>
      ${
        own.length === 0
          ? nothing
          : html`${this.families(own)}
              ${
                notes.length === 0
                  ? nothing
                  : html`<details>
                      <summary class="small">figures, and where they are from</summary>
                      <ul>
                        ${notes.map((note) => html`<li>${note}</li>`)}
                      </ul>
                    </details>`
              }
              <p class="acts">
                <button class="plain" @click=${() => this.back(own)}>back to the board as it was</button>
                <button class="plain" @click=${() => this.keep(own)}>keep it as a board of its own beside it</button>
              </p>`
      }
    </div>`;
  }

  private words(): TemplateResult | string {
    const { told, silence, below } = this.news;
    if (told.length > 0) return `${told.join('; ')}.`;
    if (silence === 'held') return 'what changes is told once you have written down what you expect.';
    if (silence === 'waiting') return 'being computed …';
    return html`nothing on this page reads this board;
      <button
        class="plain"
        @click=${() => this.dispatchEvent(new CommandEvent({ act: 'add', after: below, kind: 'reading' }))}
      >add readings</button>
      to have the change in figures.`;
  }

  /** What changes inside the timers, where their family is another. */
  private families(own: readonly AskedOfBoard[]): TemplateResult | typeof nothing {
    const family = own.find(({ key }) => key.startsWith('family '));
    const [value] = family?.values ?? [];
    if (value === undefined) return nothing;
    const from = typeof value.before === 'string' ? value.before : 'bipolar';
    return html`<details>
      <summary class="small">what changes inside ${value.part}</summary>
      ${familyChangesBetween(from, typeof value.value === 'string' ? value.value : '')}
    </details>`;
  }

  private press(offer: WhatIf, own: readonly AskedOfBoard[]): void {
    const { document, board } = this;
    const on = own.filter(({ key }) => key === offer.key);
    const edit = on.length > 0 ? takeBack(document, board, on) : this.begin(offer, own);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  }

  /** What is asked takes the board as it is but for what has to go: a slow supply rises to the voltage that is asked. */
  private begin(offer: WhatIf, own: readonly AskedOfBoard[]): Edit | undefined {
    const { document, board } = this;
    const rest = takenBack(document, inTheWay(board, offer, own));
    const now = whatIfs(rest, board, this.netOf(own)).flatMap(({ offers }) => offers);
    return ask(document, board, now.find(({ key }) => key === offer.key) ?? offer, own);
  }

  private netOf(own: readonly AskedOfBoard[]): string | undefined {
    const laid = own.findLast(({ added }) => added !== undefined)?.added?.['a'];
    return this.net ?? (typeof laid === 'string' ? laid : undefined);
  }

  private back(own: readonly AskedOfBoard[]): void {
    this.leave(takeBack(this.document, this.board, own));
  }

  private keep(own: readonly AskedOfBoard[]): void {
    this.leave(keepBeside(this.document, this.board, own));
  }

  /** What was pressed goes with the answer: the focus goes to the sentence. */
  private leave(edit: ReturnType<typeof takeBack>): void {
    if (edit === undefined) return;
    this.renderRoot.querySelector<HTMLElement>('.ask button')?.focus();
    this.dispatchEvent(new EditEvent(edit));
  }
}

/** Whether something else is asked: the list is made anew at every step of a computation. */
function isOtherAsked(asked: readonly AskedOfBoard[], before: readonly AskedOfBoard[] | undefined): boolean {
  return asked.length !== before?.length || asked.some((each, index) => each !== before[index]);
}
