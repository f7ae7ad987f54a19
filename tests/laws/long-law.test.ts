import { describe, expect, test } from 'vitest';
import { toldOf } from '../support/long-law.ts';

/** A predicate that fails from a number on, each case taking a second; and what is said of it. */
function telling(failing: number): { lines: string[]; told: (drawn: number) => void; tried: number[] } {
  const lines: string[] = [];
  const tried: number[] = [];
  let clock = 0;
  const predicate = (drawn: number): void => {
    tried.push(drawn);
    clock++;
    if (drawn >= failing) throw new Error(`${drawn} is too much`);
  };
  const told = toldOf(predicate, { name: 'numbers', runs: 500, spent: () => clock, say: (line) => lines.push(line) });
  return { lines, told, tried };
}

describe('toldOf', () => {
  test('says every half minute of processor time how far a law is', () => {
    const { lines, told } = telling(Infinity);
    for (let k = 0; k < 100; k++) told(k);
    expect(lines).toEqual(['numbers: 30 of 500', 'numbers: 60 of 500', 'numbers: 90 of 500']);
  });

  test('says the first failure at once, with its case, and stops looking for simpler ones after a minute', () => {
    const { lines, told, tried } = telling(7);
    for (let k = 0; k < 7; k++) told(k);
    expect(() => told(9)).toThrow('9 is too much');
    expect(lines).toEqual(['numbers: failed after 7 of 500: Error: 9 is too much\n9']);
    for (let second = 0; second < 60; second++) expect(() => told(8)).toThrow('8 is too much');
    expect(() => told(8)).toThrow();
    const before = tried.length;
    expect(() => told(8)).not.toThrow();
    expect(tried).toHaveLength(before);
    expect(lines).toHaveLength(1);
  });
});
