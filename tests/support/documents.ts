import {
  computeDocument,
  type ComputeDocumentOptions,
  type CellResult,
  type NotebookDocument,
  parseDocument,
} from '#sim/document/index.ts';

/** Shell of a document around boards and cells. */
export function documentOf(boards: unknown, page: readonly unknown[], more: object = {}): unknown {
  return { format: 'two-thirds', version: 1, title: 'Test page', boards, page, ...more };
}

/** Reads a document that must be usable. */
export function usable(data: unknown): NotebookDocument {
  const { document, unusable } = parseDocument(JSON.stringify(data));
  if (document === undefined) throw new Error(unusable?.message);
  return document;
}

/** Computes a usable document with few columns. */
export function computed(data: unknown, options: ComputeDocumentOptions = {}): Readonly<Record<string, CellResult>> {
  return computeDocument(usable(data), { columns: 20, ...options }).results;
}

/** The result of one cell, which must be of the kind asked for and without fault. */
export function resultOf<Kind extends CellResult['kind']>(
  results: Readonly<Record<string, CellResult>>,
  id: string,
  kind: Kind,
): Extract<CellResult, { kind: Kind; ok: true }> {
  const result = results[id];
  if (result?.ok !== true || result.kind !== kind) {
    throw new Error(`${id}: ${result?.ok === false ? result.error.message : `not a ${kind}`}`);
  }
  return result as Extract<CellResult, { kind: Kind; ok: true }>;
}

/** Places and codes of all issues of a document. */
export function issuesOf(data: unknown): string[] {
  return parseDocument(JSON.stringify(data)).issues.map(({ where, code }) => `${where}: ${code}`);
}
