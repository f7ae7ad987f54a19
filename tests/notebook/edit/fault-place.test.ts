import { faultPlace } from '#notebook/edit/fault-place.ts';
import { describe, expect, test } from 'vitest';

function found(text: string, complaint: string): string | undefined {
  const place = faultPlace(text, complaint);
  return place === undefined ? undefined : text.slice(place.start, place.end);
}

describe('faultPlace(text, complaint)', () => {
  test('finds the word, number or sign at the character that a complaint names', () => {
    expect(found('1.1 * R1 $ 2', 'must be made of numbers; got "$" at character 10. Remove it.')).toBe('$');
    expect(found('2 * 4K7', 'must write quantities with their unit; got the letter code "4K7" at character 5.')).toBe(
      '4K7',
    );
    expect(found('a.R1 + a.C1', 'must add only what has the same unit; got a.R1 + a.C1 at character 1, which')).toBe(
      'a.R1',
    );
  });

  test('finds the last sign of a text whose end is complained of', () => {
    expect(found('2 * (3 +', 'must close every bracket; got the end at character 9. Add 1 more ).')).toBe('+');
  });

  test('finds what a complaint says it found, by itself and not inside of a longer word', () => {
    expect(
      found('1.1 * R71 * lamp.R7', 'text must name a part of the board (R1, C1); got "R7". Correct the name.'),
    ).toBe('R7');
    expect(found('ratio(outer, out)', 'ratio(outer, out) must name a net of the board; got "out". ')).toBe('out');
    expect(found('ratoi(out, in)', 'must be one of the readings width; got "ratoi". Did you mean ratio?')).toBe(
      'ratoi',
    );
    expect(found('a "b" c', 'must not; got "\\"b\\"". Remove it.')).toBe('"b"');
  });

  test('is all of the text where the complaint names no place in it', () => {
    expect(found('width(out)  ', 'must be short; got 300 characters.')).toBe('width(out)');
    expect(found('width(out)', 'must be; got "something else". Write it.')).toBe('width(out)');
    expect(found('   ', 'must hold an expression; got nothing.')).toBeUndefined();
  });
});
