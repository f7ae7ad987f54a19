import { captureColumns } from '#sim/capture/capture-head.ts';
import { describe, expect, test } from 'vitest';

describe('captureColumns(text)', () => {
  test('tells titles, names, units and the first row', () => {
    expect(captureColumns('# lamp\ntime [ms];timing_V;CH2\n0,5;1,25;7\n1,0;1,50;7\n')).toEqual([
      { position: 1, title: 'time [ms]', name: 'time', unit: 's', first: '0,5' },
      { position: 2, title: 'timing_V', name: 'timing', unit: 'V', first: '1,25' },
      { position: 3, title: 'CH2', name: 'CH2', unit: null, first: '7' },
    ]);
  });

  test('takes units from a row of their own, and numbers columns without titles', () => {
    const units = captureColumns('x,CH1\nsecond,Volt\n0,1\n1,2\n');
    expect(units?.map(({ name, unit }) => [name, unit])).toEqual([
      ['x', 's'],
      ['CH1', 'V'],
    ]);
    const bare = captureColumns('0\t1\t2\n1\t1\t2\n');
    expect(bare?.map(({ position, title, unit }) => [position, title, unit])).toEqual([
      [1, '', null],
      [2, '', null],
      [3, '', null],
    ]);
  });

  test('is undefined where there is no row of numbers', () => {
    expect(captureColumns('')).toBeUndefined();
    expect(captureColumns('one,two\nthree,four\n')).toBeUndefined();
  });
});
