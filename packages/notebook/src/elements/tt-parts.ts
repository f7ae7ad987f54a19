import { fieldWords } from '@two-thirds/sim/quantity';
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { boardNames } from '../edit/board-names.ts';
import { addPart, askingCells, hasOwnParts, joinEnd, removePart, takeInHand } from '../edit/circuit-edits.ts';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { partStarts } from '../edit/part-starts.ts';
import { nameComplaint } from '../edit/rename.ts';
import { renameNet, renamePart } from '../edit/rename-on-board.ts';
import type { EndView, PartView, ValueView } from '../runtime/board-view.ts';
import { isInRow } from '../runtime/list-fields.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { boardStyles } from './board-styles.ts';
import { EditEvent, PartEvent } from './events.ts';
import { knobButtonStyles } from './knob-button-styles.ts';
import { KindChoice } from './kind-choice.ts';
import { partLists } from './part-lists.ts';
import { partsStyles } from './parts-styles.ts';
import { isInside, type KnobLook, type ValueLook, valuePair } from './value-pair.ts';

/** More ends than this stand in a line of their own, each with its name. */
const ENDS_BESIDE = 3;

/**
 * The parts of a board. On a board with a list of its own, names and nets are edited in place like values, parts are
 * added by the words of a sentence at the end and taken out at their row; a ready board first becomes one's own.
 */
export class Parts extends LitElement {
  static override styles = [shared, boardStyles, choiceStyles, knobButtonStyles, partsStyles];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) board = '';
  @property({ attribute: false }) parts: readonly PartView[] = [];
  /** What is wrong with a part, a value or an end, by its short name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  @property({ attribute: false }) chosenPart: string | undefined;
  /** Called with a value and what was typed. */
  @property({ attribute: false }) change: (value: ValueView, text: string) => void = () => undefined;
  /** What the knobs of the cell turn. */
  @property({ attribute: false }) knobs: KnobLook | undefined;
  @state() private nameFault: { readonly field: string; readonly message: string } | undefined;
  @state() private news = '';
  /** Whether the change of the document to come is the one the news is about. */
  private isNewsOfThisEdit = false;
  /** The row to go to once it is there. */
  private wanted: number | undefined;
  private focusedRow: number | undefined;
  private readonly kinds = new KindChoice(this);

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('document')) return;
    this.nameFault = undefined;
    if (!this.isNewsOfThisEdit) this.news = '';
    this.isNewsOfThisEdit = false;
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (!changed.has('parts')) return;
    const { wanted, focusedRow } = this;
    if (wanted !== undefined) {
      this.wanted = undefined;
      this.focusRow(wanted);
    } else if (focusedRow !== undefined && focusedRow >= this.parts.length) {
      // An undo took the row away that had the focus.
      this.focusedRow = undefined;
      if (isNowhere()) this.focusRow(this.parts.length - 1);
    }
  }

  protected override render(): TemplateResult {
    const isOwn = hasOwnParts(this.document, this.board);
    return html`<table @focusout=${this.leave}>
        <thead class="unseen">
          <tr>
            <th scope="col">part</th>
            <th scope="col">kind</th>
            <th scope="col">values</th>
            <th scope="col">nets</th>
            ${isOwn ? html`<th scope="col">take out</th>` : nothing}
          </tr>
        </thead>
        <tbody>
          ${this.parts.map((part, row) => this.partRow(part, row, isOwn))}
        </tbody>
      </table>
      ${isOwn ? this.adding() : this.ready()} ${this.netNames(isOwn)}
      <p class="more" role="status">${this.news}</p>`;
  }

  private partRow(part: PartView, row: number, isOwn: boolean): TemplateResult {
    const values = part.values.filter(
      (value) => (value.given || value.hint !== undefined) && !isInRow(value, part.lists),
    );
    const ends = Object.entries(part.nets);
    const isLong = ends.length > ENDS_BESIDE;
    const joins = isOwn
      ? this.ends(part)
      : ends.map(([end, net]) => (isLong ? `${fieldWords(end)} at ${net}` : net)).join(isLong ? ', ' : ' – ');
    const complaint = this.complaints.get(part.name);
    const { complaints, change, knobs } = this;
    const look = (isNamed: boolean): ValueLook => ({ isNamed, complaints, change, knobs });
    return html`<tr
      class=${part.name === this.chosenPart ? 'chosen' : ''}
      @focusin=${() => {
        this.focusedRow = row;
        if (part.name !== this.chosenPart) this.dispatchEvent(new PartEvent(part.name));
      }}
    >
      <th scope="row">${isOwn ? this.name(part) : part.name}</th>
      <td class="title">${isOwn ? this.kinds.render(this.document, this.board, part) : part.title}</td>
      <td class="values-cell">
        <div class="values">
          ${values.map((value, index) => valuePair(value, look(index > 0 || isInside(value))))}
        </div>
        ${partLists(this, part, this)}
        ${isLong ? html`<p class="joins">${joins}</p>` : nothing}
        ${complaint === undefined ? nothing : html`<p class="complaint">${complaint}</p>`}
        ${part.kind === 'timer' ? html`<tt-family-changes .timer=${part}></tt-family-changes>` : nothing}
      </td>
      <td class="joins">${isLong ? nothing : joins}</td>
      ${
        isOwn
          ? html`<td class="out">
              <button class="plain small on-screen" aria-label="take out ${part.name}" @click=${() => this.takeOut(part, row)}>
                take out
              </button>
            </td>`
          : nothing
      }
    </tr>`;
  }

  private name(part: PartView): TemplateResult {
    return html`<tt-value
      strong
      class="name"
      .text=${part.name}
      .label=${`name of ${part.name}`}
      .complaint=${this.nameFault?.field === part.name ? this.nameFault.message : undefined}
      .change=${(to: string) => this.rename(part.name, to)}
    ></tt-value>`;
  }

  private ends(part: PartView): TemplateResult[] {
    const { nets } = boardNames(this.document, this.board);
    return part.ends.map(
      (end) =>
        html`<span class="end"
          ><span aria-hidden="true">${fieldWords(end.terminal)}</span>
          <tt-value
            .text=${end.net}
            .label=${`net of ${part.name} ${fieldWords(end.terminal)}`}
            .hint=${end.isOptional ? 'open' : ''}
            .names=${nets}
            .complaint=${this.complaints.get(end.name)}
            .change=${(net: string) => this.join(part, end, net)}
          ></tt-value
        ></span>`,
    );
  }

  private adding(): TemplateResult {
    return html`<p class="more on-screen" role="group" aria-label="Add to ${this.board}">
      Add
      ${partStarts.map(
        ({ kind, words }, index) =>
          html`${index === 0 ? '' : index === partStarts.length - 1 ? ' or ' : ' '}<span class="choice"
              ><button class="plain" @click=${() => this.add(kind)}>${words}</button
              >${index === partStarts.length - 1 ? '.' : index === partStarts.length - 2 ? '' : ','}</span
            >`,
      )}
    </p>`;
  }

  private ready(): TemplateResult | typeof nothing {
    const edit = takeInHand(this.document, this.board);
    if (edit === undefined) return nothing;
    return html`<p class="more on-screen">
      A ready circuit:
      <button
        class="plain"
        @click=${() => {
          const news = `The parts of ${this.board} are yours to change; its rules of thumb stayed with the ready circuit.`;
          this.make(edit, 0, news);
        }}
      >take the parts into your own hands</button>
      to add, take out or join them otherwise.
    </p>`;
  }

  private netNames(isOwn: boolean): TemplateResult | typeof nothing {
    const nets = boardNames(this.document, this.board).nets.filter((net) => net !== 'ground');
    if (!isOwn || nets.length === 0) return nothing;
    const fault = this.nameFault;
    return html`<details ?open=${fault !== undefined && nets.includes(fault.field)}>
      <summary class="small">names of the nets</summary>
      <p class="joins">
        ${nets.map(
          (net) =>
            html`<span class="end">
              <tt-value
                .text=${net}
                .label=${`name of net ${net}`}
                .complaint=${fault?.field === net ? fault.message : undefined}
                .change=${(to: string) => this.renameNet(net, nets, to)}
              ></tt-value>
            </span>`,
        )}
      </p>
    </details>`;
  }

  private add(kind: string): void {
    const added = addPart(this.document, this.board, kind);
    if (added === undefined) return;
    this.wanted = this.parts.length;
    this.dispatchEvent(new EditEvent(added.edit));
  }

  private takeOut(part: PartView, row: number): void {
    const removed = removePart(this.document, this.board, part.name);
    if (removed === undefined) return;
    const asking = askingCells(this.document, this.board, part.name);
    const gone = `${part.name} is taken out, and so are its knobs.`;
    const still = `${asking.join(', ')} still ${asking.length === 1 ? 'asks' : 'ask'} about it.`;
    this.make(removed.edit, Math.min(row, this.parts.length - 2), asking.length === 0 ? gone : `${gone} ${still}`);
  }

  /** Makes an edit, says something of it until the next one, and goes to a row. */
  private make(edit: Edit, row: number, news: string): void {
    this.news = news;
    this.isNewsOfThisEdit = true;
    this.wanted = row;
    this.dispatchEvent(new EditEvent(edit));
  }

  private rename(from: string, to: string): void {
    const { parts } = boardNames(this.document, this.board);
    this.refuseOrEdit(from, nameComplaint(to, parts), () => renamePart(this.document, this.board, from, to));
  }

  private renameNet(from: string, nets: readonly string[], to: string): void {
    const fault = nameComplaint(to, [...nets, 'ground']);
    this.refuseOrEdit(from, fault, () => renameNet(this.document, this.board, from, to));
  }

  private refuseOrEdit(field: string, message: string | undefined, edit: () => Edit): void {
    this.nameFault = message === undefined ? undefined : { field, message };
    if (message === undefined) this.dispatchEvent(new EditEvent(edit()));
  }

  private join(part: PartView, end: EndView, net: string): void {
    const edit = joinEnd(this.document, this.board, part.name, end, net);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  }

  private focusRow(row: number): void {
    const rows = [...this.renderRoot.querySelectorAll('tbody tr')];
    const field = rows[Math.max(0, Math.min(row, rows.length - 1))]?.querySelector<HTMLElement>('tt-value');
    const target = field ?? this.renderRoot.querySelector<HTMLElement>('.more button');
    // A field that is new has nothing to focus before it is drawn.
    void (field instanceof LitElement ? field.updateComplete : Promise.resolve()).then(() => target?.focus());
  }

  private readonly leave = (event: FocusEvent): void => {
    if (event.relatedTarget !== null) this.focusedRow = undefined;
  };
}

/** Whether nothing on the page has the focus. */
function isNowhere(): boolean {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  return element === null || element === document.body || element.shadowRoot !== null;
}
