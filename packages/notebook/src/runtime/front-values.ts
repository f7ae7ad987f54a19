import { boardParts, valuePlace } from '../edit/board-values.ts';
import { isList, type Json } from '../edit/json.ts';
import type { PartView, ValueView } from './board-view.ts';
import { boardOf, type PageCell } from './cells.ts';

/** The values that a board cell names as its knobs, in their order. */
export function frontValues(document: Json, cell: PageCell, parts: readonly PartView[]): ValueView[] {
  const knobs = cell.data['knobs'];
  const data = boardParts(document, boardOf(cell) ?? '');
  return (isList(knobs) ? knobs : []).flatMap((name) => {
    const place = typeof name === 'string' ? valuePlace(data, name) : undefined;
    if (place === undefined) return [];
    const full = [place.part, ...place.steps].join('.');
    const found = parts.flatMap((part) => part.values).filter((value) => value.name === full);
    // The value that a part is known by needs no word beside its name.
    return name === place.part ? found.map((value) => ({ ...value, word: '' })) : found;
  });
}
