import { isList, type Json } from './json.ts';
import { valueAt } from './path.ts';

const NO_CELLS: readonly Json[] = [];

/** The cells of a document as they stand on its page, whatever they are; none where it has no page. */
export function pageOf(document: Json): readonly Json[] {
  const page = valueAt(document, ['page']);
  return isList(page) ? page : NO_CELLS;
}
