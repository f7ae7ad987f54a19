import { sortComplaints } from '#notebook/runtime/issues.ts';
import { describe, expect, test } from 'vitest';

const at = (where: string) => ({ where, message: `about ${where}` });

describe('sortComplaints', () => {
  test('puts a complaint at the field its place ends with', () => {
    const { atField, others } = sortComplaints([at('boards.lamp.R1.resistance')], ['R1', 'R1.resistance', 'R1.rating']);
    expect([...atField.keys()]).toEqual(['R1.resistance']);
    expect(others).toEqual([]);
  });

  test('does not take R1 for R10, nor resistance for a longer word', () => {
    const { others } = sortComplaints([at('boards.lamp.R10.resistance')], ['R1', 'R1.resistance']);
    expect(others).toHaveLength(1);
  });

  test('a complaint about the inside of a field goes to the field', () => {
    const { atField } = sortComplaints([at('boards.lamp.S1.presses[0].at')], ['S1', 'S1.presses']);
    expect([...atField.keys()]).toEqual(['S1.presses']);
  });

  test('joins several complaints about one field and leaves what belongs nowhere', () => {
    const { atField, others } = sortComplaints(
      [at('page.look.until'), at('page.look.until'), at('page.look')],
      ['until'],
    );
    expect(atField.get('until')).toBe('about page.look.until about page.look.until');
    expect(others).toEqual([at('page.look')]);
  });
});
