import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { CaptureResult } from './capture-results.ts';

/** Samples with what was predicted, edges, explanations, and the values estimated, a table each. */
export function captureCsv(id: string, { times, nets, edges, explanations, fit }: CaptureResult): CsvFile[] {
  const columns = nets.flatMap(({ net }) => [`${net}_V`, `${net}_low_V`, `${net}_high_V`, `${net}_predicted_V`]);
  const samples = times.map((time, index) => [
    time,
    ...nets.flatMap(({ measured, low, high, predicted }) => [
      measured[index] ?? '',
      low[index] ?? '',
      high[index] ?? '',
      predicted[index] ?? '',
    ]),
  ]);
  const edgeRows = edges.map(({ net, to, measured, uncertainty, predicted, residual }) => [
    net,
    to,
    measured,
    uncertainty,
    predicted ?? '',
    residual ?? '',
  ]);
  const explained = explanations.map((each) => [
    each.kind,
    each.part,
    each.value ?? '',
    each.unit ?? '',
    each.marked ?? '',
    each.meanSquare,
    each.explains,
    each.sentence,
  ]);
  const estimates = (fit?.estimates ?? []).map(({ name, unit, value, marked, uncertainty, low, high }) => [
    name,
    unit ?? '',
    value,
    marked ?? '',
    uncertainty ?? '',
    low ?? '',
    high ?? '',
  ]);
  const edgeHeader = ['net', 'to', 'measured_s', 'uncertainty_s', 'predicted_s', 'residual_s'];
  const explainedHeader = ['kind', 'part', 'value', 'unit', 'stated', 'mean_square', 'explains', 'sentence'];
  const estimateHeader = ['name', 'unit', 'value', 'stated', 'uncertainty', 'low', 'high'];
  return [
    { name: `${id}.csv`, text: csvText(['time_s', ...columns], samples) },
    { name: `${id}.edges.csv`, text: csvText(edgeHeader, edgeRows) },
    { name: `${id}.explanations.csv`, text: csvText(explainedHeader, explained) },
    ...(fit === null ? [] : [{ name: `${id}.fit.csv`, text: csvText(estimateHeader, estimates) }]),
  ];
}
