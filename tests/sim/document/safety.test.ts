import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readyBoards } from '#sim/board/index.ts';
import { computeDocument, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

const examples = join(import.meta.dirname, '../../../worked-examples');
const texts = readdirSync(examples).flatMap((name) =>
  readdirSync(join(examples, name))
    .filter((file) => file.endsWith('.tt.json'))
    .map((file) => [name, readFileSync(join(examples, name, file), 'utf8')] as const),
);

const RUNS = new Set(['trace', 'fates', 'reading']);

function boardOf(boards: object, board: string, links: readonly object[] = []) {
  const { dangers, cautions } = resultOf(
    computed(documentOf(boards, [{ id: 'b', kind: 'board', board }], { links })),
    'b',
    'board',
  );
  return { dangers: dangers.map(plain), cautions: cautions.map(plain) };
}

describe('dangers of a board', () => {
  test.each([...readyBoards.keys()])('are none on the ready board %s', (ready) => {
    expect(boardOf({ b: { ready } }, 'b').dangers).toEqual([]);
  });

  test('are none on the worked examples, but for the one that shows what a missing diode does', () => {
    // None is skipped unnoticed.
    expect(texts.length).toBeGreaterThanOrEqual(4);
    const found = texts.flatMap(([name, text]) => {
      const { document } = parseDocument(text);
      if (document === undefined) throw new Error(name);
      const boards = Object.keys(document.boards);
      const page = boards.map((board, index) => ({ id: `b${index}`, kind: 'board', board }));
      const results = computed({ ...document, page });
      return page.flatMap(({ id, board }) =>
        resultOf(results, id, 'board').dangers.map((each) => `${name} ${board}: ${plain(each)}`),
      );
    });
    expect(found).toEqual([
      '12-points-motor saved: Y1: nothing takes over the current of its winding when it is switched off. The kick, which is not computed, damages what switches it: put a diode across it, cathode at motor.',
    ]);
  });

  test('are none in the runs of the worked examples', () => {
    const found = texts.flatMap(([name, text]) => {
      const { document } = parseDocument(text);
      if (document === undefined) throw new Error(name);
      // Only what is one run: a map or a sweep is hundreds of them.
      const cells = document.page as { readonly id: string; readonly kind: string }[];
      const only = cells.filter(({ kind }) => RUNS.has(kind)).map(({ id }) => id);
      const { results } = computeDocument(document, { columns: 20, only });
      expect(Object.keys(results)).toEqual(only);
      return Object.values(results).flatMap((result) => {
        if (!result.ok || (result.kind !== 'trace' && result.kind !== 'fates' && result.kind !== 'reading')) return [];
        return [...result.faults.map(({ sentence }) => sentence), ...result.cautions].map((each) => `${name}: ${each}`);
      });
    });
    expect(found).toEqual([]);
  }, 20_000);

  test('agree with the faults of a run', () => {
    const boards = { b: { ready: 'astable', values: { 'U1.family': 'cmos' } } };
    // (12 - 1.7) V / (200 + 680 + 10) ohm
    expect(boardOf(boards, 'b').dangers).toEqual([
      'U1: the output would have to give about 11.6 mA through R3 and D1, above the 10 mA of a timer of the family cmos. Put more resistance into what it feeds.',
    ]);
    const cell = { id: 'n', kind: 'reading', board: 'b', until: '3 s', take: { high: 'peak(out)' } };
    const { faults } = resultOf(computed(documentOf(boards, [cell])), 'n', 'reading');
    expect(faults.map(({ part, what }) => [part, what])).toEqual([['U1', 'output-gives']]);
  });

  test('are among its cautions', () => {
    const { dangers, cautions } = boardOf({ b: { ready: 'monostable', values: { R3: '100 Ω', BT1: '18 V' } } }, 'b');
    expect(dangers).toEqual([
      'U1: the supply reaches 18 V, above the 16 V that a timer of the family bipolar bears.',
      // (18 - 1.3 - 2.1) V / (4 + 100 + 10) ohm
      'D1: an LED always needs a current-limiting path; as joined here about 130 mA may flow, above the limit of 20 mA (20 mA unless stated).',
      'R3 may turn about 1.64 W into heat (rating not stated, 0.25 W used).',
    ]);
    expect(cautions).toEqual(expect.arrayContaining(dangers));
    expect(cautions.length).toBeGreaterThan(dangers.length + 2);
  });

  test('name a reversed supply before anything else', () => {
    expect(boardOf({ b: { ready: 'astable', values: { BT1: '-12 V' } } }, 'b').dangers[0]).toBe(
      'U1: the supply is reversed, which destroys a timer.',
    );
  });

  test('look across links, and name only the own parts', () => {
    const feeder = {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'lamp', resistance: '220 Ω', rating: '1 W' },
      ],
    };
    const lamp = {
      parts: [
        { name: 'R1', kind: 'resistor', a: 'lamp', b: 'ground', resistance: '10 kΩ' },
        { name: 'D1', kind: 'led', a: 'lamp', b: 'ground' },
      ],
    };
    const boards = { feeder, lamp };
    const links = [{ a: 'feeder.lamp', b: 'lamp.lamp' }];
    expect(boardOf(boards, 'lamp').dangers).toEqual([]);
    // (12 - 1.7) V / (220 + 10) ohm
    expect(boardOf(boards, 'lamp', links).dangers).toEqual([
      expect.stringMatching(/^D1: an LED always needs .* about 45 mA/),
    ]);
    expect(boardOf(boards, 'feeder', links).dangers).toEqual([]);
  });

  test('say by the rule of thumb that the lamps of an astable flash too fast', () => {
    // 1.44 / ((10 kΩ + 2 · 68 kΩ) · 1 µF) = 9.86 Hz
    const { dangers } = boardOf({ b: { ready: 'astable', values: { C1: '1 µF' } } }, 'b');
    expect(dangers).toEqual([
      'By the rule of thumb the lamps flash 9.86 times a second: lamps that flash 3 to 60 times a second can set off fits in people who are sensitive to it. Make them slower than that, or warn those who watch.',
    ]);
    // 986 Hz: it looks steady.
    expect(boardOf({ b: { ready: 'astable', values: { C1: '10 nF' } } }, 'b').dangers).toEqual([]);
  });
});

describe('cautions of a run', () => {
  const lampOn = (wave: object) => ({
    parts: [
      { name: 'G1', kind: 'signal', plus: 'x', minus: 'ground', wave },
      { name: 'R1', kind: 'resistor', a: 'x', b: 'lamp', resistance: 1000 },
      { name: 'D1', kind: 'led', a: 'lamp', b: 'ground' },
    ],
  });
  const square = (frequency: unknown) => ({ shape: 'square', frequency, high: 5, low: 0 });
  const told = (board: object, window: object = { until: '2 s' }, net = 'x') => {
    const cells = [
      { id: 'n', kind: 'reading', board: 'b', ...window, take: { level: `peak(${net})` } },
      { id: 't', kind: 'trace', board: 'b', ...window, show: [net] },
    ];
    const results = computed(documentOf({ b: board }, cells));
    const found = resultOf(results, 'n', 'reading').cautions.map(plain);
    expect(resultOf(results, 't', 'trace').cautions.map(plain)).toEqual(found);
    return found;
  };
  const fast = (times: string, from: string) => `D1 flashes ${times} times a second, from ${from} on.`;
  const warning =
    'Lamps that flash 3 to 60 times a second can set off fits in people who are sensitive to it: make these slower, or warn those who watch.';

  test.each<[string, string]>([
    ['3 Hz', '3'],
    ['10 Hz', '10'],
    ['60 Hz', '60'],
  ])('name a lamp that flashes at %s', (frequency, times) => {
    expect(told(lampOn(square(frequency)))).toEqual([warning, fast(times, '0 s')]);
  });

  test.each(['2.9 Hz', '61 Hz'])('are silent about a lamp that flashes at %s', (frequency) => {
    expect(told(lampOn(square(frequency)), { until: '4 s' })).toEqual([]);
  });

  test('count within the window, and say since when', () => {
    const burst = { shape: 'pulses', period: 0.1, width: 0.05, rest: 0, pulse: 5, delay: 1, count: 4 };
    expect(told(lampOn(burst))).toEqual([warning, fast('10', '1.00 s')]);
    expect(told(lampOn(burst), { from: '1.5 s', until: '3 s' })).toEqual([]);
    expect(told(lampOn(burst), { until: '1.15 s' })).toEqual([]);
  });

  test('need two flashes after the first: a lamp that goes off and on once does not flash', () => {
    const twice = { shape: 'pulses', period: 0.1, width: 0.05, rest: 0, pulse: 5, delay: 1, count: 2 };
    expect(told(lampOn(twice))).toEqual([]);
  });

  test('give the slowest and the fastest of a lamp that changes its pace', () => {
    const points = [0, 0.1, 0.2, 0.4, 0.6].flatMap((at) => [
      [at, 5],
      [at + 0.05, 0],
    ]);
    expect(told(lampOn({ shape: 'points', between: 'steps', points }))).toEqual([warning, fast('5 to 10', '0 s')]);
  });

  test('name the lamps of an astable, in the run of it', () => {
    const [, first, second] = told(
      { ready: 'astable', values: { C1: '1 µF', 'U1.family': 'ideal' } },
      { from: '1 s', until: '2 s' },
      'out',
    ).concat(['']);
    expect(first).toMatch(/^D1 flashes 9\.88 times a second/);
    expect(second).toMatch(/^D2 flashes 9\.88 times a second/);
  });
});
