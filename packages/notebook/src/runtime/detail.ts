import type { TraceResult } from '@two-thirds/sim/document';
import { valueAt } from '../edit/path.ts';
import type { Json, JsonRecord } from '../edit/json.ts';

/** A part of a trace that is wanted anew and exactly: a window in columns, or the state at instants. */
export interface DetailRequest {
  readonly board: string;
  /** The nets and currents, as the trace cell names them. */
  readonly show: readonly string[];
  /** Seconds. */
  readonly from: number;
  readonly until: number;
  readonly columns: number;
  /** Seconds. */
  readonly instants: readonly number[];
}

/** Id of the one cell of a detail document. */
export const DETAIL_CELL = 'detail';

/** How far a run goes on beyond the last instant that is wanted: a share of it, and at least this many seconds. */
const BEYOND = 1e-12;
const LEAST_BEYOND = 1e-15;

/** The request for a window of a trace in columns. */
export function windowRequest(
  trace: TraceResult,
  window: { readonly from: number; readonly until: number },
  columns: number,
): DetailRequest {
  return { ...subjectOf(trace), from: window.from, until: window.until, columns, instants: [] };
}

/**
 * The request for the exact state of a trace's board at instants, at least one. The run goes no further than the last;
 * the window begins with the first, so that the interval which runs then is listed however many came before.
 */
export function instantRequest(trace: TraceResult, instants: readonly number[]): DetailRequest {
  const last = instants.reduce((latest, time) => Math.max(latest, time), 0);
  const until = last + Math.max(last * BEYOND, LEAST_BEYOND);
  const from = instants.reduce((earliest, time) => Math.min(earliest, time), last);
  return { ...subjectOf(trace), from, until, columns: 1, instants };
}

function subjectOf(trace: TraceResult): Pick<DetailRequest, 'board' | 'show'> {
  return { board: trace.board, show: trace.lanes.map((lane) => lane.show) };
}

/** A document that holds nothing but one trace cell over the boards of this one. */
export function detailDocument(document: Json, { board, show, from, until }: DetailRequest): Json {
  return { ...boardsAlone(document), page: [{ id: DETAIL_CELL, kind: 'trace', board, show, from, until }] };
}

/** A document without its page: the boards of this one and their links. */
export function boardsAlone(document: Json): JsonRecord {
  const links = valueAt(document, ['links']);
  return {
    format: valueAt(document, ['format']) ?? null,
    version: valueAt(document, ['version']) ?? null,
    boards: valueAt(document, ['boards']) ?? {},
    ...(links === undefined ? {} : { links }),
    page: [],
  };
}
