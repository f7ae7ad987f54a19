import { findQuotes, quoteText, splitTarget } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';
import { type CellStates, stateOf } from './cell-state.ts';
import { cellsOf, textField } from './cells.ts';
import { isStudyCell } from './study-cells.ts';

/**
 * The states with the numbers of studies put into the notes that quote them. Notes are computed apart from studies, so what
 * a study gives, and what it has so far, comes into them here. States that stay what they are stay the very same.
 */
export function withStudyQuotes(document: Json, states: CellStates): CellStates {
  const cells = cellsOf(document);
  const studies = new Set(cells.filter(isStudyCell).map(({ id }) => id));
  if (studies.size === 0) return states;
  let changed = states;
  for (const { id, kind, data } of cells) {
    const state = stateOf(changed, id);
    if (kind !== 'note' || state.shown?.kind !== 'note') continue;
    const { shown } = state;
    const quotes: Record<string, string> = {};
    for (const { target } of findQuotes(textField(data, 'text') ?? '')) {
      const { cell, name } = splitTarget(target);
      if (name !== undefined && studies.has(cell)) quotes[target] = quoteText(stateOf(changed, cell).shown, name);
    }
    if (Object.entries(quotes).every(([target, text]) => shown.quotes[target] === text)) continue;
    changed = { ...changed, [id]: { ...state, shown: { ...shown, quotes: { ...shown.quotes, ...quotes } } } };
  }
  return changed;
}
