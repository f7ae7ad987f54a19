import { kindFields } from '@two-thirds/sim/document';
import { html, nothing, type TemplateResult } from 'lit';
import { bounceEdit } from '../edit/bounce-edit.ts';
import type { Json } from '../edit/json.ts';
import { listEdit } from '../edit/list-edit.ts';
import type { PartView, ValueView } from '../runtime/board-view.ts';
import type { ListView } from '../runtime/list-fields.ts';
import { EditEvent } from './events.ts';
import type { KnobLook } from './value-pair.ts';

/** Where a part stands whose lists are shown, and what is to be known of it. */
export interface PartListsPlace {
  readonly document: Json;
  readonly board: string;
  /** What is wrong with a value, an entry or a list, by its place. */
  readonly complaints: ReadonlyMap<string, string>;
  /** Called with a value of a row and what was typed. */
  readonly change: (value: ValueView, text: string) => void;
  /** What the knobs of the cell turn. */
  readonly knobs?: KnobLook | undefined;
}

/** The lists of a part as rows, and whether it bounces. @param host where edits are dispatched. */
export function partLists(host: EventTarget, part: PartView, place: PartListsPlace): TemplateResult {
  return html`${part.lists.map((list) => rowsOf(host, part, list, place))} ${bounce(host, part, place)}`;
}

function rowsOf(
  host: EventTarget,
  part: PartView,
  list: ListView,
  { document, board, complaints, change, knobs }: PartListsPlace,
): TemplateResult {
  return html`<tt-rows
    .list=${list}
    .owner=${part.name}
    .complaints=${complaints}
    .change=${change}
    .knobs=${knobs}
    .replace=${(entries: readonly Json[], label: string, removed?: number) => {
      const next = { entries, label, ...(removed === undefined ? {} : { removed }) };
      const edit = listEdit(document, board, list.place, next);
      if (edit !== undefined) host.dispatchEvent(new EditEvent(edit));
    }}
  ></tt-rows>`;
}

/** Contacts that bounce: how they do stands among the values of the part; that they do at all is chosen here. */
function bounce(
  host: EventTarget,
  { name, kind, values }: PartView,
  { document, board }: PartListsPlace,
): TemplateResult | typeof nothing {
  if (!kindFields(kind).some((field) => field.name === 'bounce')) return nothing;
  const bounces = values.some(({ given, place }) => given && place.steps[0] === 'bounce');
  const edit = bounceEdit(document, board, name, !bounces);
  if (edit === undefined) return nothing;
  const words = bounces ? 'no bounce' : 'let it bounce';
  return html`<button
    class="plain small on-screen"
    aria-label="${words}: ${name}"
    @click=${() => host.dispatchEvent(new EditEvent(edit))}
  >
    ${words}
  </button>`;
}
