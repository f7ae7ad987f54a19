import { IssueError, type Issue } from '../core/errors.ts';
import type { Outcome } from '../engine/outcome.ts';
import type { CheckedCell } from './check-page.ts';
import type { CellResult, FaultyResult } from './results.ts';
import { listedNames } from './name-help.ts';

/** The result of a cell whose check has found something, all of it kept where there is more than one fault. */
export function faulty(kind: string, issues: readonly Issue[]): FaultyResult {
  const first = issues.find((issue) => issue.severity === 'fault') ?? issues[0];
  const more = issues.length - 1;
  const message = `${first?.message ?? ''}${more > 0 ? ` (and ${more} more)` : ''}`;
  const error = { message, where: first?.where ?? '' };
  return issues.length > 1 ? { kind, ok: false, error, issues } : { kind, ok: false, error };
}

/** The result of a cell whose run stopped early. @param partial what was computed up to there. */
export function stopped({ at }: CheckedCell, outcome: Outcome, partial: CellResult): FaultyResult {
  const message = `${at.label}: ${outcome.message ?? 'the run was stopped'}`;
  return { kind: partial.kind, ok: false, error: { message, where: at.place }, partial };
}

/** The result of a study that was stopped. @param partial what its finished jobs give. */
export function unfinished(
  { at }: CheckedCell,
  done: number,
  { jobCount }: { readonly jobCount: number },
  partial: CellResult,
): FaultyResult {
  const message = `${at.label}: the study was stopped after ${done} of its ${jobCount} jobs. What they gave is kept.`;
  return { kind: partial.kind, ok: false, error: { message, where: at.place }, partial };
}

/** The result of a cell that turned out to be faulty only when it was planned, or in which the program itself failed. */
export function failed({ at, cell }: Extract<CheckedCell, { ok: true }>, error: unknown): FaultyResult {
  if (error instanceof IssueError) return faulty(cell.kind, error.issues);
  const words = error instanceof Error ? error.message : String(error);
  const message = `${at.label}: the program failed in this run (${words}). The document is not to blame; please report it.`;
  return { kind: cell.kind, ok: false, error: { message, where: at.place } };
}

/** The result of a cell that the page does not have. @param keys those it has. */
export function noSuchCell(key: string, keys: readonly string[]): FaultyResult {
  const message = `page must have a cell named ${key}; got ${listedNames(keys) || 'none'}. Correct the name.`;
  return { kind: 'unknown', ok: false, error: { message, where: 'page' } };
}

/** The result of a cell with a text that nothing was given to read with. @param options what would have to be given. */
export function withoutTools(kind: string, { at }: CheckedCell, field: string, options: string): FaultyResult {
  const message = `${at.label}: ${field} must be read before it can be computed; got nothing to read it with. Give it by ${options}.`;
  return { kind, ok: false, error: { message, where: `${at.place}.${field}` } };
}
