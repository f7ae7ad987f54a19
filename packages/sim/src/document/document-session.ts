import type { Issue } from '../core/errors.ts';
import type { FormulaParser } from '../formula/index.ts';
import { newGraphStore } from '../run/simulate.ts';
import type { ComputeOptions } from './compute-options.ts';
import { DocumentComputation } from './document-computation.ts';
import { KnownChecks } from './known-checks.ts';
import { formulasFor } from './load-formulas.ts';
import type { NotebookDocument } from './notebook-document.ts';
import { readDocument } from './parse-document.ts';
import { cellKey } from './read-cell.ts';
import { resultSources, sameSources } from './result-sources.ts';
import type { CellResult } from './results.ts';
import { withSharedPieces } from './shared-pieces.ts';

/** How a state of a document is computed; the session brings the rest. */
export type SessionOptions = Omit<ComputeOptions, 'formulas' | 'known' | 'graphs' | 'checks'>;

/** A result, and the parts of the document that it followed from. */
interface KeptResult {
  readonly sources: readonly unknown[];
  readonly result: CellResult;
}

/**
 * Computes one state of a document after another while it is edited, and keeps from each to the next what the edit left
 * alone: results that others need, what checks have found, what formulas are read with, and the graphs of circuits that behave alike. Results are
 * those that `computeDocument` gives.
 */
export class DocumentSession {
  #document: NotebookDocument | undefined;
  #formulas: FormulaParser | undefined;
  readonly #graphs = newGraphStore();
  readonly #checks = new KnownChecks();
  readonly #kept = new Map<string, KeptResult>();

  /**
   * Takes the next state of the document, as the text of its file.
   *
   * @returns the document; or why it cannot be used, which leaves the state before in place.
   */
  async read(text: string): Promise<{ readonly document?: NotebookDocument; readonly unusable?: Issue }> {
    const read = readDocument(text);
    if (read.document === undefined) return read;
    const document = withSharedPieces(this.#document, read.document) as NotebookDocument;
    this.#document = document;
    // Large, so only a document with formulas loads it; it takes as long as many a run, so it is kept.
    this.#formulas ??= await formulasFor(document);
    return { document };
  }

  /**
   * The computation of the document that was read last: what is asked of it first is computed first.
   *
   * @throws RangeError if none was read.
   */
  begin(options: SessionOptions = {}): SessionComputation {
    const document = this.#document;
    if (document === undefined) throw new RangeError('DocumentSession: read must come before begin.');
    const cells = new Map(document.page.map((data, index) => [cellKey(data, index), data]));
    const sourcesOf = (key: string): readonly unknown[] => resultSources({ ...document, cells }, key);
    const known = new Map<string, CellResult>();
    for (const [key, { sources, result }] of this.#kept) {
      if (cells.has(key) && sameSources(sources, sourcesOf(key))) known.set(key, result);
      else this.#kept.delete(key);
    }
    const formulas = this.#formulas;
    const tools = { ...options, known, graphs: this.#graphs, checks: this.#checks };
    const computation = new DocumentComputation(document, formulas === undefined ? tools : { ...tools, formulas });
    return {
      compute: (keys) => {
        computation.compute(keys);
        return new Map(
          keys.map((key) => {
            const result = computation.resultOf(key);
            // Nobody needs a trace to compute something else, and its lists are long.
            if (result.ok && result.kind !== 'trace') this.#kept.set(key, { sources: sourcesOf(key), result });
            return [key, result];
          }),
        );
      },
    };
  }
}

/** The computation of one state of a document. */
export interface SessionComputation {
  /** The results of these cells, by key in the same order. What they need is computed as well, where it is not known. */
  compute(keys: readonly string[]): ReadonlyMap<string, CellResult>;
}
