import { type BoardResult, computeCell, parseDocument } from '#sim/document/index.ts';

/** The parts of a board given as JSON, as its result has them. */
export function partsOf(board: unknown): BoardResult['parts'] {
  const text = JSON.stringify({
    format: 'two-thirds',
    version: 1,
    boards: { board },
    page: [{ id: 'cell', kind: 'board', board: 'board' }],
  });
  const { document } = parseDocument(text);
  if (document === undefined) throw new Error('the document must be usable');
  return (computeCell(document, 'cell') as BoardResult).parts;
}
