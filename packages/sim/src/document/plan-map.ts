import type { Issue } from '../core/errors.ts';
import { readQuantity, type Unit } from '../quantity/index.ts';
import type { Axis } from '../study/axis.ts';
import { type MapOutcome, type MapPlan, mapStudy, type MapTile } from '../study/map.ts';
import { mapWords } from '../study/map-words.ts';
import { isUneven, stepsText } from '../study/ratio-steps.ts';
import type { Study } from '../study/study.ts';
import { boardSubject, type BoardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { MapCell } from './notebook-document.ts';
import { type ReadAxis, readAxis } from './read-axis.ts';
import { readingUnit } from './reading-unit.ts';
import { fault, foundData } from './schema-wording.ts';
import type { MapResult, VariedValue } from './study-results.ts';
import { readStudyTake, studyTimer } from './study-take.ts';

/** Most points of a map: what a machine computes in minutes, and a screen still shows. */
const MOST_POINTS = 250_000;

/** What is wrong with the names and ranges of a map cell on its board. */
export function mapIssues(cell: MapCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  const [x, y] = axesOf(cell, board, at);
  return [
    ...(x.ok ? [] : x.issues),
    ...(y.ok ? [] : y.issues),
    ...(x.ok && y.ok ? pairIssues(x.axis, y.axis, at) : []),
    ...readStudyTake(cell, board, at).issues,
    ...studyTimer(cell, board, at).issues,
    ...readLevels(cell, board, at).issues,
  ];
}

function axesOf(cell: MapCell, board: GoodBoard, at: CellPlace): [ReadAxis, ReadAxis] {
  return [readAxis(cell.x, board, at, 'x'), readAxis(cell.y, board, at, 'y')];
}

function pairIssues(x: Axis, y: Axis, at: CellPlace): Issue[] {
  const { place, label } = at;
  if (x.name === y.name) {
    const advice = 'Name another value, or make a sweep of it.';
    return [
      fault('same-value', `${place}.y.value`, {
        label,
        field: 'y.value',
        rule: 'be another value than x',
        got: y.name,
        advice,
      }),
    ];
  }
  const count = x.points.length * y.points.length;
  if (count <= MOST_POINTS) return [];
  const rule = `make at most ${MOST_POINTS} points with x`;
  return [
    fault('too-many-points', `${place}.y`, {
      label,
      field: 'y',
      rule,
      got: String(count),
      advice: 'Take fewer steps.',
    }),
  ];
}

function readLevels(cell: MapCell, board: GoodBoard, at: CellPlace): { levels?: number[]; issues: Issue[] } {
  if (cell.levels === undefined) return { issues: [] };
  const { readings } = readStudyTake(cell, board, at);
  const [reading] = readings.values();
  if (reading === undefined) return { issues: [] };
  const found = readingUnit(reading.text);
  const unit = found === undefined || found === 'list' ? null : found;
  const levels: number[] = [];
  const issues: Issue[] = [];
  for (const [index, data] of cell.levels.entries()) {
    const read = readLevel(data, unit);
    const field = `levels[${index}]`;
    if (read.ok) levels.push(read.value);
    else
      issues.push({
        code: 'bad-level',
        severity: 'fault',
        where: `${at.place}.${field}`,
        field,
        message: `${at.label}: ${field} ${read.message}`,
      });
  }
  return { levels: [...new Set(levels)].sort((a, b) => a - b), issues };
}

function readLevel(data: unknown, unit: Unit | null): ReturnType<typeof readQuantity> {
  if (unit !== null) return readQuantity(data, unit);
  if (typeof data === 'number' && Number.isFinite(data)) return { ok: true, value: data };
  return { ok: false, message: `must be a plain number; got ${foundData(data)}. Write for example 2.5.` };
}

/** Plans a map cell that {@link mapIssues} has found nothing wrong with. */
export function planMap(cell: MapCell, board: GoodBoard, at: CellPlace, maxEvents: number): Study<unknown, MapResult> {
  const [x, y] = axesOf(cell, board, at);
  const { readings } = readStudyTake(cell, board, at);
  const [[name, reading] = []] = [...readings];
  if (!x.ok || !y.ok || name === undefined || reading === undefined) {
    throw new RangeError('planMap: the cell must have passed its check.');
  }
  const { levels } = readLevels(cell, board, at);
  const { timer } = studyTimer(cell, board, at);
  const window = { from: cell.from, until: cell.until };
  const isRatio = reading.name === 'ratio';
  // Other readings have no regions of their own: without levels there is nothing to draw but the values.
  const wanted = levels ?? (isRatio ? undefined : []);
  const plan = { x: x.axis, y: y.axis, readings: [reading], window, maxEvents, timer, levels: wanted };
  const study = mapStudy(plan, boardSubject(board, [x.value, y.value]));
  const values = [varied(x), varied(y)] as const;
  return {
    ...study,
    collect: (jobs) =>
      mapResult(cell, { name, isRatio, plan, values }, study.collect(jobs as ReadonlyMap<number, MapTile>)),
  };
}

function varied({ axis, value }: { readonly axis: Axis; readonly value: BoardValue }): VariedValue {
  return { value: value.name, unit: value.unit, scale: axis.scale, now: value.now };
}

interface Planned {
  readonly name: string;
  readonly isRatio: boolean;
  readonly plan: MapPlan;
  readonly values: readonly [VariedValue, VariedValue];
}

function mapResult(cell: MapCell, { name, isRatio, plan, values }: Planned, outcome: MapOutcome): MapResult {
  const { points, contours, sample, orders, share } = outcome;
  const all = points.flat().filter((point) => point !== null);
  return {
    kind: 'map',
    ok: true,
    board: cell.board,
    from: cell.from,
    until: cell.until,
    vary: { x: values[0], y: values[1] },
    name,
    asked: cell.take[name] ?? '',
    unit: all.find(({ unit }) => unit !== null)?.unit ?? null,
    x: plan.x.points,
    y: plan.y.points,
    z: points.map((line) => line.map((point) => point?.z ?? null)),
    uneven: isRatio ? points.map((line) => line.map((point) => Number(isUneven(point?.steps ?? null)))) : null,
    contours,
    reasons: reasonCounts(all),
    sample: sample === null ? null : { ...sample, steps: stepsText(sample.steps) },
    orders,
    share,
    sentence: mapWords(plan, name, outcome),
  };
}

function reasonCounts(points: readonly { readonly reason: string | null }[]): MapResult['reasons'] {
  const counts = new Map<string, number>();
  for (const { reason } of points) if (reason !== null) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, count]) => ({ reason, count })).slice(0, 20);
}
