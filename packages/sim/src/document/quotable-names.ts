import { ownEntry, isObject } from '../field/record.ts';
import type { BoardTable } from './board-table.ts';
import { isQuotedStudy, studyNames } from './study-quotes.ts';

/** What can be quoted of the fates of a timer. */
const FATE_NAMES = ['started', 'held', 'ignored', 'short', 'barred'] as const;

/** The name under which the value of a formula cell is quoted. */
export const FORMULA_VALUE = 'value';

/**
 * Names of the numbers that a cell gives; known from its text alone, even if it has a fault, but for the textbook of a
 * faulty board (`unknown`).
 */
export function quotableNames(data: unknown, table: BoardTable): readonly string[] | 'unknown' {
  if (!isObject(data)) return [];
  const kind = ownEntry(data, 'kind');
  const take = ownEntry(data, 'take');
  const board = ownEntry(data, 'board');
  if (kind === 'fates') return FATE_NAMES;
  if (kind === 'formula') return [FORMULA_VALUE];
  if (isQuotedStudy(kind)) return studyNames(data);
  if (kind === 'reading' && isObject(take)) return Object.keys(take);
  const found = kind === 'board' && typeof board === 'string' ? table.boards.get(board) : undefined;
  if (found?.ok === false) return 'unknown';
  return (found?.ready?.textbook ?? []).map((prediction) => prediction.name);
}
