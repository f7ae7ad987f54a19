import type { Capture, CaptureFault } from '../capture/capture.ts';
import { type CaptureOutcome, type CaptureRequest, readCapture } from '../capture/capture-reader.ts';
import type { ColumnWish } from '../capture/columns.ts';
import { type Issue, IssueError } from '../core/errors.ts';
import { isObject } from '../field/record.ts';
import type { GoodBoard } from './board-table.ts';
import { type CellPlace, runNames } from './cell-names.ts';
import type { CaptureCell } from './notebook-document.ts';
import { fault } from './schema-wording.ts';
import { shortName } from './short-name.ts';

/** Measurements by cell, as they were read from files; what `CaptureReader` gives. */
export type Captures = ReadonlyMap<string, CaptureOutcome>;

/** Half the distance between the limits of edges, as a share of the level: a tenth of it to either side. */
const HYSTERESIS = 0.1;

/** Whether `data` holds the rows themselves: only they have line breaks. */
export function isInline({ data }: CaptureCell): boolean {
  return /[\r\n]/.test(data);
}

/** How the measurement of a cell is to be read. */
export function captureRequest(cell: CaptureCell, board: GoodBoard): CaptureRequest {
  const { context, nets } = runNames(board);
  const { time, ...others } = cell.columns;
  const named = Object.entries(others);
  return {
    level: context.highLevel,
    hysteresis: HYSTERESIS * context.highLevel,
    known: nets.map((net) => shortName(net, board.prefix)),
    ...(time === undefined ? {} : { time: wishOf(time) }),
    ...(named.length === 0 ? {} : { nets: new Map(named.map(([net, column]) => [net, wishOf(column)])) }),
  };
}

/**
 * The measurement of a cell.
 *
 * @param outcome what was read from its file; undefined where no file was read.
 * @throws IssueError saying what is wrong with it.
 */
export function captureOf(
  cell: CaptureCell,
  board: GoodBoard,
  at: CellPlace,
  outcome: CaptureOutcome | undefined,
): Capture {
  const read = isInline(cell) ? readCapture(cell.data, captureRequest(cell, board)) : outcome;
  if (read === undefined) {
    throw new IssueError([
      captureIssue(at, {
        field: 'data',
        rule: 'be there to be read',
        got: `only the name of a file, ${JSON.stringify(cell.data.slice(0, 40))}`,
        advice: 'Compute the page from the command line, which reads files, or write the rows into data.',
      }),
    ]);
  }
  if (!read.ok) throw new IssueError([captureIssue(at, read.fault)]);
  return read.capture;
}

/** Words what is wrong with a measurement as an issue of its cell. */
function captureIssue(at: CellPlace, { field, ...wording }: CaptureFault): Issue {
  return fault('capture', `${at.place}.${field}`, { label: at.label, field, ...wording });
}

function wishOf(column: unknown): ColumnWish {
  return isObject(column) ? (column as unknown as ColumnWish) : { column: column as string | number };
}
