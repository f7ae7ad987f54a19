import { loadPoint } from '#notebook/edit/load-point.ts';
import { withValue } from '#notebook/edit/path.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { isStudyCell, studySignature } from '#notebook/runtime/study-cells.ts';
import { describe, expect, test } from 'vitest';

const document = {
  boards: {
    drawer: { ready: 'frequency divider', values: { R1: '2 kΩ', C1: '220 µF' } },
    lamp: { ready: 'astable' },
  },
  page: [
    {
      id: 'regions',
      kind: 'map',
      board: 'drawer',
      until: '3 s',
      x: { value: 'R1', from: '1 kΩ', to: '2 kΩ' },
      y: { value: 'G1.wave.period', from: '100 ms', to: '200 ms' },
      take: { ratio: 'ratio(out, in)' },
    },
    { id: 'look', kind: 'trace', board: 'drawer', until: '3 s', show: ['out'] },
  ],
};

function signature(of: typeof document): string {
  const [cell] = cellsOf(of);
  if (cell === undefined) throw new Error('the page must have a cell');
  return studySignature(of, cell);
}

describe('isStudyCell', () => {
  test('tells cells of many runs from those of one', () => {
    expect(cellsOf(document).map(isStudyCell)).toEqual([true, false]);
  });
});

describe('studySignature', () => {
  const set = (name: string, unit: 'Ω' | 's' | 'F', value: number, of = document): typeof document => {
    const edit = loadPoint(of, 'drawer', [{ name, unit, value }]);
    if (edit === undefined) throw new Error('the value must exist');
    return withValue(of, edit.path, edit.value) as typeof document;
  };

  test('does not depend on what the board has for the values that the study goes through', () => {
    expect(signature(set('R1', 'Ω', 1500))).toBe(signature(document));
    const once = set('G1.wave.period', 's', 0.17);
    expect(signature(set('G1.wave.period', 's', 0.18, once))).toBe(signature(once));
    expect(signature(once)).toBe(signature(document));
  });

  test('depends on every other value of the board, and on the cell', () => {
    expect(signature(set('C1', 'F', 1e-4))).not.toBe(signature(document));
    expect(signature(withValue(document, ['page', 0, 'until'], '4 s') as typeof document)).not.toBe(
      signature(document),
    );
  });

  test('of a kit does not depend on what the board has where parts are plugged in, nor one of symptoms on what was seen', () => {
    const own = (cell: object): typeof document => ({ ...document, page: [cell] }) as unknown as typeof document;
    const kit = own({ id: 'kit', kind: 'swaps', board: 'drawer', parts: { R1: ['1 kΩ', '2 kΩ'] }, take: {} });
    expect(signature(set('R1', 'Ω', 1500, kit))).toBe(signature(kit));
    expect(signature(set('C1', 'F', 1e-4, kit))).not.toBe(signature(kit));
    const faults = { id: 'faults', kind: 'symptoms', board: 'drawer', take: { width: 'width(out)' } };
    expect(signature(own({ ...faults, seen: { width: '1 s' } }))).toBe(signature(own(faults)));
  });

  test('does not depend on other boards unless boards are linked', () => {
    const other = withValue(document, ['boards', 'lamp', 'values'], { R1: '1 kΩ' }) as typeof document;
    expect(signature(other)).toBe(signature(document));
    const linked = (of: object): typeof document => ({ ...of, links: [] }) as unknown as typeof document;
    expect(signature(linked(other))).not.toBe(signature(linked(document)));
  });
});
