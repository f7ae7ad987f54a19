import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { ClaimBoxSide, ClaimResult } from './claim-result.ts';
import type { MapResult, SweepResult, VariedValue } from './study-results.ts';

/** The points of a sweep as one table, and its marks as another, one row for each thing that changes. */
export function sweepCsv(id: string, { vary, x, series, against, fates, marks }: SweepResult): CsvFile[] {
  const header = [
    heading(vary.value, vary.unit),
    ...series.map(({ name, unit }) => heading(name, unit)),
    ...against.flatMap(({ reading }) => {
      const unit = series.find(({ name }) => name === reading)?.unit ?? null;
      return [heading(`${reading}_rule`, unit), `${reading}_error`];
    }),
  ];
  const rows = x.map((at, index) => [
    at,
    ...series.map(({ values }) => values[index] ?? ''),
    ...against.flatMap(({ values, error }) => [values[index] ?? '', error[index] ?? '']),
    ...(fates === null ? [] : [fates.patterns[index] ?? '']),
  ]);
  const changes = marks.flatMap(({ below, above, changes: all }) =>
    all.map((change) => [below, above, change.what, change.name, change.below ?? '', change.above ?? '']),
  );
  const brackets = [heading('below', vary.unit), heading('above', vary.unit)];
  return [
    { name: `${id}.csv`, text: csvText(fates === null ? header : [...header, `fates_${fates.timer}`], rows) },
    { name: `${id}.marks.csv`, text: csvText([...brackets, 'what', 'name', 'value_below', 'value_above'], changes) },
  ];
}

/** The points of a map as one table, a row for each, and the lines of its boundaries as another. */
export function mapCsv(id: string, { vary, name, unit, x, y, z, uneven, contours }: MapResult): CsvFile[] {
  const axes = [heading(vary.x.value, vary.x.unit), heading(vary.y.value, vary.y.unit)];
  const header = [...axes, heading(name, unit), ...(uneven === null ? [] : ['uneven'])];
  const rows = y.flatMap((atY, row) =>
    x.map((atX, column) => [
      atX,
      atY,
      z[row]?.[column] ?? '',
      ...(uneven === null ? [] : [uneven[row]?.[column] ?? '']),
    ]),
  );
  const lines = contours.flatMap(({ level, between, lines: all }) =>
    all.flatMap((line, index) => line.map(([atX, atY]) => [level ?? between?.join(' | ') ?? '', index, atX, atY])),
  );
  return [
    { name: `${id}.csv`, text: csvText(header, rows) },
    { name: `${id}.lines.csv`, text: csvText(['boundary', 'line', ...axes], lines) },
  ];
}

/** The courses of a claim as one table, a row for each value tried; its counterexample and its box as others. */
export function claimCsv(id: string, { over, unit, counterexample, box }: ClaimResult): CsvFile[] {
  const rows = over.flatMap(({ value, unit: of, x, verdicts, left, right, error, reasons }) =>
    x.map((at, index) => [
      value,
      at,
      of ?? '',
      verdicts[index] ?? '',
      left[index] ?? '',
      right[index] ?? '',
      error[index] ?? '',
      reasons[String(index)] ?? '',
    ]),
  );
  const sides = [heading('left', unit), heading('right', unit)];
  const units = new Map(over.map(({ value, unit: of }) => [value, of]));
  const values = Object.entries(counterexample?.values ?? {}).map(([name, at]) => [name, at, units.get(name) ?? '']);
  return [
    { name: `${id}.csv`, text: csvText(['value', 'at', 'unit', 'verdict', ...sides, 'error', 'reason'], rows) },
    { name: `${id}.counterexample.csv`, text: csvText(['value', 'at', 'unit'], values) },
    { name: `${id}.box.csv`, text: csvText(['value', 'from', 'to', 'unit'], (box?.sides ?? []).map(sideCells)) },
  ];
}

/** A side of a box: words stand in place of its two ends. */
function sideCells(side: ClaimBoxSide): (string | number)[] {
  return 'words' in side
    ? [side.value, side.words.join(' | '), '', '']
    : [side.value, side.from, side.to, side.unit ?? ''];
}

function heading(name: string, unit: VariedValue['unit']): string {
  return unit === null ? name : `${name}_${unit}`;
}
