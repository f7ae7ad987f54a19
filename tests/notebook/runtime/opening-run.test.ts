import { openingRun, STRIP, TOLD } from '#notebook/runtime/opening-run.ts';
import { computeCell, type FatesResult, parseDocument, type TraceResult } from '#sim/document/index.ts';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const counter = JSON.parse(
  readFileSync(new URL('../../../worked-examples/01-axle-counter/axle-counter.tt.json', import.meta.url), 'utf8'),
);

test('the axle counter opens with a run of its first board, and its first knob', () => {
  const run = openingRun(counter);
  expect(run?.knob).toBe('R1');
  const { document } = parseDocument(JSON.stringify(run?.document));
  if (document === undefined) throw new Error('the document must be usable');
  const strip = computeCell(document, STRIP) as TraceResult;
  expect(strip).toMatchObject({ ok: true, kind: 'trace', board: 'coaches', until: 2 });
  expect(strip.lanes.map(({ show, role }) => `${show} ${role}`)).toEqual(['in logic', 'out logic']);
  const told = computeCell(document, TOLD) as FatesResult;
  // Of axles 150 ms apart an interval of ln 3 x 100 kohm x 4.7 uF = 516 ms (TI SLFS022I, p. 10: 1.1 R C) swallows three.
  expect(told.counts).toMatchObject({ started: 4, ignored: 9 });
  expect(told.explanation).toContain('the ratio is 4');
});

test('a page without a list of fates, a trace or a knob has no opening run', () => {
  const without = (kind: string): unknown => ({
    ...counter,
    page: counter.page.filter((cell: { kind: string }) => cell.kind !== kind),
  });
  for (const kind of ['fates', 'trace', 'board'])
    expect(openingRun(without(kind) as typeof counter), kind).toBeUndefined();
  expect(openingRun(null)).toBeUndefined();
});
