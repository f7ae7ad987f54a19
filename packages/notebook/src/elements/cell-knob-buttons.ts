import { LONGEST_LIST, longLists } from '@two-thirds/sim/document';
import { html, nothing, type TemplateResult } from 'lit';
import { boardOfKnobs, toggleCellKnob } from '../edit/cell-knobs.ts';
import type { Json } from '../edit/json.ts';
import { fieldAround, type TurnableValue, turnableValues, valuesByField } from '../runtime/cell-values.ts';
import type { PageCell } from '../runtime/cells.ts';
import { EditEvent } from './events.ts';
import { knobToggle } from './value-pair.ts';

/**
 * The buttons that give the numbers of a cell a knob or take it away, by the field that each stands in; fields without a
 * number that can be turned, or with a complaint, are left out. What is toggled goes out from `host` as an edit.
 *
 * @param fields the names of all fields that the cell is edited in, as complaints name their places.
 * @param complaints what is wrong with a field, by its name: that is put right first.
 */
export function cellKnobButtons(
  host: EventTarget,
  document: Json,
  cell: PageCell,
  fields: readonly string[],
  complaints: ReadonlyMap<string, string>,
): ReadonlyMap<string, TemplateResult> {
  const offered = valuesByField(turnableValues(document, cell), fields);
  const button = ({ knob, title, board, isTurned }: TurnableValue, word: string): TemplateResult =>
    knobToggle({
      words: word,
      label: `knob for ${title}`,
      isTurned,
      toggle: () => host.dispatchEvent(new EditEvent(toggleCellKnob(document, board, knob))),
    });
  const isOffered = boardOfKnobs(document, cell.id) !== undefined;
  const without = (isOffered ? longLists(cell.data) : []).flatMap(({ place, length }): [string, TemplateResult][] => {
    const field = fieldAround(place, fields);
    return field === undefined ? [] : [[field, html`<span>${longListWords(length)}</span>`]];
  });
  return new Map([
    ...without,
    ...[...offered]
      .filter(([field]) => !complaints.has(field))
      .map(([field, values]) => {
        const [only, ...more] = values;
        if (only === undefined || more.length === 0)
          return [field, html`${only === undefined ? nothing : button(only, 'knob')}`] as const;
        return [
          field,
          html`<span class="on-screen">knob</span>${values.map((each) => button(each, each.word))}`,
        ] as const;
      }),
  ]);
}

/** Why the values of a list have no knobs, and what does. */
function longListWords(length: number): string {
  return `A list of ${length} values has no knobs; one of up to ${LONGEST_LIST} has them, and so has a range.`;
}
