import { changes, presses } from '#sim/circuit/schedule-fields.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

function faultsOf(read: ReturnType<ReturnType<typeof presses>>): string[] {
  if (read.ok) return [];
  return [read, ...(read.others ?? [])].map(({ path = '', message }) => plain(`${path} ${message}`.trim()));
}

describe('presses()', () => {
  test('reads times in any writing', () => {
    expect(presses()([])).toEqual({ ok: true, value: [] });
    expect(
      presses()([
        { at: 0, for: '200 ms' },
        { at: '1 s', for: 2 },
      ]),
    ).toEqual({
      ok: true,
      value: [
        { at: 0, for: 0.2 },
        { at: 1, for: 2 },
      ],
    });
  });

  test.each<[unknown, string[]]>([
    [
      { at: 1, for: 1 },
      ['must be a list; got a list or an object. Write for example [{ "at": "1 s", "for": "200 ms" }].'],
    ],
    [[7], ['[0] must be an object with at, for; got 7. Write for example { "at": "1 s", "for": "200 ms" }.']],
    [
      [{}],
      [
        '[0].at must be given; got nothing. Write for example { "at": "1 s", "for": "200 ms" }.',
        '[0].for must be given; got nothing. Write for example { "at": "1 s", "for": "200 ms" }.',
      ],
    ],
    [[{ at: -1, for: 1 }], ['[0].at must be at least 0 s; got −1 s. Choose a value in that range.']],
    [[{ at: 1, for: 0 }], ['[0].for must be above 0 s; got 0 s. Choose a value in that range.']],
    [[{ at: 1, for: 1, hard: true }], ['[0] must have no other fields than at, for; got "hard". Take it out.']],
    [
      [
        { at: 1, for: 2 },
        { at: 2, for: 1 },
      ],
      [
        '[1].at must begin after the one before it has ended; got 2 s, while that end is at 3 s. Put the list in order of time.',
      ],
    ],
    [
      [
        { at: 5, for: 1 },
        { at: 2, for: 1 },
      ],
      [
        '[1].at must begin after the one before it has ended; got 2 s, while that end is at 6 s. Put the list in order of time.',
      ],
    ],
    [
      [
        { at: 1, for: 1 },
        { at: 2, for: 1 },
      ],
      [
        '[1].at must begin after the one before it has ended; got 2 s, while that end is at 2 s. Put the list in order of time.',
      ],
    ],
  ])('refuses %j', (input, messages) => {
    expect(faultsOf(presses()(input))).toEqual(messages);
  });

  test('refuses more than 100000 entries, and shows at most 20 faults of a list', () => {
    const many = Array.from({ length: 100_001 }, (_, index) => ({ at: 2 * index, for: 1 }));
    expect(faultsOf(presses()(many))).toEqual(['must have at most 100000 entries; got 100001. Take some out.']);
    expect(faultsOf(presses()(many.slice(1)))).toEqual([]);
    expect(faultsOf(presses()(many.slice(1).reverse()))).toHaveLength(20);
  });
});

describe('changes()', () => {
  test('reads steps and ramps', () => {
    expect(
      changes()([
        { at: '1 s', voltage: '9 V' },
        { at: 2, voltage: 6, over: '100 ms' },
      ]),
    ).toEqual({
      ok: true,
      value: [
        { at: 1, voltage: 9, over: 0 },
        { at: 2, voltage: 6, over: 0.1 },
      ],
    });
  });

  test.each<[unknown, string[]]>([
    [
      [{ at: 1 }],
      [
        '[0].voltage must be given; got nothing. Write for example { "at": "2 s", "voltage": "9 V", "over": "100 ms" }.',
      ],
    ],
    [[{ at: 1, voltage: 1, over: -1 }], ['[0].over must be at least 0 s; got −1 s. Choose a value in that range.']],
    [
      [
        { at: 1, voltage: 1, over: 2 },
        { at: 2, voltage: 1 },
      ],
      [
        '[1].at must come after the one before it is done; got 2 s, while that end is at 3 s. Put the list in order of time.',
      ],
    ],
    [
      [
        { at: 1, voltage: 1 },
        { at: 1, voltage: 2 },
      ],
      [
        '[1].at must come after the one before it is done; got 1 s, while that end is at 1 s. Put the list in order of time.',
      ],
    ],
  ])('refuses %j', (input, messages) => {
    expect(faultsOf(changes()(input))).toEqual(messages);
  });
});
