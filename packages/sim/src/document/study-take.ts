import type { Issue } from '../core/errors.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import type { GoodBoard } from './board-table.ts';
import { type CellPlace, readTake, readTimer, runNames } from './cell-names.ts';
import { placeInside } from './place.ts';
import { fault } from './schema-wording.ts';

/** Readings that give lists; a study needs one number a run. */
const LISTS = ['widths', 'lows', 'periods', 'edges'];

/** The readings of a study cell, names as they are in the circuit, or what is wrong with them. */
export function readStudyTake(
  cell: { readonly take: Readonly<Record<string, string>> },
  board: GoodBoard,
  at: CellPlace,
): { readings: Map<string, ParsedReading>; issues: Issue[] } {
  const { readings, issues } = readTake(cell, runNames(board), at);
  for (const [name, reading] of readings) {
    if (!LISTS.includes(reading.name)) continue;
    const where = placeInside(`${at.place}.take`, name);
    const advice = 'Take a single number, for example width(out).';
    const rule = 'be a reading that gives one number';
    issues.push(
      fault('list-reading', where, { label: at.label, field: `take.${name}`, rule, got: reading.text, advice }),
    );
  }
  return { readings, issues };
}

/** The timer a study watches: the one named, or the only one of the board; none where there are several and none is named. */
export function studyTimer(
  cell: { readonly timer?: string },
  board: GoodBoard,
  at: CellPlace,
): { timer?: string; issues: readonly Issue[] } {
  const found = readTimer(cell, board, at);
  if ('timer' in found) return { timer: found.timer, issues: [] };
  return { issues: cell.timer === undefined ? [] : found.issues };
}
