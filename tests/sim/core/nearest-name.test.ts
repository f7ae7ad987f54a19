import { nearestName } from '#sim/core/nearest-name.ts';
import { describe, expect, test } from 'vitest';

describe('nearestName(word, names)', () => {
  test.each<[string, string[], string | undefined]>([
    ['resitor', ['capacitor', 'resistor'], 'resistor'], // a letter left out
    ['capaciter', ['capacitor', 'resistor'], 'capacitor'], // a letter exchanged
    ['probee', ['probe'], 'probe'], // a letter put in
    ['tiemr', ['timer'], 'timer'], // neighbours swapped
    ['LED', ['diode', 'led'], 'led'], // capitals
    ['trigger', ['trigger', 'triggers'], 'triggers'], // never the word itself
    ['transistor', ['resistor'], undefined], // three slips in ten letters
    ['R1', ['R2', 'R3'], undefined], // short names are no misspellings of each other
    ['', ['a', 'bc'], undefined],
    ['x', [], undefined],
    ['rail', ['rial', 'raill'], 'rial'], // first of equally near ones
  ])('%j among %j is %j', (word, names, nearest) => {
    expect(nearestName(word, names)).toBe(nearest);
  });

  test('does not compare words longer than 40 letters', () => {
    const long = 'a'.repeat(1_000_000);
    expect(nearestName(long, [`${long}b`])).toBeUndefined();
    expect(nearestName('a'.repeat(40), [`${'a'.repeat(39)}b`])).toBe(`${'a'.repeat(39)}b`);
  });
});
