import { chosenColumns, lacksUnit, withColumn } from '#notebook/runtime/capture-columns.ts';
import { encodingOf, holdsRows, isMeasurement, rowsFrom, sourceName } from '#notebook/runtime/capture-text.ts';
import { captureColumns } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

function head(text: string) {
  const columns = captureColumns(text);
  if (columns === undefined) throw new Error('the text must have rows');
  return columns;
}

const titled = head('time_s,timing_V,out_V\n0,0.1,10\n1,0.2,10\n');
const bench = head('t;CH1;CH2\n0,0;1,5;2,5\n0,1;1,6;2,6\n');
const nets = ['timing', 'out', 'button'];

describe('chosenColumns', () => {
  test('are told by the titles where the cell names none', () => {
    const { time, nets: found } = chosenColumns(titled, undefined, nets);
    expect(time.position).toBe(1);
    expect([...found].map(([net, { position }]) => [net, position])).toEqual([
      ['timing', 2],
      ['out', 3],
      ['button', undefined],
    ]);
  });

  test('are those that the cell names, by title, position, or both with a unit; then titles tell nothing more', () => {
    const columns = { time: { column: 't', unit: 'ms' }, out: 'ch2' };
    const { time, nets: found } = chosenColumns(bench, columns, nets);
    expect(time).toEqual({ position: 1, unit: 'ms' });
    expect(found.get('out')).toEqual({ position: 3, unit: '' });
    expect(chosenColumns(titled, { out: 3 }, nets).nets.get('timing')?.position).toBeUndefined();
    expect(chosenColumns(bench, { out: 'CH9' }, nets).nets.get('out')?.position).toBeUndefined();
  });
});

describe('withColumn', () => {
  test('writes all that is known, the new choice with its unit', () => {
    const before = chosenColumns(bench, undefined, nets);
    const first = withColumn(bench, before, 'out', { position: 2, unit: 'mV' });
    expect(first).toEqual({ time: 't', out: { column: 'CH1', unit: 'mV' } });
    const then = withColumn(bench, chosenColumns(bench, first, nets), 'time', { position: 1, unit: 'ms' });
    expect(then).toEqual({ time: { column: 't', unit: 'ms' }, out: { column: 'CH1', unit: 'mV' } });
    const none = withColumn(bench, chosenColumns(bench, then, nets), 'out', { position: undefined, unit: '' });
    expect(none).toEqual({ time: { column: 't', unit: 'ms' } });
  });

  test('names columns by position where titles do not tell them apart', () => {
    const twins = head('t_s,CH,CH\n0,1,2\n1,1,2\n');
    expect(withColumn(twins, chosenColumns(twins, undefined, nets), 'out', { position: 3, unit: 'V' })).toEqual({
      time: 't_s',
      out: { column: 3, unit: 'V' },
    });
  });
});

describe('lacksUnit', () => {
  test('asks only where neither the file nor the cell says it', () => {
    expect(lacksUnit(bench, { position: 1, unit: '' })).toBe(true);
    expect(lacksUnit(bench, { position: 1, unit: 'ms' })).toBe(false);
    expect(lacksUnit(titled, { position: 1, unit: '' })).toBe(false);
    expect(lacksUnit(bench, { position: undefined, unit: '' })).toBe(false);
  });
});

describe('where a measurement comes from', () => {
  test('rows in a page keep the name of their file, which readers of CSV pass over', () => {
    const rows = rowsFrom('bench\n7.csv', 't_s,out_V\n0,1\n1,2\n');
    expect(holdsRows(rows)).toBe(true);
    expect(sourceName(rows)).toBe('bench 7.csv');
    expect(head(rows).map(({ name }) => name)).toEqual(['t', 'out']);
  });

  test('a field without line breaks is the name of a file, an empty one none', () => {
    expect([sourceName('lamp.csv'), sourceName(''), sourceName('t,out\n1,2')]).toEqual([
      'lamp.csv',
      undefined,
      undefined,
    ]);
  });

  test('a file is a measurement by its name or its type, a page is none', () => {
    const is = (name: string, type = '') => isMeasurement({ name, type });
    expect([is('a.CSV'), is('a.tsv'), is('a', 'text/csv'), is('a.tt.json'), is('a.json')]).toEqual([
      true,
      true,
      true,
      false,
      false,
    ]);
  });

  test('UTF-16 is known by the mark it begins with (Unicode Standard, section 23.8)', () => {
    expect(encodingOf(new Uint8Array([0xff, 0xfe, 0x41]))).toBe('utf-16le');
    expect(encodingOf(new Uint8Array([0xfe, 0xff]))).toBe('utf-16be');
    expect(encodingOf(new Uint8Array([0x74]))).toBe('utf-8');
  });
});
