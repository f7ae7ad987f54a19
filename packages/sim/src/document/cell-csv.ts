import { captureCsv } from './capture-csv.ts';
import { claimCsv, mapCsv, sweepCsv } from './study-csv.ts';
import { chooseCsv } from './choose-csv.ts';
import { spreadCsv } from './spread-csv.ts';
import { swapsCsv } from './swaps-csv.ts';
import { symptomsCsv } from './symptoms-csv.ts';
import { csvText, edgesCsv, envelopesCsv } from '../trace/csv.ts';
import type {
  BoardResult,
  CellResult,
  EdgeRow,
  FatesResult,
  NumberOfCell,
  ReadingResult,
  TraceResult,
} from './results.ts';

/** One table of a cell, as a file. */
export interface CsvFile {
  /** File name without folder, for example `numbers.csv`, `look.edges.csv`. */
  readonly name: string;
  /** The text, as RFC 4180 has it; numbers in SI units and full precision. */
  readonly text: string;
}

/**
 * The tables of a cell as CSV files. A note has none; a cell that could not be computed has those of what it computed
 * before it stopped, if any.
 *
 * @param id the cell's id, with which every file name begins.
 */
export function cellCsv(id: string, result: CellResult): CsvFile[] {
  if (!result.ok) return result.partial === undefined ? [] : cellCsv(id, result.partial);
  switch (result.kind) {
    case 'board':
      return [{ name: `${id}.csv`, text: boardCsv(result) }];
    case 'trace':
      return traceCsv(id, result);
    case 'fates':
      return [{ name: `${id}.csv`, text: fatesCsv(result) }];
    case 'reading':
      return readingCsv(id, result);
    case 'sweep':
      return sweepCsv(id, result);
    case 'map':
      return mapCsv(id, result);
    case 'spread':
      return spreadCsv(id, result);
    case 'choose':
      return chooseCsv(id, result);
    case 'capture':
      return captureCsv(id, result);
    case 'claim':
      return claimCsv(id, result);
    case 'swaps':
      return swapsCsv(id, result);
    case 'symptoms':
      return symptomsCsv(id, result);
    case 'formula':
      return [{ name: `${id}.csv`, text: numberCsv(id, result, result.text) }];
    case 'ask':
      return [{ name: `${id}.csv`, text: numberCsv(id, result, result.answer) }];
    case 'note':
      return [];
  }
}

function boardCsv({ parts }: BoardResult): string {
  const rows = parts.flatMap(({ name, kind, nets, fields }) => [
    ...Object.entries(nets).map(([terminal, net]) => [name, kind, terminal, net, '', 'yes']),
    ...fields.map((field) => [
      name,
      kind,
      field.name,
      field.value ?? field.text,
      field.unit ?? '',
      field.given ? 'yes' : 'no',
    ]),
  ]);
  return csvText(['part', 'kind', 'field', 'value', 'unit', 'given'], rows);
}

function traceCsv(id: string, { from, until, columns, lanes, edges, contacts = {} }: TraceResult): CsvFile[] {
  const shapes = lanes.map(({ show, ...envelope }) => ({ show, envelope }));
  return [
    { name: `${id}.csv`, text: envelopesCsv({ from, until, columns }, shapes) },
    { name: `${id}.edges.csv`, text: edgesCsv({ ...edges, ...contacts }) },
  ];
}

function fatesCsv({ pulses }: FatesResult): string {
  const rows = pulses.map(({ time, end, fate, reason, open, interval, heldFor, threshold, limit, toGo }) => [
    time,
    end ?? '',
    fate,
    open === true ? 'yes' : 'no',
    interval ?? '',
    heldFor ?? '',
    threshold ?? '',
    limit ?? '',
    toGo ?? '',
    reason,
  ]);
  const header = [
    'time_s',
    'end_s',
    'fate',
    'open',
    'interval_s',
    'held_for_s',
    'threshold_V',
    'limit_V',
    'to_go_s',
    'reason',
  ];
  return csvText(header, rows);
}

/** One file of single values, and one for each list. */
function readingCsv(id: string, { values, units, reasons, asked }: ReadingResult): CsvFile[] {
  const rows: (string | number)[][] = [];
  const lists: CsvFile[] = [];
  for (const [name, value] of Object.entries(values)) {
    const unit = units[name] ?? '';
    if (typeof value === 'number' || value === null) {
      rows.push([name, value ?? '', unit, asked[name] ?? '', reasons[name] ?? '']);
    } else lists.push({ name: `${id}.${name}.csv`, text: listCsv(name, value, unit) });
  }
  return [{ name: `${id}.csv`, text: csvText(['name', 'value', 'unit', 'reading', 'reason'], rows) }, ...lists];
}

function listCsv(name: string, list: readonly (number | EdgeRow)[], unit: string): string {
  if (list.some((entry) => typeof entry !== 'number')) {
    const rows = list.flatMap((entry) => (typeof entry === 'number' ? [] : [[entry.time, entry.to]]));
    return csvText(['time_s', 'to'], rows);
  }
  const rows = list.flatMap((entry) => (typeof entry === 'number' ? [[entry]] : []));
  return csvText([unit === '' ? name : `${name}_${unit}`], rows);
}

/** One number, with the columns of a table of readings. */
function numberCsv(id: string, { value, unitText, reason }: NumberOfCell, asked: string): string {
  return csvText(['name', 'value', 'unit', 'reading', 'reason'], [[id, value ?? '', unitText, asked, reason ?? '']]);
}
