import { type Issue } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import { type BoardTable, boardFor, type GoodBoard } from './board-table.ts';
import { type CellPlace, checkKnobs, checkPeriods, readShow, readTake, readTimer, runNames } from './cell-names.ts';
import type { Cell, NoteCell } from './notebook-document.ts';
import { findQuotes, splitTarget } from './quotes.ts';
import { cellKey, cellLabel, readCell } from './read-cell.ts';
import { fault } from './schema-wording.ts';

/** A cell of the page after checking. */
export type CheckedCell =
  | { readonly ok: true; readonly key: string; readonly at: CellPlace; readonly cell: Cell }
  | {
      readonly ok: false;
      readonly key: string;
      readonly at: CellPlace;
      readonly data: unknown;
      readonly issues: readonly Issue[];
    };

/** What can be quoted of the fates of a timer. */
export const FATE_NAMES = ['started', 'held', 'ignored', 'short', 'barred'] as const;

/** Reads all cells of a page and checks every name they use: boards, nets, parts, timers, and quotes of other cells. */
export function checkPage(page: readonly unknown[], table: BoardTable): CheckedCell[] {
  const cells = page.map((data, index): CheckedCell => {
    const at = { place: `page[${index}]`, label: cellLabel(data, index) };
    const key = cellKey(data, index);
    const read = readCell(data, index);
    if (!read.ok) return { ok: false, key, at, data, issues: read.issues };
    const issues = cellIssues(read.cell, table, at);
    return issues.length > 0 ? { ok: false, key, at, data, issues } : { ok: true, key, at, cell: read.cell };
  });
  return cells.map((checked, index) => {
    if (!checked.ok || checked.cell.kind !== 'note') return checked;
    const issues = quoteIssues(checked.cell, page, cells, table, checked.at);
    return issues.length > 0 ? { ok: false, key: checked.key, at: checked.at, data: page[index], issues } : checked;
  });
}

function cellIssues(cell: Cell, table: BoardTable, at: CellPlace): readonly Issue[] {
  if (cell.kind === 'note') return [];
  const board = boardFor(cell.board, table, `${at.place}.board`, at.label);
  if (!board.ok) return board.issues.filter((issue) => issue.severity === 'fault');
  if (cell.kind === 'board') return checkKnobs(cell, board, at);
  return [...checkPeriods(cell, board, at), ...nameIssues(cell, board, at)];
}

function nameIssues(cell: Exclude<Cell, NoteCell>, board: GoodBoard, at: CellPlace): readonly Issue[] {
  if (cell.kind === 'trace') return readShow(cell, runNames(board), at).issues;
  if (cell.kind === 'reading') return readTake(cell, runNames(board), at).issues;
  if (cell.kind === 'board') return [];
  const timer = readTimer(cell, board, at);
  return 'issues' in timer ? timer.issues : [];
}

function quoteIssues(
  cell: NoteCell,
  page: readonly unknown[],
  cells: readonly CheckedCell[],
  table: BoardTable,
  at: CellPlace,
): Issue[] {
  const seen = new Set<string>();
  const issues: Issue[] = [];
  for (const { target } of findQuotes(cell.text)) {
    if (seen.has(target)) continue;
    seen.add(target);
    const found = quoteFault(target, page, cells, table);
    if (found === undefined) continue;
    const got = quotedText(`#${target}`);
    issues.push(fault('missing-target', `${at.place}.text`, { label: at.label, field: 'text', ...found, got }));
  }
  return issues;
}

function quoteFault(
  target: string,
  page: readonly unknown[],
  cells: readonly CheckedCell[],
  table: BoardTable,
): { rule: string; advice: string } | undefined {
  const { cell: id, name } = splitTarget(target);
  const checked = cells.find(({ key }) => key === id);
  const ids = cells.map(({ key }) => key);
  if (checked === undefined) {
    const near = nearestName(id, ids);
    const advice =
      near === undefined
        ? 'Correct the link, or add the cell.'
        : `Did you mean #${[near, name].filter(Boolean).join('.')}?`;
    return { rule: 'link only to cells of this page, as #cell or #cell.name', advice };
  }
  if (name === undefined) return undefined;
  const names = quotableNames(page[cells.indexOf(checked)], table);
  if (names.includes(name)) return undefined;
  if (names.length === 0) {
    return {
      rule: 'quote only cells that give numbers: reading, fates, and board with a ready board',
      advice: `${id} gives none.`,
    };
  }
  const near = nearestName(name, names);
  const advice = near === undefined ? 'Correct the link.' : `Did you mean #${id}.${near}?`;
  return { rule: `quote a number that ${id} gives (${names.join(', ')})`, advice };
}

/** Names of the numbers that a cell gives and a note can quote; known from its text alone, even if it has a fault. */
function quotableNames(data: unknown, table: BoardTable): readonly string[] {
  const { kind, take, board } = (data ?? {}) as { kind?: unknown; take?: unknown; board?: unknown };
  if (kind === 'fates') return FATE_NAMES;
  if (kind === 'reading' && typeof take === 'object' && take !== null) return Object.keys(take);
  const found = kind === 'board' && typeof board === 'string' ? table.boards.get(board) : undefined;
  return found?.ok === true ? (found.ready?.textbook ?? []).map((prediction) => prediction.name) : [];
}
