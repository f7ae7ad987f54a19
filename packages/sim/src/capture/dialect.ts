import { readQuantity } from '../quantity/index.ts';

/** How a file of measurements is written. */
export interface Dialect {
  readonly separator: '\t' | ';' | ',';
  readonly decimalMark: '.' | ',';
  /** Titles of the columns; empty where there are none. */
  readonly header: readonly string[];
  /** Units from a row of their own under the titles; empty where there is none. */
  readonly units: readonly string[];
  /** Position, among the lines looked at, of the first row of numbers, though some of it may be missing. */
  readonly firstRow: number;
}

/** In the order in which they are tried: a comma may also be a decimal mark, so it comes last. */
const SEPARATORS = ['\t', ';', ','] as const;
const NUMBER = /^[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?$/;
/** What stands in the place of a number that there is none of. */
const NO_NUMBER = /^(?:[+-]?(?:nan|inf|infinity)|-+|\*+|ol)$/i;
const MOST_COLUMNS = 1000;

/** Whether a line is empty or a comment: one that begins with # or %. */
export function isComment(line: string): boolean {
  return /^\s*(?:[#%]|$)/.test(line) || /^[\s;,]*$/.test(line);
}

/** The fields of a line, blanks and double quotes around them taken off. */
export function fieldsOf(line: string, separator: string): string[] {
  return line.split(separator, MOST_COLUMNS).map((field) =>
    field
      .trim()
      .replace(/^"(.*)"$/, '$1')
      .trim(),
  );
}

/** The number that a field holds, or undefined. */
export function numberOf(field: string | undefined, decimalMark: '.' | ','): number | undefined {
  if (field === undefined || !NUMBER.test(field)) return undefined;
  if (field.includes(decimalMark === '.' ? ',' : '.')) return undefined;
  const value = Number(field.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}

/**
 * Finds out from the first lines of a file how it is written, comments left out: the separator by which most of them are rows
 * of at least two numbers, the decimal mark, and the titles in the last line above the numbers.
 *
 * @returns undefined where there is no row of numbers.
 */
export function findDialect(lines: readonly string[]): Dialect | undefined {
  let best: { separator: Dialect['separator']; rows: number[] } | undefined;
  for (const separator of SEPARATORS) {
    const rows = lines.flatMap((line, index) => (isRow(fieldsOf(line, separator)) ? [index] : []));
    if (rows.length > (best?.rows.length ?? 0)) best = { separator, rows };
  }
  if (best === undefined) return undefined;
  const { separator, rows } = best;
  let firstRow = rows[0]!;
  while (firstRow > 0 && isBrokenRow(fieldsOf(lines[firstRow - 1]!, separator))) firstRow--;
  const above = lines.slice(0, firstRow).map((line) => fieldsOf(line, separator));
  const last = above.at(-1) ?? [];
  const isUnits = last.length >= 2 && last.every((field) => field === '' || unitFactor(field) !== undefined);
  const header = (isUnits ? above.at(-2) : last) ?? [];
  const commas = separator !== ',' && rows.some((row) => fieldsOf(lines[row]!, separator).some((f) => f.includes(',')));
  return {
    separator,
    decimalMark: commas ? ',' : '.',
    header: header.length >= 2 ? header : [],
    units: isUnits ? last : [],
    firstRow,
  };
}

function isRow(fields: readonly string[]): boolean {
  return fields.filter((field) => NUMBER.test(field)).length >= 2 && fields.every((f) => f === '' || NUMBER.test(f));
}

/** Whether a line is no title but a row without a value in some place, as instruments write it. */
function isBrokenRow(fields: readonly string[]): boolean {
  return fields.some((f) => NUMBER.test(f)) && fields.every((f) => f === '' || NUMBER.test(f) || NO_NUMBER.test(f));
}

/** A unit of time or voltage, and what one of it is in SI units. */
export interface UnitFactor {
  readonly unit: 's' | 'V';
  readonly factor: number;
}

const WORDS: Readonly<Record<string, string>> = { second: 's', seconds: 's', sec: 's', volt: 'V', volts: 'V' };

/** Reads a unit of time or voltage, with or without brackets, as `ms`, `[V]`, `Volt`; undefined for anything else. */
export function unitFactor(text: string): UnitFactor | undefined {
  const bare = text.replace(/^[[(]\s*|\s*[\])]$/g, '');
  const written = WORDS[bare.toLowerCase()] ?? bare;
  if (!/^[A-Za-zµμ]{1,3}$/.test(written)) return undefined;
  for (const unit of ['s', 'V'] as const) {
    const read = readQuantity(`1 ${written}`, unit);
    if (read.ok) return { unit, factor: read.value };
  }
  return undefined;
}

/** Takes the title of a column apart: `time [ms]`, `timing_V`, `CH1 (mV)`, `Time/s` have a unit, `CH1` has none. */
export function titleOf(title: string): { readonly name: string; readonly unit: UnitFactor | undefined } {
  const found = /^(.*?)(?:\s*[[(]\s*([^\])]*?)\s*[\])]|\s*\/\s*(\S+)|[_\s]([A-Za-zµμ]+))$/.exec(title);
  const unit = unitFactor(found?.[2] ?? found?.[3] ?? found?.[4] ?? '');
  return found === null || unit === undefined ? { name: title, unit: undefined } : { name: found[1]!.trim(), unit };
}
