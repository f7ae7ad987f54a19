import { computeDocument, parseDocument, type TraceResult } from '#sim/document/index.ts';
import {
  DETAIL_CELL,
  detailDocument,
  type DetailRequest,
  instantRequest,
  windowRequest,
} from '#notebook/runtime/detail.ts';
import { expect, test } from 'vitest';

const boards = {
  counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } },
  second: { ready: 'frequency divider' },
};
const look = {
  id: 'look',
  kind: 'trace',
  board: 'counter',
  until: '6 s',
  show: ['in', 'timing', 'out', 'current(R1)'],
};
const page = { format: 'two-thirds', version: 1, title: 'Test', boards, page: [look] };

function traceOf(
  document: unknown,
  id: string,
  options: { columns: number; instants?: readonly number[] },
): TraceResult {
  const parsed = parseDocument(JSON.stringify(document));
  if (parsed.document === undefined) throw new Error(parsed.unusable?.message);
  const result = computeDocument(parsed.document, options).results[id];
  if (result?.ok !== true || result.kind !== 'trace') throw new Error(JSON.stringify(result));
  return result;
}

function detailOf(document: typeof page & { links?: unknown }, request: DetailRequest): TraceResult {
  const { columns, instants } = request;
  return traceOf(detailDocument(JSON.parse(JSON.stringify(document)), request), DETAIL_CELL, { columns, instants });
}

test('a window in detail is exactly what the whole run has there, however coarse the whole was drawn', () => {
  const whole = traceOf(page, 'look', { columns: 4 });
  const fine = traceOf(page, 'look', { columns: 600 });
  // The seconds from 2 to 3 are columns 200 to 299 of 600 over 6 s.
  const detail = detailOf(page, windowRequest(whole, { from: 2, until: 3 }, 100));
  expect([detail.from, detail.until, detail.columns]).toEqual([2, 3, 100]);
  detail.lanes.forEach((lane, index) => {
    const part = fine.lanes[index]?.high.slice(200, 300) ?? [];
    // Both evaluate the same solutions; borders of columns are rounded differently.
    lane.high.forEach((value, column) => expect(value).toBeCloseTo(part[column] ?? NaN, 9));
  });
});

test('the state at instants is exact, and the run goes no further than the last of them', () => {
  const whole = traceOf(page, 'look', { columns: 4 });
  const request = instantRequest(whole, [0.2, 0, 5]);
  expect(request.until - 5).toBeLessThan(1e-9);
  const rows = detailOf(page, request).instants ?? [];
  expect(rows.map(({ time }) => time)).toEqual([0, 0.2, 5]);
  // Charging since the pulse at 0.1 s through 68 kΩ into 4.7 µF from 0 V towards 12 V: closed form.
  expect(rows[1]?.nets['timing']).toBeCloseTo(12 * (1 - Math.exp(-0.1 / (68e3 * 4.7e-6))), 9);
});

test('the interval that runs at an instant is listed, however many came before', () => {
  const whole = traceOf(page, 'look', { columns: 4 });
  // The last of the intervals of 351 ms that begin every 450 ms, from 0.1 s on: 5.95 s.
  const { timers } = detailOf(page, instantRequest(whole, [5.96]));
  expect(timers[0]?.intervals.map(({ from }) => Math.round(from * 1e6) / 1e6)).toEqual([5.95]);
});

test('links between boards are part of the detail', () => {
  const linked = { ...page, links: [{ a: 'counter.out', b: 'second.control' }] };
  const whole = traceOf(linked, 'look', { columns: 4 });
  const row = detailOf(linked, instantRequest(whole, [0.2])).instants?.[0];
  expect(row?.nets['out']).toBe(row?.nets['second.control']);
});
