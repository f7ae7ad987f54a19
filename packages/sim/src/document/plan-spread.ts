import type { Issue } from '../core/errors.ts';
import { readQuantity, type Unit } from '../quantity/index.ts';
import { type SpreadFindings, spreadFindings, type SpreadLimits } from '../study/spread-findings.ts';
import { type SpreadQuantity, valueAt } from '../study/spread-quantity.ts';
import { QUANTILES } from '../study/spread-statistics.ts';
import { spreadWords } from '../study/spread-words.ts';
import { type SpreadJob, type SpreadOutcome, spreadStudy } from '../study/spread.ts';
import type { Study } from '../study/study.ts';
import { boardSubject } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { SpreadCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { readingUnit } from './reading-unit.ts';
import { fault, foundData } from './schema-wording.ts';
import { readSpreadParts, type SpreadPart } from './spread-parts.ts';
import type { SpreadReading, SpreadResult, SpreadValue } from './spread-results.ts';
import { readStudyTake } from './study-take.ts';

/** What is wrong with the names and ranges of a spread cell on its board. */
export function spreadIssues(cell: SpreadCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  return [
    ...readSpreadParts(cell, board, at).issues,
    ...readStudyTake(cell, board, at).issues,
    ...readLimits(cell, at).issues,
  ];
}

/** Plans a spread cell that {@link spreadIssues} has found nothing wrong with. */
export function planSpread(
  cell: SpreadCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
): Study<unknown, SpreadResult> {
  const { parts } = readSpreadParts(cell, board, at);
  const { readings } = readStudyTake(cell, board, at);
  const { limits } = readLimits(cell, at);
  const { law, samples, seed, from, until } = cell;
  const quantities = parts.map(({ quantity }) => quantity);
  const plan = {
    quantities,
    law,
    samples,
    seed,
    readings: [...readings.values()],
    window: { from, until },
    maxEvents,
  };
  const subject = boardSubject(
    board,
    parts.map(({ value }) => value),
  );
  const study = spreadStudy(plan, subject);
  const wanted = Object.keys(cell.take).map((name) => limits.get(name) ?? null);
  return {
    ...study,
    collect: (jobs) => {
      const outcome = study.collect(jobs as ReadonlyMap<number, SpreadJob>);
      return spreadResult(cell, parts, outcome, spreadFindings(quantities, wanted, outcome));
    },
  };
}

/** The limits of readings, each a pair of which one may be null. */
function readLimits(cell: SpreadCell, at: CellPlace): { limits: Map<string, SpreadLimits>; issues: Issue[] } {
  const limits = new Map<string, SpreadLimits>();
  const issues: Issue[] = [];
  for (const [name, pair] of Object.entries(cell.limits)) {
    const field = placeInside('limits', name);
    const where = `${at.place}.${field}`;
    const refuse = (rule: string, got: string, advice: string): void => {
      issues.push(fault('bad-limits', where, { label: at.label, field, rule, got, advice }));
    };
    const asked = cell.take[name];
    const names = Object.keys(cell.take);
    if (asked === undefined) {
      refuse(`be for a reading of take (${listedNames(names)})`, name, nameAdvice(name, names, 'Correct the name.'));
      continue;
    }
    const ends = Array.isArray(pair) ? (pair as readonly unknown[]) : [];
    if (ends.length !== 2 || ends.every((end) => end === null)) {
      refuse('be a pair of limits, one of which may be null', foundData(pair), 'Write for example ["4 s", "5 s"].');
      continue;
    }
    const unit = readingUnit(asked);
    const read = ends.map((end) => (end === null ? null : readLimit(end, unit === 'list' ? null : (unit ?? null))));
    const wrong = read.find((each) => each?.ok === false);
    if (wrong?.ok === false) {
      issues.push({
        code: 'bad-limits',
        severity: 'fault',
        where,
        field,
        message: `${at.label}: ${field} ${wrong.message}`,
      });
      continue;
    }
    const [low, high] = read.map((each) => (each?.ok === true ? each.value : null)) as [number | null, number | null];
    if (low !== null && high !== null && low > high) {
      refuse('begin with the lower limit', 'the upper one', 'Swap the two.');
      continue;
    }
    limits.set(name, { low, high });
  }
  return { limits, issues };
}

function readLimit(end: unknown, unit: Unit | null): ReturnType<typeof readQuantity> {
  if (unit !== null) return readQuantity(end, unit);
  if (typeof end === 'number' && Number.isFinite(end)) return { ok: true, value: end };
  return { ok: false, message: `must hold plain numbers; got ${foundData(end)}. Write for example [3, 4].` };
}

function spreadResult(
  cell: SpreadCell,
  parts: readonly SpreadPart[],
  outcome: SpreadOutcome,
  findings: SpreadFindings,
): SpreadResult {
  const names = Object.keys(cell.take);
  const { allCorners } = outcome;
  const quantities = parts.map(({ quantity }) => quantity);
  return {
    kind: 'spread',
    ok: true,
    board: cell.board,
    from: cell.from,
    until: cell.until,
    law: cell.law,
    seed: cell.seed,
    samples: outcome.samples.length,
    parts: parts.map(spreadValue),
    readings: findings.readings.map((reading, index) => {
      const name = names[index] ?? '';
      return readingResult(name, cell.take[name] ?? '', reading);
    }),
    inside: findings.inside,
    corners: outcome.corners.length,
    share: outcome.share,
    sentence: spreadWords({ quantities, law: cell.law, names, allCorners, complete: outcome.share === 1 }, findings),
  };
}

function spreadValue({ quantity, source }: SpreadPart): SpreadValue {
  const [a, b] = rangeOf(quantity);
  const { name, unit, nominal } = quantity;
  return { value: name, unit, now: nominal, least: a, greatest: b, source };
}

/** The ends as values, the smaller first; null for none (no leakage). */
function rangeOf(quantity: SpreadQuantity): [number | null, number | null] {
  const ends = [valueAt(quantity, -1), valueAt(quantity, 1)].sort((a, b) => a - b);
  return ends.map((end) => (Number.isFinite(end) ? end : null)) as [number | null, number | null];
}

function readingResult(name: string, asked: string, reading: SpreadFindings['readings'][number]): SpreadReading {
  const { unit, nominal, statistics, missing, reasons, worst, limits, variance } = reading;
  const { count, mean, deviation, least, greatest, quantiles, bins } = statistics;
  return {
    name,
    asked,
    unit,
    now: nominal,
    count,
    missing,
    reasons,
    mean,
    deviation,
    least,
    greatest,
    quantiles: quantiles.flatMap((value, index) => (value === null ? [] : [{ share: QUANTILES[index]!, value }])),
    bins,
    worst,
    limits,
    variance,
  };
}
