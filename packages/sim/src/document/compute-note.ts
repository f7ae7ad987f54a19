import type { Unit } from '../quantity/index.ts';
import type { NoteCell } from './notebook-document.ts';
import { findQuotes, splitTarget } from './quotes.ts';
import type { CellResult, NoteResult } from './results.ts';
import { studyQuote } from './study-quotes.ts';
import { amountText, numberText, valueText } from './value-text.ts';

/**
 * Computes a note: the text of every number it quotes.
 *
 * @param resultOf gives the result of another cell.
 */
export function computeNote(cell: NoteCell, resultOf: (id: string) => CellResult | undefined): NoteResult {
  const quotes: Record<string, string> = {};
  for (const { target } of findQuotes(cell.text)) {
    const { cell: id, name } = splitTarget(target);
    if (name !== undefined) quotes[target] = quoteText(resultOf(id), name);
  }
  return { kind: 'note', ok: true, quotes };
}

/** A number of a cell as notes show it; `no value` where it has none, or where the cell could not be computed. */
export function quoteText(result: CellResult | undefined, name: string): string {
  const computed = result?.ok === false ? result.partial : result;
  if (computed?.ok !== true) return 'no value';
  switch (computed.kind) {
    case 'reading':
      return valueText(computed.values[name] ?? null, computed.units[name] ?? null);
    case 'fates':
      return numberText(computed.counts[name as keyof typeof computed.counts], null);
    case 'board': {
      const row = computed.textbook.find((prediction) => prediction.name === name);
      const unit: Unit | null = row?.unit ?? null;
      return valueText(row?.value ?? null, unit);
    }
    case 'formula':
      return amountText(computed);
    case 'sweep':
    case 'spread':
    case 'choose':
    case 'claim':
    case 'swaps':
      return studyQuote(computed, name);
    default:
      return 'no value';
  }
}
