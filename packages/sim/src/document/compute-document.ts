import type { ComputeOptions } from './compute-options.ts';
import { DocumentComputation } from './document-computation.ts';
import type { NotebookDocument } from './notebook-document.ts';
import type { CellResult, DocumentResults } from './results.ts';

export type { ComputeOptions } from './compute-options.ts';

/** Options of {@link computeDocument}. */
export interface ComputeDocumentOptions extends ComputeOptions {
  /** Ids of the cells wanted, all if not given. What they need is computed as well, but not among the results. */
  readonly only?: readonly string[];
}

/**
 * Computes the cells of a document. A cell that cannot be computed gives a `FaultyResult`; the others go on. Never
 * throws, whatever the document holds. Cells that look at the same board up to the same time share one run.
 */
export function computeDocument(document: NotebookDocument, options: ComputeDocumentOptions = {}): DocumentResults {
  const { only, ...rest } = options;
  const computation = new DocumentComputation(document, rest);
  const wanted = only ?? computation.keys;
  computation.compute(wanted);
  const results: Record<string, CellResult> = {};
  for (const key of computation.keys) {
    if (wanted.includes(key)) results[key] = computation.resultOf(key);
  }
  return { results };
}

/** Computes one cell, and whatever it needs. An id that the page does not have gives a faulty result as well. */
export function computeCell(document: NotebookDocument, id: string, options: ComputeOptions = {}): CellResult {
  const computation = new DocumentComputation(document, options);
  computation.compute([id]);
  return computation.resultOf(id);
}
