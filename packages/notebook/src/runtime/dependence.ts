import { resultSources, sameSources, type SourceDocument } from '@two-thirds/sim/document';
import { isRecord, type Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import { cellsOf } from './cells.ts';

/**
 * The ids, in page order, of the cells whose result may differ between two states of a document: those that are new
 * and those of which something changed that their result follows from. Edits share what they do not change.
 */
export function staleCells(before: Json | undefined, after: Json): string[] {
  const [old, now] = [before === undefined ? undefined : sourcesIn(before), sourcesIn(after)];
  return cellsOf(after)
    .filter(({ id }) => {
      if (old?.cells.has(id) !== true) return true;
      return !sameSources(resultSources(old, id), resultSources(now, id));
    })
    .map((cell) => cell.id);
}

function sourcesIn(document: Json): SourceDocument {
  const boards = valueAt(document, ['boards']);
  return {
    boards: isRecord(boards) ? boards : {},
    links: valueAt(document, ['links']),
    cells: new Map(cellsOf(document).map(({ id, data }) => [id, data])),
  };
}
