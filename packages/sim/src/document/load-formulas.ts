import { isObject, ownEntry } from '../field/record.ts';
import { type FormulaParser, loadFormulaParser } from '../formula/index.ts';
import { KnownChecks } from './known-checks.ts';
import type { NotebookDocument } from './notebook-document.ts';
import { type ParsedDocument, readDocument, withIssues } from './parse-document.ts';
import { type ClaimTrials, loadClaimTrials } from '../study/claim-trials.ts';

/** A document that was read together with its formulas. */
export interface LoadedDocument extends ParsedDocument {
  /** What takes its formulas apart, for `computeDocument`; absent where the document has none. */
  readonly formulas?: FormulaParser;
  /** What was found of its boards and cells, for `computeDocument` and `documentStudies`; absent without a document. */
  readonly checks?: KnownChecks;
}

/**
 * Reads a document as `parseDocument` does, and its formulas as well. What formulas need is loaded only if the document
 * has some. Never rejects because of the text.
 */
export async function loadDocument(text: string): Promise<LoadedDocument> {
  const { document, unusable } = readDocument(text);
  if (document === undefined) return { issues: [unusable], unusable };
  const formulas = await formulasFor(document);
  const checks = new KnownChecks();
  const parsed = { ...withIssues(document, formulas, checks), checks };
  return formulas === undefined ? parsed : { ...parsed, formulas };
}

/** Loads what a document's formulas need, for `computeDocument`; `undefined`, and nothing is loaded, if it has none. */
export async function formulasFor({ page }: NotebookDocument): Promise<FormulaParser | undefined> {
  return page.some(hasFormula) ? loadFormulaParser() : undefined;
}

/** Loads what claims draw their trials with, for `computeDocument`; `undefined`, and nothing is loaded, if there are none. */
export async function claimTrialsFor({ page }: NotebookDocument): Promise<ClaimTrials | undefined> {
  const hasClaim = page.some((cell) => isObject(cell) && ownEntry(cell, 'kind') === 'claim');
  return hasClaim ? loadClaimTrials() : undefined;
}

function hasFormula(cell: unknown): boolean {
  if (!isObject(cell)) return false;
  const kind = ownEntry(cell, 'kind');
  return kind === 'formula' || kind === 'claim' || (kind === 'sweep' && ownEntry(cell, 'against') !== undefined);
}
