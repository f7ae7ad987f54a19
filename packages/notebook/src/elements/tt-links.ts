import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { FocusAfterEdit } from '../controllers/focus-after-edit.ts';
import { boardNames } from '../edit/board-names.ts';
import type { Json } from '../edit/json.ts';
import {
  addLink,
  closeLink,
  farEnds,
  leadLink,
  linkLabel,
  linksOf,
  type LinkView,
  otherBoards,
  pressLink,
  removeLink,
} from '../edit/link-edits.ts';
import type { ValueView } from '../runtime/board-view.ts';
import { linkPresses } from '../runtime/list-fields.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { EditEvent } from './events.ts';

/** The jumpers from a board to the other boards of its page, a sentence for each. */
export class Links extends LitElement {
  static override styles = [
    shared,
    choiceStyles,
    css`
      :host {
        margin-top: 0.6rem;
        max-width: 68ch;
        color: var(--quiet);
        font-size: 0.9375rem;
      }
      button.plain:hover {
        color: var(--rust);
        background: none;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) board = '';
  /** What is wrong with an end of a link, by its place. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();

  private readonly focused = new FocusAfterEdit(this, () => linksOf(this.document, this.board).length);

  protected override render(): TemplateResult | typeof nothing {
    const others = otherBoards(this.document, this.board).filter(
      (other) => addLink(this.document, this.board, other) !== undefined,
    );
    const links = linksOf(this.document, this.board);
    if (others.length === 0 && links.length === 0) return nothing;
    return html`${links.map((link) => this.link(link))}
      ${
        others.length === 0
          ? nothing
          : html`<p class="on-screen" role="group" aria-label="Link ${this.board}">
              Link it by a jumper to
              ${others.map(
                (other, index) =>
                  html`${index === 0 ? '' : ', '}<button class="plain" @click=${() => this.add(other)}>${other}</button>`,
              )}.
            </p>`
      }`;
  }

  private link(link: LinkView): TemplateResult {
    const { document, board } = this;
    const { index, near, far, net, other, closed } = link;
    const name = linkLabel(index);
    return html`<p role="group" aria-label="${name}: ${net} to ${other}">
      ${name} is a jumper from
      <tt-value
        .text=${net}
        .label=${`net of ${board} at ${name}`}
        .names=${boardNames(document, board).nets}
        .complaint=${this.complaints.get(`links[${index}].${near}`)}
        .change=${(to: string) => this.dispatchEvent(new EditEvent(leadLink(index, near, `${board}.${to}`)))}
      ></tt-value>
      to
      <tt-value
        .text=${other}
        .label=${`other end of ${name}`}
        .names=${farEnds(document, board)}
        .complaint=${this.complaints.get(`links[${index}].${far}`)}
        .change=${(to: string) => this.dispatchEvent(new EditEvent(leadLink(index, far, to)))}
      ></tt-value>
      and is
      <select
        aria-label="whether ${name} is closed"
        @change=${(event: Event) =>
          this.dispatchEvent(new EditEvent(closeLink(index, (event.target as HTMLSelectElement).value === 'closed')))}
      >
        <option value="closed" .selected=${closed}>closed</option>
        <option value="open" .selected=${!closed}>open</option></select
      >;
      <button class="plain" aria-label="take it out: ${name}" @click=${() => this.takeOut(index)}>take it out</button>.
    </p>
    ${this.presses(link)}`;
  }

  /** When the jumper is worked; between its presses it is as the sentence says. */
  private presses({ index, data }: LinkView): TemplateResult | typeof nothing {
    const list = linkPresses(data, index);
    if (list === undefined) return nothing;
    return html`<tt-rows
      .list=${list}
      .owner=${linkLabel(index)}
      .complaints=${this.complaints}
      .change=${({ place: { steps } }: ValueView, typed: string) =>
        this.dispatchEvent(
          new EditEvent({ path: ['links', index, ...steps], value: typed, label: `${linkLabel(index)} to ${typed}` }),
        )}
      .replace=${(entries: readonly Json[], label: string) =>
        this.dispatchEvent(new EditEvent(pressLink(index, entries, label)))}
    ></tt-rows>`;
  }

  private add(other: string): void {
    const edit = addLink(this.document, this.board, other);
    if (edit === undefined) return;
    this.focused.await(linksOf(this.document, this.board).length + 1, 'p:nth-last-of-type(2) tt-value');
    this.dispatchEvent(new EditEvent(edit));
  }

  private takeOut(index: number): void {
    this.focused.await(linksOf(this.document, this.board).length - 1, 'p:last-of-type button');
    this.dispatchEvent(new EditEvent(removeLink(this.document, index)));
  }
}
