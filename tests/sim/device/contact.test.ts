import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply } from '../../support/timer-circuits.ts';

function contact(kind: string, more: Record<string, unknown>): FilePart {
  return { name: 'S1', kind, a: 'x', b: 'ground', ...more };
}

/** A net pulled up by 1 kohm that a contact pulls down. */
function pulled(part: FilePart, until = 1) {
  return storedRun([supply(9), resistor('R1', 'rail', 'x', 1e3), part], until);
}

const presses = [
  { at: 0.2, for: 0.1 },
  { at: 0.5, for: 0.25 },
];

describe('button and switch', () => {
  for (const kind of ['button', 'switch']) {
    test(`a ${kind} is open but while it is worked`, () => {
      const trace = pulled(contact(kind, { presses }));
      const found = [0.1, 0.25, 0.4, 0.6, 0.9].map((time) => trace.at({ net: 'x' }, time));
      expect(found).toEqual([9, 0, 9, 0, 9]);
      expect(eventsOf(trace, 'S1', 'open', 'close').map(({ time, kind: did }) => [time, did])).toEqual([
        [0.2, 'close'],
        [0.2 + 0.1, 'open'],
        [0.5, 'close'],
        [0.75, 'open'],
      ]);
    });
  }

  test('closed at rest, it opens while it is worked', () => {
    const trace = pulled(contact('button', { presses, closed: true }));
    expect([0.1, 0.25, 0.4].map((time) => trace.at({ net: 'x' }, time))).toEqual([0, 9, 0]);
    expect(eventsOf(trace, 'S1', 'open', 'close')[0]).toMatchObject({ kind: 'open', time: 0.2 });
  });

  test('closed it is its resistance, and its current flows from a to b', () => {
    const trace = pulled(contact('switch', { closed: true, resistance: 125 }));
    expect(errorOf(trace.at({ net: 'x' }, 0.5), 1)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'S1' }, 0.5), 8e-3)).toBeLessThanOrEqual(1e-12);
  });

  test('worked from the start, it is closed at 0', () => {
    const trace = pulled(contact('button', { presses: [{ at: 0, for: 0.1 }] }));
    expect(trace.at({ net: 'x' }, 0)).toBe(0);
    expect(trace.at({ net: 'x' }, 0.2)).toBe(9);
  });

  test('empties a capacitor through its resistance, in an instant without', () => {
    const across = (resistance: number): FilePart[] => [
      supply(9),
      resistor('R1', 'rail', 'x', 1e9),
      capacitor('C1', 'x', 'ground', 1e-6, { initial: 6 }),
      contact('button', { presses: [{ at: 0.1, for: 0.1 }], resistance }),
    ];
    const at = (resistance: number, time: number): number => storedRun(across(resistance), 0.2).at({ net: 'x' }, time);
    expect(at(0, 0.1)).toBe(0);
    expect(at(1e3, 0.102) / at(1e3, 0.1)).toBeCloseTo(Math.exp(-2), 5);
  });
});

describe('jumper', () => {
  test('is closed until stated, and open while it is taken out', () => {
    const trace = pulled(contact('jumper', { presses }));
    expect([0.1, 0.25, 0.4, 0.6].map((time) => trace.at({ net: 'x' }, time))).toEqual([0, 9, 0, 9]);
  });

  test('a net that hangs on an open one alone keeps its voltage', () => {
    const parts: FilePart[] = [
      supply(9),
      resistor('R1', 'rail', 'x', 1e3),
      { name: 'J1', kind: 'jumper', a: 'x', b: 'y', presses: [{ at: 0.2, for: 0.5 }] },
      { name: 'J2', kind: 'jumper', a: 'x', b: 'ground', closed: false, presses: [{ at: 0.3, for: 0.1 }] },
      { name: 'J3', kind: 'jumper', a: 'y', b: 'z' },
    ];
    const trace = storedRun(parts, 1);
    expect([0.1, 0.35, 0.6, 0.8].map((time) => trace.at({ net: 'y' }, time))).toEqual([9, 9, 9, 9]);
    expect([0.1, 0.35, 0.6].map((time) => trace.at({ net: 'x' }, time))).toEqual([9, 0, 9]);
  });
});
