import { cellCsv } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { computed, documentOf } from '../../support/documents.ts';

const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } } };
const run = { board: 'counter', until: '1 s' };
const page = [
  { id: 'intro', kind: 'note', text: 'Hello' },
  { id: 'board', kind: 'board', board: 'counter' },
  { id: 'look', kind: 'trace', ...run, show: ['in', 'current(R1)'] },
  { id: 'why', kind: 'fates', ...run },
  {
    id: 'numbers',
    kind: 'reading',
    ...run,
    take: { n: 'count(out)', none: 'first(ground)', all: 'periods(in, fall)', e: 'edges(out)' },
  },
];
const results = computed(documentOf(boards, page), { columns: 4 });

/** Header and number of further rows of every file of a cell. */
function tablesOf(id: string): Record<string, [string, number]> {
  const result = results[id];
  if (result === undefined) throw new Error(id);
  const files = cellCsv(id, result).map(({ name, text }): [string, [string, number]] => {
    expect(text.endsWith('\r\n')).toBe(true);
    const [header = '', ...rows] = text.trimEnd().split('\r\n');
    return [name, [header, rows.length]];
  });
  return Object.fromEntries(files);
}

describe('cellCsv(id, result)', () => {
  test('gives no table for a note', () => {
    expect(tablesOf('intro')).toEqual({});
  });

  test('gives the parts of a board, one row a field', () => {
    expect(tablesOf('board')['board.csv']?.[0]).toBe('part,kind,field,value,unit,given');
  });

  test('gives columns and edges of a trace', () => {
    expect(tablesOf('look')).toEqual({
      'look.csv': [
        'from_s,until_s,in_first_V,in_last_V,in_low_V,in_high_V,current(R1)_first_A,current(R1)_last_A,current(R1)_low_A,current(R1)_high_A',
        4,
      ],
      // The input is high at 0, falls and rises 6 times until 1 s (the last pulse began at 0.85 s); the output rises at
      // 0.1 s, 0.55 s and 1.0 s, which is past the window, and falls once for each.
      'look.edges.csv': ['time_s,net,to', 17],
    });
  });

  test('gives one row for each pulse', () => {
    expect(tablesOf('why')).toEqual({
      'why.csv': ['time_s,end_s,fate,open,interval_s,held_for_s,threshold_V,limit_V,to_go_s,reason', 6],
    });
  });

  test('gives single readings in one table, with the reason where there is none, and every list in its own', () => {
    const tables = tablesOf('numbers');
    expect(tables).toEqual({
      'numbers.csv': ['name,value,unit,reading,reason', 2],
      'numbers.all.csv': ['all_s', 5],
      'numbers.e.csv': ['time_s,to', 4],
    });
    const [single] = cellCsv('numbers', results['numbers']!);
    expect(single?.text).toMatch(/^n,2,,count\(out\),\r$/m);
    expect(single?.text).toMatch(/^none,,s,first\(ground\),"?.+/m);
  });
});
