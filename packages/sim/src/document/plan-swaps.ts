import { OPENING_CAUTION } from '../circuit/cautions.ts';
import { isInside } from '../study/remark.ts';
import type { Study } from '../study/study.ts';
import { type SwapFinding, type SwapRow, type SwapsOutcome, type SwapsPlan, swapsStudy } from '../study/swaps.ts';
import { remedyAmong } from '../study/swap-remedies.ts';
import { swapsWords } from '../study/swaps-words.ts';
import type { Issue } from '../core/errors.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { SwapsCell } from './notebook-document.ts';
import { readingUnit } from './reading-unit.ts';
import { readStudyTake } from './study-take.ts';
import { type ReadPlace, readPlaces } from './swap-places.ts';
import { swapSubject } from './swap-subject.ts';
import type { SwapsResult } from './swaps-result.ts';

/** Readings this close are told apart by nobody (share): what a cheap meter and a stopwatch leave; a judgement. */
export const ALIKE = 0.02;

/** What is wrong with the names and values of a swaps cell on its board. */
export function swapsIssues(cell: SwapsCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  return [...readPlaces(cell, board, at).issues, ...readStudyTake(cell, board, at).issues];
}

/** Plans a swaps cell that {@link swapsIssues} has found nothing wrong with. */
export function planSwaps(
  cell: SwapsCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
): Study<unknown, SwapsResult> {
  const { places } = readPlaces(cell, board, at);
  const { readings } = readStudyTake(cell, board, at);
  const { from, until } = cell;
  const plan: SwapsPlan = {
    places: places.map(({ name, choices, harmless }) => ({ name, choices, harmless })),
    readings: [...readings.values()],
    window: { from, until },
    maxEvents,
    alike: ALIKE,
    prefix: board.prefix,
  };
  const study = swapsStudy(plan, swapSubject(board, places));
  return {
    ...study,
    collect: (jobs) => swapsResult(cell, plan, places, study.collect(jobs as ReadonlyMap<number, readonly SwapRow[]>)),
  };
}

function swapsResult(
  cell: SwapsCell,
  plan: SwapsPlan,
  places: readonly ReadPlace[],
  { findings, count, share }: SwapsOutcome,
): SwapsResult {
  const at = new Map(findings.map(({ index }, position) => [index, position]));
  const readings = Object.entries(cell.take).map(([name, asked]) => {
    const unit = readingUnit(asked);
    return { name, asked, unit: unit === undefined || unit === 'list' ? null : unit };
  });
  const remedies = remedyAmong(plan, findings);
  const rows = findings.map((finding) => ({
    parts: finding.choices.map((choice, place) => places[place]?.choices[choice] ?? ''),
    values: finding.values,
    reasons: Object.fromEntries(Object.entries(finding.reasons)),
    flags: finding.remarks,
    remedy: finding.remedy ?? remedies.get(finding.index) ?? null,
    sameAs: finding.sameAs === null ? null : (at.get(finding.sameAs) ?? null),
    failed: finding.failed,
  }));
  return {
    kind: 'swaps',
    ok: true,
    board: cell.board,
    from: cell.from,
    until: cell.until,
    cautions: [OPENING_CAUTION],
    places: places.map(({ name, choices }) => ({ name, choices })),
    readings,
    count,
    rows,
    alike: plan.alike,
    ranked: ranked(findings),
    share,
    sentence: swapsWords(plan.places, readings, rows, { count, alike: plan.alike }),
  };
}

/** Positions of what may be ranked, by the first reading. */
function ranked(findings: readonly SwapFinding[]): number[] {
  return findings
    .flatMap(({ values, remarks }, position) => {
      const [value] = values;
      return typeof value === 'number' && isInside(remarks) ? [{ position, value }] : [];
    })
    .sort((a, b) => a.value - b.value || a.position - b.position)
    .map(({ position }) => position);
}
