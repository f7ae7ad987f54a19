import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readyBoards } from '#sim/board/index.ts';
import { MOST_PARTS } from '#sim/circuit/check-circuit.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import {
  CELL_KINDS,
  LISTED_MOST,
  LONGEST_DOCUMENT,
  MOST_LANES,
  MOST_READINGS,
  MOST_SERIES,
  SECTIONS,
} from '#sim/document/index.ts';
import { formulaFunctions, LONGEST_FORMULA } from '#sim/formula/index.ts';
import { readingNames } from '#sim/measure/reading-names.ts';
import { describe, expect, test } from 'vitest';
import { usable } from '../../support/documents.ts';

const page = readFileSync(join(import.meta.dirname, '../../../shared/document-format.md'), 'utf8');

/** Rows of tables whose first cell names a kind. */
function rowOf(kind: string): string {
  const row = page.split('\n').find((line) => new RegExp(`^\\| [^|]*\`${kind}\``).test(line));
  if (row === undefined) throw new Error(`no row for ${kind}`);
  return row;
}

describe('shared/document-format.md', () => {
  test.each([...standardKinds.values()])(
    'names every terminal and field of $kind',
    ({ kind, terminals, fields, netsUnder }) => {
      const row = rowOf(kind);
      const names = [
        ...terminals.map(({ name }) => name),
        ...fields.map(({ name }) => name),
        ...(netsUnder === undefined ? [] : [netsUnder]),
      ];
      expect(names.filter((name) => !row.includes(`\`${name}\``))).toEqual([]);
    },
  );

  test('names every kind of cell, section, reading and ready board', () => {
    for (const kind of CELL_KINDS) expect(rowOf(kind)).not.toBe('');
    for (const section of SECTIONS) expect(page).toContain(`\`${section}\``);
    for (const name of formulaFunctions.keys()) expect(page).toContain(`\`${name}\``);
    for (const board of readyBoards.keys()) expect(page).toContain(`\`${board}\``);
    for (const reading of readingNames) expect(page).toMatch(new RegExp(`\`${reading}\\(`));
  });

  test('states the limits that hold', () => {
    expect(page).toContain(`at most ${LONGEST_DOCUMENT / 1e6} MB`);
    expect(page).toContain(`at most ${MOST_PARTS} parts`);
    expect(page).toContain(`1 to ${MOST_LANES} nets`);
    expect(page).toContain(`1 to ${MOST_READINGS} readings`);
    expect(page).toContain(`at most ${LONGEST_FORMULA} characters`);
    expect(page).toContain(`1 to ${MOST_SERIES} readings`);
    expect(page).toContain(`${LISTED_MOST / 1000} 000 listed pulses`);
  });

  test('begins with a document that can be used', () => {
    const lines = page.split('\n').filter((line) => line.startsWith('    '));
    const end = lines.indexOf('    }');
    expect(usable(JSON.parse(lines.slice(0, end + 1).join('\n'))).page).toHaveLength(2);
  });
});
