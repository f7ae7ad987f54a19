import type { ChooseResult, SwapsResult, SymptomsResult } from '../document/index.ts';
import { pointText } from './point-text.ts';
import { rowPicture } from './row-picture.ts';
import type { RowLook, RowTable } from './row-scene.ts';
import type { Picture } from './svg-file.ts';

/** The nearest sets of a choice with their readings, beside what was wanted. */
export function choosePicture(
  { board, adjust, want, sets, sentence }: ChooseResult,
  width: number,
): Picture | undefined {
  const table: RowTable = {
    rows: sets.map(({ values, readings, granted }) => ({
      label: adjust.map(({ value, unit }, index) => `${value} ${pointText(values[index] ?? NaN, unit)}`).join(', '),
      look: granted ? 'good' : 'plain',
      values: readings,
    })),
    readings: want.map(({ name, unit, target, allowance }) => ({
      ...{ name, unit, mark: target },
      allowed: [target - allowance, target + allowance],
    })),
  };
  const words = {
    title: `Values for ${board}: ${want.map(({ name }) => name).join(', ')}`,
    description: sentence,
    looks: { good: 'grants all that is wanted', plain: 'does not' },
    mark: 'what is wanted',
  };
  return rowPicture(table, words, width);
}

/** All combinations of a kit with their readings: those inside all ratings by the first of them, then the others. */
export function swapsPicture(result: SwapsResult, width: number): Picture | undefined {
  const { board, places, readings, rows, ranked, sentence } = result;
  const isHarm = (row: SwapsResult['rows'][number]): boolean =>
    row.flags.some(({ what }) => what === 'unsafe' || what === 'over-limit');
  const first = new Set(ranked);
  const others = rows.flatMap((_, index) => (first.has(index) ? [] : [index]));
  const [harmful, harmless] = [true, false].map((wanted) => others.filter((index) => isHarm(rows[index]!) === wanted));
  const table: RowTable = {
    rows: [...ranked, ...harmless!, ...harmful!].map((index) => {
      const row = rows[index]!;
      const look: RowLook = isHarm(row) ? 'harm' : row.sameAs === null ? 'plain' : 'same';
      const label = places.map(({ name }, place) => `${name} ${row.parts[place] ?? ''}`).join(', ');
      return { label, look, values: row.values };
    }),
    readings: readings.map(({ name, unit }) => ({ name, unit, mark: null, allowed: null })),
  };
  const words = {
    title: `What can be plugged into ${board}: ${readings.map(({ name }) => name).join(', ')}`,
    description: sentence,
    looks: {
      plain: 'a combination',
      same: 'cannot be told from an earlier one',
      harm: 'must not be built',
    },
    mark: '',
  };
  return rowPicture(table, words, width);
}

/** All single faults of a board with the readings that were asked for, beside those of the board as built. */
export function symptomsPicture(result: SymptomsResult, width: number): Picture | undefined {
  const { board, readings, rows, asBuilt, sentence } = result;
  const table: RowTable = {
    rows: rows.map(({ title, values, build }) => ({
      label: title,
      look: build ? 'plain' : 'harm',
      values: values.slice(0, readings.length),
    })),
    readings: readings.map(({ name, unit }, index) => ({ name, unit, mark: asBuilt?.[index] ?? null, allowed: null })),
  };
  const words = {
    title: `What single faults of ${board} look like: ${readings.map(({ name }) => name).join(', ')}`,
    description: sentence,
    looks: { plain: 'with this fault', harm: 'computed only: do not build' },
    mark: 'as built',
  };
  return rowPicture(table, words, width);
}
