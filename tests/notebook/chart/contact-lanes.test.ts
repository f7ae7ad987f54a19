import { cursorState, eventTimes } from '#notebook/chart/cursor.ts';
import { eventRows } from '#notebook/chart/event-rows.ts';
import { cursorWords } from '#notebook/chart/words.ts';
import { cellSvg } from '#sim/chart/cell-svg.ts';
import { traceScene } from '#sim/chart/trace-scene.ts';
import { cellCsv, type TraceResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

/** The points motor's relay, worked by a button that closes for 100 ms and by a finger on a plate. */
const points = {
  parts: [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
    { name: 'S1', kind: 'button', a: 'rail', b: 'coil', presses: [{ at: '100 ms', for: '100 ms' }] },
    {
      name: 'K1',
      kind: 'relay',
      a: 'coil',
      b: 'ground',
      common: 'rail',
      normallyOpen: 'up',
      normallyClosed: 'down',
      voltage: '12 V',
      resistance: '360 Ω',
      operateTime: '8 ms',
      releaseTime: '15 ms',
    },
    { name: 'D1', kind: 'diode', a: 'ground', b: 'coil' },
    { name: 'R1', kind: 'resistor', a: 'up', b: 'ground', resistance: '1 kΩ' },
    { name: 'R2', kind: 'resistor', a: 'down', b: 'ground', resistance: '1 kΩ' },
    { name: 'R3', kind: 'resistor', a: 'rail', b: 'plate', resistance: '10 MΩ' },
    { name: 'F1', kind: 'finger', a: 'plate', touches: [{ at: '250 ms', for: '20 ms' }] },
  ],
};
const show = ['contact(S1)', 'contact(K1)', 'contact(K1.normallyClosed)', 'contact(F1)', 'up'];
const look = { id: 'look', kind: 'trace', board: 'points', until: '300 ms', show };

function traced(more: object = {}): TraceResult {
  return resultOf(computed(documentOf({ points }, [{ ...look, ...more }])), 'look', 'trace');
}

const trace = traced();
/** Edges as text, to a microsecond: the times of a document are decimal fractions. */
const edges = (name: string, of = trace): string[] =>
  (of.contacts?.[name] ?? []).map(({ time, to }) => `${Number(time.toFixed(6))} ${to}`);

describe('a trace of contacts', () => {
  test('has the edges of presses and touches as the document plans them', () => {
    expect(edges('contact(S1)')).toEqual(['0.1 closed', '0.2 open']);
    expect(edges('contact(F1)')).toEqual(['0.25 closed', '0.27 open']);
  });

  test('has those of a relay after its operate and release time, the break contact the other way round', () => {
    // 8 ms after the winding was switched on, 15 ms after it was switched off, as the document states.
    expect(edges('contact(K1)')).toEqual(['0.108 closed', '0.215 open']);
    expect(edges('contact(K1.normallyClosed)')).toEqual(['0.108 open', '0.215 closed']);
    expect(trace.lanes[2]?.first[0]).toBe(1);
  });

  test('has lanes without a unit beside those of nets, in the order asked for', () => {
    expect(trace.lanes.map((lane) => [lane.show, lane.role, lane.unit])).toEqual([
      ['contact(S1)', 'contact', null],
      ['contact(K1)', 'contact', null],
      ['contact(K1.normallyClosed)', 'contact', null],
      ['contact(F1)', 'contact', null],
      ['up', 'logic', 'V'],
    ]);
  });

  test('finds contacts of boards that are linked, by the name of their board', () => {
    const links = [{ a: 'points.up', b: 'lamp.in' }];
    const lamp = { parts: [{ name: 'R1', kind: 'resistor', a: 'in', b: 'ground', resistance: '1 kΩ' }] };
    const cells = [
      look,
      { id: 'other', kind: 'trace', board: 'lamp', until: '300 ms', show: ['contact(points.K1)', 'in'] },
    ];
    const results = computed(documentOf({ points, lamp }, cells, { links }));
    expect(edges('contact(K1)', resultOf(results, 'look', 'trace'))).toEqual(['0.108 closed', '0.215 open']);
    expect(edges('contact(points.K1)', resultOf(results, 'other', 'trace'))).toEqual(['0.108 closed', '0.215 open']);
  });

  test('is written as CSV: 1 and 0 in columns, closed and open among the edges', () => {
    const [columns, listed] = cellCsv('look', trace);
    expect(columns?.text.split('\r\n')[0]).toContain(
      'contact(K1)_first,contact(K1)_last,contact(K1)_low,contact(K1)_high',
    );
    expect(listed?.text).toMatch(/^0\.108\d*,contact\(K1\),closed\r$/m);
  });

  test('is drawn as bands with their length, and named in the picture and its description', () => {
    const lane = traceScene(trace, 900).lanes.find((each) => each.kind === 'contact' && each.show === 'contact(K1)');
    if (lane?.kind !== 'contact') throw new Error('there must be a contact lane');
    expect(lane.bars.map(({ label }) => label?.replace('\u202f', ' '))).toEqual(['107 ms']);
    const svg = cellSvg(trace) ?? '';
    expect(svg).toContain('contact of K1');
    expect(svg).toContain('filled: closed');
  });

  test('is drawn from columns where not every edge is listed', () => {
    const cut = { ...trace, cut: true, contacts: { 'contact(K1)': [] } };
    const lane = traceScene(cut, 900).lanes.find((each) => each.kind === 'contact' && each.show === 'contact(K1)');
    if (lane?.kind !== 'contact') throw new Error('there must be a contact lane');
    expect(lane.bars.length).toBeGreaterThan(0);
  });
});

describe('a cursor in a trace of contacts', () => {
  const at = (time: number): Record<string, string> =>
    Object.fromEntries(cursorState(trace, time).lanes.map((lane) => [lane.show, lane.text]));

  test('says which are closed, from the very instant on', () => {
    const [closes = 0] = (trace.contacts?.['contact(K1)'] ?? []).map(({ time }) => time);
    expect(at(0.05)).toMatchObject({ 'contact(S1)': 'open', 'contact(K1.normallyClosed)': 'closed' });
    expect(at(closes)['contact(K1)']).toBe('closed');
    expect(at(closes - 1e-6)['contact(K1)']).toBe('open');
    expect(cursorWords(cursorState(trace, 0.15))).toContain('contact of K1 closed');
  });

  test('says how a contact stands that nothing happens to', () => {
    expect(
      cursorState(traced({ until: '50 ms' }), 0.02)
        .lanes.map(({ text }) => text)
        .slice(0, 3),
    ).toEqual(['open', 'open', 'closed']);
  });

  test('guesses nothing where edges are not all listed and a column holds both', () => {
    const [lane] = trace.lanes;
    if (lane === undefined) throw new Error('there must be a lane');
    const mixed = { ...lane, first: [0], last: [0], low: [0], high: [1] };
    expect(cursorState({ ...trace, lanes: [mixed], contacts: {}, cut: true }, 0.1).lanes[0]?.text).toBe('…');
  });

  test('stops at every edge, and the table tells of it', () => {
    const [closes = 0] = (trace.contacts?.['contact(K1)'] ?? []).map(({ time }) => time);
    expect(eventTimes(trace)).toContain(closes);
    const row = eventRows(trace).rows.find(({ time }) => time === closes);
    expect(row?.what).toContain('contact of K1 closes');
    expect(row?.what).toContain('K1 break contact opens');
    expect(row?.values.slice(0, 3)).toEqual(['closed', 'closed', 'open']);
  });

  test('knows at an exact instant what of hands conducts, bounces included', () => {
    const parts = points.parts.map((part) => (part.name === 'S1' ? { ...part, bounce: { for: '5 ms' } } : part));
    const bouncing = documentOf({ points: { parts } }, [look]);
    const moves = resultOf(computed(bouncing), 'look', 'trace').contacts?.['contact(S1)'] ?? [];
    const off = moves.find(({ to, time }) => to === 'open' && time < 0.15)?.time ?? NaN;
    const [row] = resultOf(computed(bouncing, { instants: [off] }), 'look', 'trace').instants ?? [];
    expect(row?.closed).toEqual([]);
    const [later] = resultOf(computed(bouncing, { instants: [0.15] }), 'look', 'trace').instants ?? [];
    expect(later?.closed).toEqual(['S1']);
  });
});
