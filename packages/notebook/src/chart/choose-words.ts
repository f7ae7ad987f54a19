import type { ChooseResult } from '@two-thirds/sim/document';
import type { PointValue } from '../edit/load-point.ts';
import { pointText } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';
import { percent } from './spread-words.ts';

type ChosenSet = ChooseResult['sets'][number];

/** A set as the board is given it. */
export function setValues({ adjust }: ChooseResult, { values }: ChosenSet): PointValue[] {
  return adjust.map(({ value, unit }, index) => ({ name: value, unit, value: values[index] ?? NaN }));
}

/** The head of the table of sets. */
export function setColumns({ adjust, want }: ChooseResult): string[] {
  return [...adjust.map(({ value }) => value), ...want.flatMap(({ name }) => [name, 'off by'])];
}

/** What stands in the row of a set. */
export function setCells({ adjust, want }: ChooseResult, { values, readings, off }: ChosenSet): string[] {
  return [
    ...adjust.map(({ unit }, index) => pointText(values[index] ?? NaN, unit)),
    ...want.flatMap(({ unit }, index) => {
      const share = off[index] ?? null;
      return [pointText(readings[index] ?? NaN, unit, 4), share === null ? '–' : percent(share)];
    }),
  ];
}

/** What precision is worth, and what was left out, as tables. */
export function chooseTables(result: ChooseResult): DataTable[] {
  const { precision, harmful, without, adjust } = result;
  const values = (set: readonly number[]): string =>
    adjust.map(({ value, unit }, index) => `${value} ${pointText(set[index] ?? NaN, unit)}`).join(', ');
  return [
    ...(precision.length === 0
      ? []
      : [
          {
            caption: 'The best set of other series',
            columns: ['series', ...setColumns(result)],
            rows: precision.map(({ series, best }) => [series, ...(best === null ? ['none'] : setCells(result, best))]),
          },
        ]),
    ...[
      { caption: `Left out, as something would be harmed or beyond its limits: ${harmful.count}`, sets: harmful.sets },
      { caption: `Left out, as a reading has no value: ${without.count}`, sets: without.sets },
    ]
      .filter(({ sets }) => sets.length > 0)
      .map(({ caption, sets }) => ({
        caption,
        columns: ['values', 'why'],
        rows: sets.map((set) => [values(set.values), set.why]),
      })),
  ];
}
