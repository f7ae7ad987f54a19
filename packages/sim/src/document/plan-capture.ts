import type { CaptureOutcome } from '../capture/capture-reader.ts';
import { GROUND_CLIP } from '../circuit/cautions.ts';
import { touchCautions } from '../circuit/touch-cautions.ts';
import { type Issue, IssueError } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { parseReading } from '../measure/parse-reading.ts';
import type { AlignBy } from '../study/capture-align.ts';
import { captureStudy, type CaptureJob, type CapturePlan } from '../study/capture-study.ts';
import type { Study } from '../study/study.ts';
import { boardSubject, type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import { captureOf, isInline } from './capture-request.ts';
import { captureResult } from './capture-result.ts';
import type { CaptureResult } from './capture-results.ts';
import { freeValue, suspectsOf } from './capture-suspects.ts';
import { type CellPlace, runNames } from './cell-names.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { CaptureCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { fault } from './schema-wording.ts';
import { shortName } from './short-name.ts';

/** What is wrong with a capture cell on its board, its rows included where the document holds them. */
export function captureIssues(cell: CaptureCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  const issues = [
    ...columnIssues(cell, board, at),
    ...adjusted(cell, board, at).issues,
    ...alignIssues(cell, board, at),
  ];
  if (issues.length > 0 || !isInline(cell)) return issues;
  return issuesOf(() => {
    const capture = captureOf(cell, board, at, undefined);
    alignBy(
      cell,
      at,
      capture.channels.map(({ net }) => net),
    );
  });
}

/**
 * Plans a capture cell that {@link captureIssues} has found nothing wrong with.
 *
 * @param outcome what was read from the cell's file, where it names one.
 * @throws IssueError if the measurement is missing or cannot be used.
 */
export function planCapture(
  cell: CaptureCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
  outcome: CaptureOutcome | undefined,
): Study<unknown, CaptureResult> {
  const capture = captureOf(cell, board, at, outcome);
  const names = runNames(board);
  const measured = capture.channels.map(({ net }) => net);
  const { values } = adjusted(cell, board, at);
  const plan: CapturePlan = {
    task: {
      capture,
      align: alignBy(cell, at, measured),
      nets: measured.map((net) => names.resolve(net)),
      level: capture.level,
      from: cell.from,
      until: cell.until,
      maxEvents,
    },
    subject: boardSubject(board, values),
    adjust: values.flatMap((value) => freeValue(value) ?? []),
    ...suspectsOf(board, measured),
  };
  const study = captureStudy(plan);
  const cautions = [GROUND_CLIP, ...touchCautions(board.circuit)];
  const units = values.map(({ unit }) => unit);
  const source = isInline(cell) ? 'the document' : cell.data;
  return {
    ...study,
    collect: (jobs) =>
      captureResult(cell, { plan, units, source, cautions }, study.collect(jobs as ReadonlyMap<number, CaptureJob>)),
  };
}

function columnIssues({ columns }: CaptureCell, board: GoodBoard, at: CellPlace): Issue[] {
  const names = runNames(board);
  const { nets } = names;
  return Object.keys(columns).flatMap((net) => {
    if (net === 'time' || nets.includes(names.resolve(net))) return [];
    const rule = `name the time, or a net of the board (${listedNames(nets)})`;
    const advice = nameAdvice(net, nets, 'Correct the name.');
    const wording = { label: at.label, field: 'columns', rule, got: foundText(net), advice };
    return [fault('unknown-net', placeInside(`${at.place}.columns`, net), wording)];
  });
}

/** The values of `adjust`, or what is wrong with them. */
function adjusted(cell: CaptureCell, board: GoodBoard, at: CellPlace): { values: BoardValue[]; issues: Issue[] } {
  const values: BoardValue[] = [];
  const issues: Issue[] = [];
  for (const [index, name] of cell.adjust.entries()) {
    const where = `${at.place}.adjust[${index}]`;
    const field = `adjust[${index}]`;
    const found = boardValue(name, board);
    if (!found.ok) {
      const message = `${at.label}: ${field} ${found.message}`;
      issues.push({ code: 'unknown-value', severity: 'fault', where, field, message });
    } else if (
      values.some(({ part, steps }) => found.value.part === part && String(found.value.steps) === String(steps))
    ) {
      const wording = { rule: 'name each value once', got: foundText(name), advice: 'Take one of them out.' };
      issues.push(fault('double-name', where, { label: at.label, field, ...wording }));
    } else if (freeValue(found.value) === undefined) {
      const rule = 'name a value above 0, which is searched for by its ratio to what is stated';
      const advice = 'State a first value for it on the board, or leave it out.';
      const got = `${foundText(name)}, which is ${found.value.now === null ? 'none' : String(found.value.now)}`;
      issues.push(fault('out-of-range', where, { label: at.label, field, rule, got, advice }));
    } else values.push(found.value);
  }
  return { values, issues };
}

function alignIssues(cell: CaptureCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  const { nets } = runNames(board);
  return issuesOf(() => alignBy(cell, at, [...nets, ...nets.map((net) => shortName(net, board.prefix))]));
}

/** What `align` means for the nets measured. */
function alignBy(cell: CaptureCell, at: CellPlace, measured: readonly string[]): AlignBy {
  const { align } = cell;
  if (align === undefined) return 'first edge';
  if (align === 'none') return 'as it is';
  const refuse = (rule: string, advice: string): IssueError =>
    new IssueError([
      fault('capture', `${at.place}.align`, { label: at.label, field: 'align', rule, got: foundText(align), advice }),
    ]);
  const reading = parseReading(align, `${at.label}: align`);
  const [net = ''] = reading.nets;
  if (reading.name !== 'first' || reading.limit !== undefined) {
    throw refuse('be the first edge of a net, or "none"', 'Write for example "first(out)" or "first(out, fall)".');
  }
  const channel = measured.indexOf(net);
  if (channel < 0) throw refuse(`name a net that was measured (${listedNames(measured)})`, 'Choose one of them.');
  return { channel, to: reading.edges[0] === 'fall' ? 'low' : 'high' };
}

function issuesOf(check: () => void): readonly Issue[] {
  try {
    check();
    return [];
  } catch (error) {
    if (error instanceof IssueError) return error.issues;
    throw error;
  }
}
