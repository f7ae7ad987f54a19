import { html, nothing, type TemplateResult } from 'lit';
import { changeKind } from '../edit/change-kind.ts';
import type { Json } from '../edit/json.ts';
import { partStarts } from '../edit/part-starts.ts';
import type { PartView } from '../runtime/board-view.ts';
import { EditEvent, SettleEvent } from './events.ts';

/**
 * The kind of a part, chosen where it stands. Every arrow key in a closed list of choices chooses: all that are passed
 * over change the part as it was when the list got the focus, so that nothing is lost on the way, and are one step of undo.
 */
export class KindChoice {
  private readonly host: EventTarget;
  /** The document before the first choice, and what the last one made of it. */
  private base: { readonly before: Json; readonly made: Json } | undefined;

  /** @param host where edits are dispatched. */
  constructor(host: EventTarget) {
    this.host = host;
  }

  /** The list of choices for a part of a board of a document. */
  render(document: Json, board: string, { name, kind }: PartView): TemplateResult {
    const isKnown = partStarts.some((start) => start.kind === kind);
    return html`<select
      aria-label="kind of ${name}"
      @change=${(event: Event) => this.choose(document, board, name, (event.target as HTMLSelectElement).value)}
      @blur=${this.settle}
    >
      ${isKnown ? nothing : html`<option selected disabled>${kind === '' ? 'no kind' : kind}</option>`}
      ${partStarts.map(
        (start) =>
          html`<option value=${start.kind} .selected=${start.kind === kind}>${start.words.replace(/^an? /, '')}</option>`,
      )}
    </select>`;
  }

  private choose(document: Json, board: string, part: string, kind: string): void {
    const before = this.base?.made === document ? this.base.before : document;
    const back = { path: [], value: before, label: `${part} as it was` };
    const edit = changeKind(before, board, part, kind) ?? back;
    this.base = { before, made: edit.value ?? null };
    this.host.dispatchEvent(new EditEvent({ ...edit, joins: `kind of ${part}` }));
  }

  private readonly settle = (): void => {
    this.base = undefined;
    this.host.dispatchEvent(new SettleEvent());
  };
}
