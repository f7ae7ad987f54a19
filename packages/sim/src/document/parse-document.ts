import * as v from 'valibot';
import type { Issue } from '../core/errors.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { isObject } from '../field/record.ts';
import type { FormulaParser } from '../formula/index.ts';
import { checkBoards } from './board-table.ts';
import { CheckedPage } from './check-page.ts';
import { cellNeeds, findCircle } from './dependencies.ts';
import { FormulaTable } from './formula-table.ts';
import type { KnownChecks } from './known-checks.ts';
import { migrate } from './migrate.ts';
import { LONGEST_DOCUMENT, type NotebookDocument } from './notebook-document.ts';
import { readJson } from './read-json.ts';
import { reservedFieldFault } from './reserved-names.ts';
import { fault, schemaIssues } from './schema-wording.ts';
import { shellSchema } from './shell-schema.ts';

/** What reading a document gives. */
export interface ParsedDocument {
  /** The document, unless it cannot be used at all. */
  readonly document?: NotebookDocument;
  /** Everything found inside boards, links and cells, faults and warnings; what has no fault can be computed. */
  readonly issues: readonly Issue[];
  /** Why the whole document cannot be used. */
  readonly unusable?: Issue;
}

/**
 * Reads a notebook document from the text of its file. Never throws, whatever the text.
 *
 * A document cannot be used when it is too long, not JSON, of another format or a later version, has an unknown field
 * or a wrong type in its shell, a name twice, an id twice, or cells that need each other in a circle. Every other fault
 * is inside one board, link or cell, and the rest still works.
 */
export function parseDocument(text: string): ParsedDocument {
  const read = readDocument(text);
  return read.document === undefined ? unusable(read.unusable) : withIssues(read.document);
}

/** A document that can be used, whatever may be wrong inside its boards, links and cells; or why it cannot be. */
export type ReadDocument =
  | { readonly document: NotebookDocument; readonly unusable?: undefined }
  | { readonly document?: undefined; readonly unusable: Issue };

/** Reads a document as {@link parseDocument} does, without a look inside its boards, links and cells. */
export function readDocument(text: string): ReadDocument {
  if (text.length > LONGEST_DOCUMENT) {
    const rule = `be at most ${LONGEST_DOCUMENT / 1e6} million characters long`;
    const advice = 'Divide the document into several.';
    const got = `${text.length}`;
    return { unusable: fault('too-long', 'document', { label: 'the document', rule, got, advice }) };
  }
  const json = readJson(text);
  if (!json.ok) {
    const { where, rule, got, advice } = json;
    return { unusable: fault('not-json', where, { label: `${where}: the text`, rule, got, advice }) };
  }
  return readData(json.value);
}

/**
 * Checks a document that is data already, as an editor holds it. Like {@link parseDocument} without the text.
 *
 * @param formulas takes formulas apart; without it no fault is found inside the text of a formula (see `loadDocument`).
 */
export function checkDocument(data: unknown, formulas?: FormulaParser): ParsedDocument {
  const read = readData(data);
  return read.document === undefined ? unusable(read.unusable) : withIssues(read.document, formulas);
}

function readData(data: unknown): ReadDocument {
  const migrated = migrate(data);
  if (!migrated.ok) return { unusable: migrated.unusable };
  const reserved = reservedFieldFault(migrated.data, '');
  if (reserved !== undefined) return { unusable: reserved };
  const shell = v.safeParse(shellSchema, migrated.data);
  if (!shell.success) return { unusable: schemaIssues(shell.issues, '', 'the document')[0]! };
  const document = shell.output;
  const whole = doubleId(document.page) ?? circle(document.page);
  return whole === undefined ? { document } : { unusable: whole };
}

/**
 * A document that was read, with the issues inside it, as {@link parseDocument} gives it.
 *
 * @param formulas takes formulas apart, as for {@link checkDocument}.
 * @param checks keeps what is found of boards and cells for whoever looks at the document next.
 */
export function withIssues(
  document: NotebookDocument,
  formulas?: FormulaParser,
  checks?: KnownChecks,
): ParsedDocument & { readonly document: NotebookDocument } {
  return { document, issues: documentIssues(document, formulas, checks) };
}

/** All issues inside boards, links and cells, each once. */
function documentIssues(
  document: NotebookDocument,
  parser: FormulaParser | undefined,
  checks: KnownChecks | undefined,
): Issue[] {
  const table = checkBoards(document, standardKinds, checks);
  const boardIssues = [...table.boards.values()].flatMap((board) => board.issues);
  const formulas = new FormulaTable(document.page, table, parser);
  const { cells } = new CheckedPage(document.page, table, formulas, checks);
  const cellIssues = cells.flatMap((cell) => (cell.ok ? [] : cell.issues));
  return [...new Set([...boardIssues, ...table.linkIssues, ...cellIssues])];
}

function unusable(issue: Issue): ParsedDocument {
  return { issues: [issue], unusable: issue };
}

function doubleId(page: readonly unknown[]): Issue | undefined {
  const first = new Map<unknown, number>();
  for (const [index, cell] of page.entries()) {
    if (!isObject(cell) || typeof cell.id !== 'string') continue;
    const earlier = first.get(cell.id);
    if (earlier !== undefined) {
      const got = `${JSON.stringify(cell.id)}, which page[${earlier}] has already`;
      const rule = 'be used only once on a page';
      const where = `page[${index}].id`;
      return fault('double-id', where, {
        label: `page[${index}]`,
        field: 'id',
        rule,
        got,
        advice: 'Rename one of the two.',
      });
    }
    first.set(cell.id, index);
  }
  return undefined;
}

function circle(page: readonly unknown[]): Issue | undefined {
  const needs = new Map<string, readonly string[]>();
  for (const cell of page) {
    if (isObject(cell) && typeof cell.id === 'string') needs.set(cell.id, cellNeeds(cell));
  }
  const path = findCircle(needs);
  if (path === undefined) return undefined;
  const index = page.findIndex((cell) => isObject(cell) && cell.id === path[0]);
  const advice = 'Take one of these links out.';
  const label = `page[${index}] (${path[0]})`;
  return fault('circle', `page[${index}]`, {
    label,
    rule: 'not need itself by way of other cells',
    got: path.join(' -> '),
    advice,
  });
}
