import { describe, expect, test } from 'vitest';
import { simulate } from '#sim/run/run.ts';
import { plain } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { resistor, supply } from '../../support/timer-circuits.ts';

/** A contact of the signal box from the net below 1 kΩ to ground, 0 Ω until stated. */
function contact(name: string, more: Record<string, unknown> = {}): FilePart {
  return { name, kind: 'switch', a: 'x', b: 'ground', ...more };
}

const feed = [supply(9), resistor('R1', 'rail', 'x', 1e3)];

function taken(parts: readonly FilePart[], text: string, window?: { from: number; until: number }) {
  const { value, reason } = simulate({ parts: [...feed, ...parts] }, { until: 1 }).read(text, window);
  return { value, reason: reason === undefined ? undefined : plain(reason) };
}

describe('current() of contacts side by side', () => {
  const both = [contact('S1', { closed: true }), contact('S2', { closed: true })];

  test('has no value while they share it without resistance, with the parts named', () => {
    for (const text of ['current(S1)', 'current(S2)', 'peak_current(S1)']) {
      const { value, reason } = taken(both, text);
      expect(value).toBeNull();
      expect(reason).toMatch(/^S[12] and S[12] join the same nets without resistance; how a current divides/);
    }
  });

  test('has its value where resistances divide it: Ohm', () => {
    const parts = [contact('S1', { closed: true, resistance: 1 }), contact('S2', { closed: true, resistance: 2 })];
    const all = 9 / (1000 + 2 / 3);
    expect(taken(parts, 'current(S1)').value).toBeCloseTo((all * 2) / 3, 14);
    expect(taken(parts, 'current(S2)').value).toBeCloseTo(all / 3, 14);
  });

  test('has its value in a window in which they are never closed both, and tells since when it has none', () => {
    const parts = [contact('S1', { closed: true }), contact('S2', { presses: [{ at: 0.5, for: 0.1 }] })];
    expect(taken(parts, 'current(S1)', { from: 0, until: 0.5 }).value).toBeCloseTo(9e-3, 14);
    expect(taken(parts, 'current(S1)', { from: 0.7, until: 1 }).value).toBeCloseTo(9e-3, 14);
    expect(taken(parts, 'current(S2)', { from: 0, until: 0.5 }).value).toBe(0);
    const { value, reason } = taken(parts, 'current(S1)');
    expect(value).toBeNull();
    expect(reason).toContain('S1 and S2 join the same nets without resistance, from 500 ms on;');
    expect(taken(parts, 'current(S1)', { from: 0.55, until: 1 }).reason).toContain('from 550 ms on');
  });

  test('has its value beside a contact that never closes, and of the open one', () => {
    const parts = [contact('S1', { closed: true }), contact('S2')];
    expect(taken(parts, 'current(S1)').value).toBeCloseTo(9e-3, 14);
    expect(taken(parts, 'current(S2)').value).toBe(0);
  });

  test('has no value on a ring of joins, but has one on a join in series with it', () => {
    const parts: FilePart[] = [
      { name: 'J1', kind: 'jumper', a: 'x', b: 'y' },
      { name: 'J2', kind: 'jumper', a: 'y', b: 'z' },
      resistor('R9', 'x', 'z', 0),
      { name: 'J3', kind: 'jumper', a: 'z', b: 'ground' },
    ];
    for (const name of ['J1', 'J2', 'R9']) expect(taken(parts, `current(${name})`).value).toBeNull();
    expect(taken(parts, 'current(R9)').reason).toContain('R9 and J1 and J2 together join');
    expect(taken(parts, 'current(J3)').value).toBeCloseTo(9e-3, 14);
  });

  test('a pot joins its wiper with the end that it is turned to, if nothing is left between them', () => {
    const pot = (position: number, end: number, nets: Record<string, string>): FilePart => ({
      ...{ name: 'P1', kind: 'pot', resistance: 1e3, position, end },
      ...nets,
    });
    const closed = contact('S1', { closed: true });
    const left = { a: 'x', wiper: 'ground', b: 'loose' };
    const right = { a: 'loose', wiper: 'x', b: 'ground' };
    const load = resistor('R8', 'loose', 'ground', 1e3);
    const of = (part: FilePart) => taken([closed, load, part], 'current(S1)');
    expect(of(pot(0, 0, left)).reason).toContain('S1 and P1 join the same nets without resistance');
    expect(of(pot(1, 0, right)).reason).toContain('S1 and P1 join the same nets without resistance');
    for (const [position, end, nets] of [
      [1, 0, left],
      [0, 0, right],
      [0.5, 0, left],
      [0.5, 0, right],
      [0, 5, left],
      [1, 5, right],
    ] as const) {
      expect(of(pot(position, end, nets)).value).toBeCloseTo(9e-3, 14);
    }
  });

  test('the power of each is nothing all the same, and the current of all is that of what feeds them', () => {
    expect(taken(both, 'power(S1)').value).toBe(0);
    expect(taken(both, 'current(R1)').value).toBeCloseTo(9e-3, 14);
  });
});
