import type { Issue } from '../core/errors.ts';
import type { FormulaParser } from '../formula/index.ts';
import { type SweepJob, type SweepMark, type SweepOutcome, type SweepPoint, sweepStudy } from '../study/sweep.ts';
import { ruleCourse, ruleWords, type SweepRule } from '../study/sweep-rules.ts';
import { sweepWords } from '../study/sweep-words.ts';
import { patternRegion } from '../study/fate-pattern.ts';
import { ratioRegion } from '../study/ratio-steps.ts';
import type { Study } from '../study/study.ts';
import { boardSubject, type BoardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { SweepCell } from './notebook-document.ts';
import { readAxis } from './read-axis.ts';
import type { SweepAgainst, SweepChange, SweepResult, SweepSeries } from './results.ts';
import { readStudyTake, studyTimer } from './study-take.ts';
import type { Axis } from '../study/axis.ts';
import { readAgainst } from './sweep-against.ts';

/**
 * What is wrong with the names, ranges and rules of a sweep cell on its board.
 *
 * @param parse takes its rules apart; without it they are not looked at.
 */
export function sweepIssues(
  cell: SweepCell,
  board: GoodBoard,
  at: CellPlace,
  parse: FormulaParser | undefined,
): readonly Issue[] {
  const read = readAxis(cell.vary, board, at, 'vary');
  return [
    ...(read.ok ? [] : read.issues),
    ...readStudyTake(cell, board, at).issues,
    ...studyTimer(cell, board, at).issues,
    ...(parse === undefined ? [] : readAgainst(cell, board, undefined, at, parse).issues),
  ];
}

/**
 * Plans a sweep cell that {@link sweepIssues} has found nothing wrong with.
 *
 * @param parse takes its rules apart; must not be left out where it has some.
 */
export function planSweep(
  cell: SweepCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
  parse?: FormulaParser,
): Study<unknown, SweepResult> {
  const read = readAxis(cell.vary, board, at, 'vary');
  if (!read.ok) throw new RangeError('planSweep: the cell must have passed its check.');
  const { axis, value } = read;
  const { readings } = readStudyTake(cell, board, at);
  const { timer } = studyTimer(cell, board, at);
  if (cell.against !== undefined && parse === undefined) {
    throw new RangeError('planSweep: parse must be given for a cell with against; got nothing.');
  }
  const rules = parse === undefined ? [] : readAgainst(cell, board, value, at, parse).rules;
  const { from, until } = cell;
  const plan = { axis, readings: [...readings.values()], window: { from, until }, maxEvents, timer };
  const study = sweepStudy(plan, boardSubject(board, [value]));
  return {
    ...study,
    collect: (jobs) =>
      sweepResult(cell, axis, value, { timer, rules }, study.collect(jobs as ReadonlyMap<number, SweepJob>)),
  };
}

function sweepResult(
  cell: SweepCell,
  axis: Axis,
  value: BoardValue,
  { timer, rules }: { readonly timer: string | undefined; readonly rules: readonly SweepRule[] },
  outcome: SweepOutcome,
): SweepResult {
  const { points, marks, share } = outcome;
  const names = Object.keys(cell.take);
  const series = names.map((name, index) => seriesOf(name, cell.take[name] ?? '', index, points));
  const against = rules.map((rule) => ({ rule, course: ruleCourse(rule, outcome) }));
  return {
    kind: 'sweep',
    ok: true,
    board: cell.board,
    from: cell.from,
    until: cell.until,
    vary: { value: value.name, unit: value.unit, scale: axis.scale, now: value.now },
    x: points.map(({ x }) => x),
    series,
    against: against.map(({ rule, course }): SweepAgainst => {
      return { reading: names[rule.index] ?? '', text: rule.text, ...course };
    }),
    fates: timer === undefined ? null : { timer, patterns: points.map(({ fates }) => fates) },
    marks: marks.map((mark) => markOf(mark, names, timer)),
    share,
    sentence: [
      sweepWords(axis, names, outcome),
      ...against.flatMap(({ rule, course }) => {
        const reading = series[rule.index];
        return reading === undefined || points.length === 0 ? [] : [ruleWords(axis, reading, rule, course)];
      }),
    ].join(' '),
  };
}

function seriesOf(name: string, asked: string, index: number, points: readonly SweepPoint[]): SweepSeries {
  const reasons: Record<string, string> = {};
  for (const [place, { measured }] of points.entries()) {
    const reason = measured[index]?.reason;
    if (reason !== undefined) reasons[String(place)] = reason;
  }
  const unit = points.map(({ units }) => units[index]).find((each) => each !== undefined && each !== null);
  return {
    name,
    asked,
    unit: unit ?? null,
    values: points.map(({ measured }) => measured[index]?.value ?? null),
    reasons,
  };
}

function markOf(
  { below, above }: SweepMark,
  names: readonly string[],
  timer: string | undefined,
): SweepResult['marks'][number] {
  const changes: SweepChange[] = [];
  const add = (what: SweepChange['what'], name: string, before: string | null, after: string | null): void => {
    if (before !== after) changes.push({ what, name, below: before, above: after });
  };
  add('run', '', below.failed, above.failed);
  if (below.failed === null && above.failed === null) {
    for (const [index, name] of names.entries()) {
      add('ratio', name, ratioRegion(below.steps[index] ?? null), ratioRegion(above.steps[index] ?? null));
    }
    const jumped = patternRegion(below.fates) !== patternRegion(above.fates);
    if (timer !== undefined && jumped) add('fates', timer, below.fates, above.fates);
  }
  const values = ({ measured }: SweepPoint): (number | null)[] =>
    names.map((_, index) => measured[index]?.value ?? null);
  return { below: below.x, above: above.x, changes, valuesBelow: values(below), valuesAbove: values(above) };
}
