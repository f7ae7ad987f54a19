import type { Envelope } from './column-envelope.ts';
import { readContactName, readSignalName } from './signal-name.ts';

/**
 * Text of a table as RFC 4180 has it: commas, CRLF after every record, fields with commas, quotes or line breaks in
 * double quotes. Numbers in full precision with a point; SI units belong in the header.
 */
export function csvText(header: readonly string[], rows: Iterable<readonly (string | number)[]>): string {
  let text = record(header);
  for (const row of rows) text += record(row);
  return text;
}

/** Edges of nets and contacts in the order of time, one row an edge: `time_s,net,to`. */
export function edgesCsv(
  edges: Readonly<Record<string, readonly { readonly time: number; readonly to: string }[]>>,
): string {
  const rows = Object.entries(edges).flatMap(([net, list]) => list.map((edge) => [edge.time, net, edge.to] as const));
  rows.sort((a, b) => a[0] - b[0]);
  return csvText(['time_s', 'net', 'to'], rows);
}

/** Envelopes of one window, one row a column: its start and end, then first, last, lowest, highest of each signal. */
export function envelopesCsv(
  window: { readonly from: number; readonly until: number; readonly columns: number },
  lanes: readonly { readonly show: string; readonly envelope: Envelope }[],
): string {
  const { from, until, columns } = window;
  const header = lanes.flatMap(({ show }) => ['first', 'last', 'low', 'high'].map((word) => columnTitle(show, word)));
  const filled = Math.min(columns, ...lanes.map(({ envelope }) => envelope.first.length));
  const border = (column: number): number => from + ((until - from) * column) / columns;
  const rows = Array.from({ length: filled }, (_, i) => [
    border(i),
    border(i + 1),
    ...lanes.flatMap(({ envelope: { first, last, low, high } }) => [first[i]!, last[i]!, low[i]!, high[i]!]),
  ]);
  return csvText(['from_s', 'until_s', ...header], rows);
}

function columnTitle(show: string, word: string): string {
  if (readContactName(show) !== undefined) return `${show}_${word}`;
  return 'net' in readSignalName(show) ? `${show}_${word}_V` : `${show}_${word}_A`;
}

function record(fields: readonly (string | number)[]): string {
  return `${fields.map(field).join(',')}\r\n`;
}

function field(value: string | number): string {
  const text = String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
