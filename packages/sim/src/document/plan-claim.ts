import type { Issue } from '../core/errors.ts';
import type { FormulaParser } from '../formula/index.ts';
import type { BoxSide } from '../study/claim-box.ts';
import type { ClaimCourse } from '../study/claim-course.ts';
import { type ClaimJob, type ClaimOutcome, claimStudy } from '../study/claim.ts';
import type { ClaimChoice } from '../study/claim-plan.ts';
import type { ClaimTrials } from '../study/claim-trials.ts';
import { choiceText, claimWords } from '../study/claim-words.ts';
import type { Study } from '../study/study.ts';
import { boardSubject } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { ClaimBoxSide, ClaimCourseResult, ClaimResult } from './claim-result.ts';
import type { ClaimCell } from './notebook-document.ts';
import { type ReadClaim, readClaim } from './read-claim.ts';

/** What claims are computed with, loaded only where there are some. */
export interface ClaimTools {
  readonly parse: FormulaParser;
  readonly trials: ClaimTrials;
}

/** What is wrong with the text, the ranges and the names of a claim cell on its board. */
export function claimIssues(
  cell: ClaimCell,
  board: GoodBoard,
  at: CellPlace,
  parse: FormulaParser | undefined,
): readonly Issue[] {
  return readClaim(cell, board, at, parse).issues;
}

/** Plans a claim cell that {@link claimIssues} has found nothing wrong with. */
export function planClaim(
  cell: ClaimCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
  { parse, trials }: ClaimTools,
): Study<unknown, ClaimResult> {
  const { read } = readClaim(cell, board, at, parse);
  if (read === undefined) throw new RangeError('planClaim: the cell must have passed its check.');
  const study = claimStudy({ ...read.plan, maxEvents }, boardSubject(board, read.values), trials);
  return {
    ...study,
    collect: (jobs) => claimResult(cell, read, study.collect(jobs as ReadonlyMap<number, ClaimJob>)),
  };
}

function claimResult(cell: ClaimCell, { plan, claim, unit }: ReadClaim, outcome: ClaimOutcome): ClaimResult {
  const { choices } = plan;
  const { counterexample, nominal, courses, box, share, ...counts } = outcome;
  const { leftText: left, rightText: right, relation, within } = claim;
  const wording = { left, right, relation, unit, choices, seed: cell.seed };
  return {
    kind: 'claim',
    ok: true,
    board: cell.board,
    from: typeof plan.from === 'number' ? plan.from : String(cell.from).trim(),
    until: typeof plan.until === 'number' ? plan.until : String(cell.until).trim(),
    says: cell.says.trim(),
    left,
    relation,
    right,
    within,
    unit,
    seed: cell.seed,
    ...counts,
    nominal,
    counterexample: counterexample && counterexampleOf(choices, counterexample),
    over: choices.flatMap((choice, index) => {
      const course = courses[index];
      return course === undefined || course === null ? [] : [courseOf(choice, course)];
    }),
    box: box && { sides: choices.flatMap((choice, index) => sidesOf(choice, box.sides[index])), checked: box.checked },
    share,
    sentence: claimWords(wording, outcome),
  };
}

function counterexampleOf(
  choices: readonly ClaimChoice[],
  { values, off, verdict: _, ...sides }: NonNullable<ClaimOutcome['counterexample']>,
): ClaimResult['counterexample'] {
  const entries = off.flatMap((index) => {
    const [choice, value] = [choices[index], values[index] ?? null];
    if (choice === undefined || value === null) return [];
    return [[choice.name, choice.words?.[value] ?? value] as const];
  });
  return { values: Object.fromEntries(entries), ...sides };
}

function sidesOf(choice: ClaimChoice, side: BoxSide | null | undefined): ClaimBoxSide[] {
  if (side === null || side === undefined) return [];
  const { name, unit } = choice;
  if (side.among === null) return [{ value: name, unit, from: side.low, to: side.high }];
  return [{ value: name, words: side.among.map((each) => choiceText(choice, each)) }];
}

function courseOf(choice: ClaimChoice, { points, range }: ClaimCourse): ClaimCourseResult {
  const { name, unit, scale, nominal, words } = choice;
  const written = (x: number): number | string => (words === null ? x : choiceText(choice, x));
  const reasons: Record<string, string> = {};
  for (const [index, { reason }] of points.entries()) {
    if (reason !== undefined) reasons[String(index)] = reason;
  }
  return {
    value: name,
    unit,
    scale,
    now: nominal === null ? null : written(nominal),
    x: points.map(({ x }) => written(x)),
    verdicts: points.map(({ verdict }) => verdict),
    left: points.map(({ left }) => left),
    right: points.map(({ right }) => right),
    error: points.map(({ error }) => error),
    reasons,
    holds: range && {
      from: range.low,
      to: range.high,
      fromIsEnd: range.lowIsEnd,
      toIsEnd: range.highIsEnd,
      checked: range.checked,
    },
  };
}
