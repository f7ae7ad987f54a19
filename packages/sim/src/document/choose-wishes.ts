import type { Issue } from '../core/errors.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import { readQuantity, readTolerance, type Unit } from '../quantity/index.ts';
import type { Wish } from '../study/choose-rank.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { WrittenWish } from './choose-schema.ts';
import type { ChooseCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { readingUnit } from './reading-unit.ts';
import { foundData } from './schema-wording.ts';
import { readStudyTake } from './study-take.ts';

/** A reading and what it should be. */
export interface WantedReading {
  readonly name: string;
  readonly asked: string;
  readonly unit: Unit | null;
  readonly reading: ParsedReading;
  readonly wish: Wish;
}

/** The wishes of a choose cell, or what is wrong with them. */
export function readWant(
  cell: ChooseCell,
  board: GoodBoard,
  at: CellPlace,
): { wanted: WantedReading[]; issues: Issue[] } {
  const take = Object.fromEntries(Object.entries(cell.want).map(([name, { reading }]) => [name, reading]));
  const { readings, issues: found } = readStudyTake({ take }, board, at);
  // They stand in want here, not in take.
  const issues = found.map((issue) => ({
    ...issue,
    where: `${issue.where.replace('.take', '.want')}.reading`,
    message: issue.message.replace('take.', 'want.'),
  }));
  const wanted: WantedReading[] = [];
  for (const [name, reading] of readings) {
    const written = cell.want[name];
    if (written === undefined || issues.length > 0) continue;
    const unit = readingUnit(written.reading);
    const own = unit === undefined || unit === 'list' ? null : unit;
    const wish = readWish(written, own);
    if ('message' in wish) {
      const field = `${placeInside('want', name)}.${wish.field}`;
      const message = `${at.label}: ${field} ${wish.message}`;
      issues.push({ code: 'bad-wish', severity: 'fault', where: `${at.place}.${field}`, field, message });
    } else wanted.push({ name, asked: written.reading, unit: own, reading, wish });
  }
  return { wanted, issues };
}

function readWish(
  { value, within }: WrittenWish,
  unit: Unit | null,
): Wish | { readonly field: string; readonly message: string } {
  const target = readNumber(value, unit);
  if (!target.ok) return { field: 'value', message: target.message };
  const isShare = typeof within === 'string' && within.includes('%');
  const allowed = isShare ? readTolerance(within) : readNumber(within, unit);
  if (!allowed.ok) return { field: 'within', message: allowed.message };
  const allowance = isShare ? allowed.value * Math.abs(target.value) : allowed.value;
  if (allowance > 0) return { target: target.value, allowance };
  const advice = target.value === 0 && isShare ? 'A share of nothing is nothing: state a quantity.' : 'Allow some.';
  return { field: 'within', message: `must be more than 0; got ${foundData(within)}. ${advice}` };
}

function readNumber(data: unknown, unit: Unit | null): ReturnType<typeof readQuantity> {
  if (unit !== null) return readQuantity(data, unit);
  if (typeof data === 'number' && Number.isFinite(data)) return { ok: true, value: data };
  return { ok: false, message: `must be a plain number; got ${foundData(data)}. Write for example 4.` };
}
