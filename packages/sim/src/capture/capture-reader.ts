import { quotedText } from '../core/found-text.ts';
import type { Capture, CaptureChannel, CaptureFault, MalformedLine } from './capture.ts';
import { type ColumnWishes, findColumns, type FoundColumn, type FoundColumns } from './columns.ts';
import { type Dialect, fieldsOf, findDialect, isComment, numberOf } from './dialect.ts';
import { EdgeFinder } from './edge-finder.ts';
import { type Line, LineSplitter } from './line-splitter.ts';
import { NoiseMeter } from './noise-meter.ts';
import { ThinnedRows } from './thinned-rows.ts';

/** Lines kept to find out how a file is written. */
const HEAD_LINES = 200;
/** Malformed lines and gaps that are listed; the rest is counted. */
const LISTED = 20;
/** A gap is this many times as long as the usual distance of samples. */
const GAP = 8;
/** How quickly the usual distance follows a change. */
const FOLLOWS = 1 / 64;
/** Characters of a faulty line that are shown. */
const SHOWN = 40;

/** How a measurement is to be read. */
export interface CaptureRequest extends ColumnWishes {
  /** High above `level + hysteresis`, low below `level - hysteresis` (V). */
  readonly level: number;
  readonly hysteresis: number;
}

/** A measurement, or why it cannot be used. */
export type CaptureOutcome =
  | { readonly ok: true; readonly capture: Capture }
  | { readonly ok: false; readonly fault: CaptureFault };

/**
 * Reads a measurement from CSV text that comes in chunks, in memory that does not depend on its length: rows thinned
 * evenly with the lowest and highest value between, all edges up to 10 000 a net. Separator (comma, semicolon or tab),
 * decimal mark, titles and units are found out; comments begin with # or %. A row that cannot be read, or whose time
 * goes back, is passed over and told by its line.
 */
export class CaptureReader {
  readonly #request: CaptureRequest;
  readonly #lines = new LineSplitter((line) => this.#line(line));
  #head: Line[] = [];
  #rows: RowTaker | undefined;
  #fault: CaptureFault | undefined;

  constructor(request: CaptureRequest) {
    this.#request = request;
  }

  /** Adds text. Nothing more is done once a fault is known. */
  push(chunk: string): void {
    if (this.#fault === undefined) this.#lines.push(chunk);
  }

  /** The measurement, after all text was added. */
  end(): CaptureOutcome {
    this.#lines.end();
    if (this.#rows === undefined && this.#fault === undefined) this.#begin();
    if (this.#fault !== undefined) return { ok: false, fault: this.#fault };
    const capture = this.#rows?.result();
    if (capture !== undefined && capture.times.length >= 2) return { ok: true, capture };
    const first = capture?.malformed.first[0];
    const got = first === undefined ? 'fewer' : `fewer; line ${first.line}: ${first.reason}`;
    return { ok: false, fault: noRows(got) };
  }

  #line(line: Line): void {
    if (this.#fault !== undefined) return;
    if (line.text !== undefined && isComment(line.text)) return;
    if (this.#rows !== undefined) this.#rows.line(line);
    else {
      this.#head.push(line);
      if (this.#head.length === HEAD_LINES) this.#begin();
    }
  }

  #begin(): void {
    const dialect = findDialect(this.#head.map(({ text }) => text ?? ''));
    if (dialect === undefined) {
      this.#fault = noRows(this.#head.length === 0 ? 'nothing' : 'none in the first lines');
      return;
    }
    const found = findColumns(this.#request, dialect);
    if ('fault' in found) this.#fault = found.fault;
    else {
      this.#rows = new RowTaker(this.#request, dialect, found);
      for (const line of this.#head.slice(dialect.firstRow)) this.#rows.line(line);
    }
    this.#head = [];
  }
}

function noRows(got: string): CaptureFault {
  const rule = 'hold at least two rows of numbers, separated by commas, semicolons or tabs';
  return { field: 'data', rule, got, advice: 'Export the measurement as CSV, with a column for the time.' };
}

/** Takes rows of numbers in. */
class RowTaker {
  readonly #request: CaptureRequest;
  readonly #dialect: Dialect;
  readonly #time: FoundColumn;
  readonly #nets: readonly (readonly [string, FoundColumn])[];
  readonly #finders: readonly EdgeFinder[];
  readonly #meters: readonly NoiseMeter[];
  readonly #thinned: ThinnedRows;
  readonly #extremes: { lowest: number; highest: number }[];
  readonly #malformed: MalformedLine[] = [];
  readonly #gaps: { from: number; until: number }[] = [];
  #malformedCount = 0;
  #gapCount = 0;
  #rows = 0;
  #last = -Infinity;
  #usual = NaN;
  #wasGap = false;

  constructor(request: CaptureRequest, dialect: Dialect, { time, nets }: FoundColumns) {
    this.#request = request;
    this.#dialect = dialect;
    this.#time = time;
    this.#nets = [...nets];
    this.#finders = this.#nets.map(() => new EdgeFinder(request.level, request.hysteresis));
    this.#meters = this.#nets.map(() => new NoiseMeter());
    this.#extremes = this.#nets.map(() => ({ lowest: Infinity, highest: -Infinity }));
    this.#thinned = new ThinnedRows(this.#nets.length);
  }

  line({ number, text }: Line): void {
    const reason = text === undefined ? 'too long to be a row of numbers' : this.#row(text);
    if (reason === undefined) return;
    this.#malformedCount++;
    if (this.#malformed.length < LISTED) this.#malformed.push({ line: number, reason });
  }

  result(): Capture {
    const { stride, times, channels } = this.#thinned.result();
    return {
      rows: this.#rows,
      malformed: { count: this.#malformedCount, first: this.#malformed },
      gaps: { count: this.#gapCount, first: this.#gaps },
      times,
      stride,
      last: this.#last,
      level: this.#request.level,
      hysteresis: this.#request.hysteresis,
      channels: this.#nets.map(([net], index): CaptureChannel => {
        const noise = this.#meters[index]!.result();
        const { edges, leftOut } = this.#finders[index]!.edges(noise);
        return { net, edges, edgesLeftOut: leftOut, noise, ...channels[index]!, ...this.#extremes[index]! };
      }),
    };
  }

  /** Takes a row in, or says what is wrong with it. */
  #row(text: string): string | undefined {
    const { separator, decimalMark } = this.#dialect;
    const fields = fieldsOf(text, separator);
    const read = ({ position, factor }: FoundColumn): number | undefined => {
      const number = numberOf(fields[position], decimalMark);
      return number === undefined ? undefined : number * factor;
    };
    const time = read(this.#time);
    if (time === undefined) return `the time must be a number; got ${shown(fields[this.#time.position])}`;
    const values: number[] = [];
    for (const [net, column] of this.#nets) {
      const value = read(column);
      if (value === undefined) return `${net} must be a number; got ${shown(fields[column.position])}`;
      values.push(value);
    }
    if (time < this.#last) return `the time must not go back; got ${time} s after ${this.#last} s`;
    this.#take(time, values);
    return undefined;
  }

  #take(time: number, values: readonly number[]): void {
    const step = time - this.#last;
    const isWide = this.#rows > 0 && step > GAP * this.#usual;
    // Two wide distances on end are no gap: from here on the instrument took its samples further apart.
    const afterGap = isWide && !this.#wasGap;
    if (isWide && this.#wasGap) this.#usual = step;
    this.#wasGap = afterGap;
    if (afterGap) {
      this.#gapCount++;
      if (this.#gaps.length < LISTED) this.#gaps.push({ from: this.#last, until: time });
    } else if (this.#rows > 0) {
      this.#usual =
        Number.isNaN(this.#usual) || this.#usual === 0 ? step : this.#usual + FOLLOWS * (step - this.#usual);
    }
    this.#rows++;
    this.#last = time;
    this.#thinned.add(time, values);
    for (const [index, value] of values.entries()) {
      this.#finders[index]!.add(time, value, afterGap);
      this.#meters[index]!.add(value);
      const extremes = this.#extremes[index]!;
      extremes.lowest = Math.min(extremes.lowest, value);
      extremes.highest = Math.max(extremes.highest, value);
    }
  }
}

function shown(field: string | undefined): string {
  return field === undefined || field === '' ? 'nothing' : quotedText(field.slice(0, SHOWN));
}

/** Reads a measurement from text that is there as a whole. */
export function readCapture(text: string, request: CaptureRequest): CaptureOutcome {
  const reader = new CaptureReader(request);
  reader.push(text);
  return reader.end();
}
