import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lampRows } from '../support/lamp-capture.ts';

const file = join(import.meta.dirname, '../../worked-examples/10-lamp-on-the-bench/lamp-on-the-bench.tt.json');

test('the measurement of the lamp on the bench is the one made from its seed', () => {
  const { page } = JSON.parse(readFileSync(file, 'utf8')) as { page: { id: string; data?: string }[] };
  const { data = '' } = page.find(({ id }) => id === 'bench') ?? {};
  // Computed numbers are rounded to 10 mV: on another machine a last digit may come out on the other side.
  const [found, made] = [data, lampRows()].map((text) => text.split('\n'));
  expect(found?.slice(0, 2)).toEqual(made?.slice(0, 2));
  expect(found).toHaveLength(made?.length ?? 0);
  for (const [index, row] of (made ?? []).slice(2).entries()) {
    const wanted = row.split(',').map(Number);
    const got = (found?.[index + 2] ?? '').split(',').map(Number);
    for (const [column, value] of wanted.entries()) expect(Math.abs(value - (got[column] ?? NaN))).toBeLessThan(0.0101);
  }
});
