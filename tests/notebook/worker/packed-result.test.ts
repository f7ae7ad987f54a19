import { memoryOf, packedResult, unpackedResult } from '#notebook/worker/packed-result.ts';
import { computeDocument } from '#sim/document/compute-document.ts';
import { parseDocument } from '#sim/document/parse-document.ts';
import type { CellResult, PulseRow, TraceResult } from '#sim/document/results.ts';
import { describe, expect, test } from 'vitest';

/** The axle counter's board: a pulse each 150 ms, of which some start an interval and the others are ignored. */
function axles(until: string, sentences: boolean): TraceResult {
  const { document } = parseDocument(
    JSON.stringify({
      format: 'two-thirds',
      version: 1,
      boards: { coaches: { ready: 'frequency divider', values: { R1: '100 kΩ', C1: '4.7 µF' } } },
      page: [{ id: 'look', kind: 'trace', board: 'coaches', until, show: ['in', 'timing', 'out'] }],
    }),
  );
  if (document === undefined) throw new Error('the document must be usable');
  const { look } = computeDocument(document, { columns: 300, sentences }).results;
  if (look?.kind !== 'trace' || !look.ok) throw new Error(JSON.stringify(look));
  return look;
}

/** Sends a result as threads do: what is handed over is gone on this side. */
function sent(result: CellResult): CellResult {
  const packed = packedResult(result);
  return unpackedResult(structuredClone(packed, { transfer: memoryOf(packed) as ArrayBuffer[] }));
}

describe('packedResult', () => {
  test('brings a trace across as it was, with its sentences where it has them', () => {
    for (const sentences of [false, true]) {
      const trace = axles('3 s', sentences);
      expect(trace.timers[0]?.pulses.length).toBeGreaterThan(10);
      expect(trace.timers[0]?.pulses.every(({ reason }) => (reason !== '') === sentences)).toBe(true);
      expect(sent(trace)).toEqual(trace);
    }
  });

  test('brings every field of a pulse across, and leaves out what a row does not have', () => {
    const trace = axles('3 s', false);
    const whole: Required<PulseRow> = {
      ...{ time: 1, end: null, fate: 'barred', reason: 'RESET kept it from acting.', open: true },
      ...{ heldFor: 0, threshold: -0.5, limit: 8, toGo: 1e-9, interval: 0.5 },
    };
    const bare: PulseRow = { time: 0, end: 2, fate: 'short', reason: '' };
    const [timer] = trace.timers;
    if (timer === undefined) throw new Error('the board must have a timer');
    const timers = [{ ...timer, pulses: [whole, bare], intervals: [{ from: 0, until: null }] }];
    const made: TraceResult = { ...trace, timers };
    expect(sent(made)).toEqual(made);
  });

  test('hands the lists of a long trace over: what has to be copied does not grow with the run', () => {
    // Whatever is no memory is copied as text would be; a run fifty times as long has the same lanes and fifty times the rows.
    const copied = (trace: TraceResult): number => JSON.stringify(packedResult(trace), withoutMemory).length;
    const [short, long] = [axles('3 s', false), axles('150 s', false)];
    expect(long.timers[0]?.pulses.length).toBe(1000);
    expect(JSON.stringify(long).length).toBeGreaterThan(10 * copied(long));
    expect(copied(long)).toBeLessThan(1.1 * copied(short));
  });

  test('leaves every other result as it is', () => {
    const note: CellResult = { kind: 'note', ok: true, quotes: {} };
    expect(packedResult(note)).toBe(note);
    expect(memoryOf(packedResult(note))).toEqual([]);
    const stopped: CellResult = { kind: 'trace', ok: false, error: { message: 'stopped', where: 'look' } };
    expect(sent(stopped)).toEqual(stopped);
  });
});

function withoutMemory(_: string, value: unknown): unknown {
  return ArrayBuffer.isView(value) ? undefined : value;
}
