import { readWave } from '#sim/signal/read-wave.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

/** What is wrong with a wave, each as path and message. */
function faultsOf(input: unknown): string[] {
  const read = readWave(input);
  if (read.ok) return [];
  return [read, ...(read.others ?? [])].map(({ path = '', message }) => plain(`${path} ${message}`.trim()));
}

const pulses = { shape: 'pulses', period: 1, width: 0.1, rest: 5, pulse: 0 };
const square = { shape: 'square', frequency: 2, high: 5, low: 0 };
const points = {
  shape: 'points',
  points: [
    [0, 0],
    [1, 5],
  ],
  between: 'lines',
};

const pulsesExample = '{ "shape": "pulses", "period": "150 ms", "width": "8 ms", "rest": "12 V", "pulse": "0 V" }';
const squareExample = '{ "shape": "square", "frequency": "2 Hz", "high": "6 V", "low": "0 V" }';
const sineExample = '{ "shape": "sine", "frequency": "50 Hz", "amplitude": "2 V", "offset": "3 V" }';
const pointsExample = '{ "shape": "points", "points": [[0, 0], ["2 s", "6 V"]], "between": "lines" }';

describe('readWave(input) gives', () => {
  test.each<[unknown, unknown]>([
    [
      { shape: 'constant', level: '5 V' },
      { shape: 'constant', level: 5 },
    ],
    [
      { shape: 'pulses', period: '150 ms', width: '8 ms', rest: '12 V', pulse: '0 V' },
      { shape: 'pulses', period: 0.15, width: 0.008, rest: 12, pulse: 0, delay: 0, count: Infinity },
    ],
    [
      { ...pulses, delay: '1 s', count: 3 },
      { shape: 'pulses', period: 1, width: 0.1, rest: 5, pulse: 0, delay: 1, count: 3 },
    ],
    [
      { ...pulses, count: 'endless' },
      { ...pulses, delay: 0, count: Infinity },
    ],
    [
      { ...pulses, count: Infinity },
      { ...pulses, delay: 0, count: Infinity },
    ],
    [
      { ...pulses, width: 1 },
      { ...pulses, width: 1, delay: 0, count: Infinity },
    ],
    [
      { shape: 'square', frequency: '2 Hz', high: '6 V', low: '0 V' },
      { shape: 'square', frequency: 2, duty: 0.5, high: 6, low: 0, delay: 0 },
    ],
    [
      { shape: 'sine', frequency: '50 Hz', amplitude: '2 V', offset: '3 V' },
      { shape: 'sine', frequency: 50, amplitude: 2, offset: 3, phase: 0 },
    ],
    [
      { ...square, duty: '25 %', delay: 2 },
      { ...square, duty: 0.25, delay: 2 },
    ],
    [
      {
        shape: 'points',
        points: [
          ['-1 s', '1 V'],
          [0, 2],
          [0, 3],
          ['2 ms', '350 mV'],
        ],
        between: 'steps',
      },
      {
        shape: 'points',
        points: [
          [-1, 1],
          [0, 2],
          [0, 3],
          [0.002, 0.35],
        ],
        between: 'steps',
      },
    ],
    [
      { ...points, points: [[0, 7]] },
      { shape: 'points', points: [[0, 7]], between: 'lines' },
    ],
  ])('for %j the wave %j', (input, wave) => {
    expect(readWave(input)).toEqual({ ok: true, value: wave });
  });
});

describe('readWave(input) refuses', () => {
  const range = 'Choose a value in that range.';
  test.each<[unknown, string[]]>([
    [
      undefined,
      ['must be an object with a shape; got nothing. Write for example { "shape": "constant", "level": "5 V" }.'],
    ],
    ['5 V', ['must be an object with a shape; got "5 V". Write for example { "shape": "constant", "level": "5 V" }.']],
    [
      [],
      [
        'must be an object with a shape; got a list or an object. Write for example { "shape": "constant", "level": "5 V" }.',
      ],
    ],
    [{}, ['.shape must be one of constant, pulses, square, sine, points; got nothing. Choose one of these.']],
    [
      { shape: 'wave' },
      ['.shape must be one of constant, pulses, square, sine, points; got "wave". Choose one of these.'],
    ],
    [
      { shape: 'sine', frequency: 0, amplitude: -1, phase: '1 V' },
      [
        `.frequency must be above 0 Hz; got 0 Hz. ${range}`,
        `.amplitude must be at least 0 V; got −1 V. ${range}`,
        `.offset must be given; got nothing. Write for example ${sineExample}.`,
        '.phase must be an angle; got "1 V", a voltage. Write for example 1.5 rad or 250 mrad.',
      ],
    ],
    [
      { shape: 'pulse' },
      ['.shape must be one of constant, pulses, square, sine, points; got "pulse". Did you mean pulses?'],
    ],
    [
      { shape: 'constructor' },
      ['.shape must be one of constant, pulses, square, sine, points; got "constructor". Choose one of these.'],
    ],
    [
      { shape: 'constant' },
      ['.level must be given; got nothing. Write for example { "shape": "constant", "level": "5 V" }.'],
    ],
    [
      { shape: 'constant', level: '5 ms' },
      ['.level must be a voltage; got "5 ms", a time. Write for example 5 V or 350 mV.'],
    ],
    [
      { shape: 'constant', level: NaN },
      ['.level must be a voltage; got not a number (NaN). Write for example 5 V or 350 mV.'],
    ],
    [
      { shape: 'constant', level: 1, period: 2 },
      ['must have no other fields than shape, level; got "period". Take it out.'],
    ],
    [{ ...pulses, period: 0 }, [`.period must be above 0 s; got 0 s. ${range}`]],
    [{ ...pulses, period: '-150 ms' }, [`.period must be above 0 s; got −150 ms. ${range}`]],
    [{ ...pulses, width: 0 }, [`.width must be above 0 s; got 0 s. ${range}`]],
    [
      { ...pulses, width: 2 },
      ['.width must be at most the period of 1 s; got 2 s. Make it shorter, or the period longer.'],
    ],
    [{ ...pulses, delay: -1 }, [`.delay must be at least 0 s; got −1 s. ${range}`]],
    [
      { ...pulses, count: 2.5 },
      ['.count must be a whole number of pulses, at least 0; got 2.5. Write for example 3 or "endless".'],
    ],
    [
      { ...pulses, count: -1 },
      ['.count must be a whole number of pulses, at least 0; got -1. Write for example 3 or "endless".'],
    ],
    [
      { ...pulses, count: '3' },
      ['.count must be a whole number of pulses, at least 0; got "3". Write for example 3 or "endless".'],
    ],
    [
      { ...pulses, foo: 1 },
      ['must have no other fields than shape, period, width, rest, pulse, delay, count; got "foo". Take it out.'],
    ],
    [
      { ...pulses, widht: 1 },
      [
        'must have no other fields than shape, period, width, rest, pulse, delay, count; got "widht". Did you mean width?',
      ],
    ],
    [
      { shape: 'pulses', period: 0, width: '1 V' },
      [
        `.period must be above 0 s; got 0 s. ${range}`,
        '.width must be a time; got "1 V", a voltage. Write for example 2 s or 150 ms.',
        `.rest must be given; got nothing. Write for example ${pulsesExample}.`,
        `.pulse must be given; got nothing. Write for example ${pulsesExample}.`,
      ],
    ],
    [{ ...square, frequency: 0 }, [`.frequency must be above 0 Hz; got 0 Hz. ${range}`]],
    [{ ...square, duty: 0 }, [`.duty must be above 0 % and below 100 %; got 0 %. ${range}`]],
    [{ ...square, duty: 1 }, [`.duty must be above 0 % and below 100 %; got 100 %. ${range}`]],
    [{ ...square, duty: '120 %' }, [`.duty must be above 0 % and below 100 %; got 120 %. ${range}`]],
    [{ ...square, high: undefined }, [`.high must be given; got nothing. Write for example ${squareExample}.`]],
    [{ ...points, between: undefined }, [`.between must be given; got nothing. Write for example ${pointsExample}.`]],
    [{ ...points, between: 'line' }, ['.between must be one of lines, steps; got "line". Did you mean lines?']],
    [
      { ...points, points: {} },
      ['.points must be a list; got a list or an object. Write for example [[0, 0], ["2 s", "6 V"]].'],
    ],
    [
      { ...points, points: [] },
      ['.points must have at least one point; got an empty list. Write for example [[0, 0], ["2 s", "6 V"]].'],
    ],
    [{ ...points, points: [5] }, ['.points[0] must be a time and a voltage; got 5. Write for example ["2 s", "6 V"].']],
    [
      { ...points, points: [[0, 1, 2]] },
      ['.points[0] must be a time and a voltage; got a list of 3. Write for example ["2 s", "6 V"].'],
    ],
    [
      {
        ...points,
        points: [
          [0, 1],
          ['1 V', '2 s'],
        ],
      },
      [
        '.points[1][0] must be a time; got "1 V", a voltage. Write for example 2 s or 150 ms.',
        '.points[1][1] must be a voltage; got "2 s", a time. Write for example 5 V or 350 mV.',
      ],
    ],
    [
      {
        ...points,
        points: [
          [0, 1],
          [1, Infinity],
        ],
      },
      ['.points[1][1] must be a voltage; got infinity. Write for example 5 V or 350 mV.'],
    ],
    [
      {
        ...points,
        points: [
          [0, 1],
          [2, 1],
          [1, 1],
        ],
      },
      ['.points[2][0] must not be before the point ahead of it, at 2 s; got 1 s. Put the points in order of time.'],
    ],
    [
      {
        ...points,
        points: [
          [0, 1],
          [1, 1],
          [1, 2],
          [1, 3],
        ],
      },
      [
        '.points[3][0] must be the time of at most two points; got 1 s a third time. Two points make a jump; take the others out.',
      ],
    ],
  ])('%j', (input, messages) => {
    expect(faultsOf(input)).toEqual(messages);
  });

  test('more than 100000 points, without looking at each', () => {
    const list = Array.from({ length: 100_001 }, (_, index) => [index, 0]);
    expect(faultsOf({ ...points, points: list })).toEqual([
      '.points must have at most 100000 entries; got 100001. Take some out.',
    ]);
    expect(faultsOf({ ...points, points: list.slice(1) })).toEqual([]);
  });

  test('a long list of bad points with 20 faults or a few more, not all', () => {
    const bad = Array.from({ length: 50_000 }, () => ['x', 'y']);
    expect(faultsOf({ ...points, points: bad }).length).toBeLessThan(25);
    const backwards = Array.from({ length: 50_000 }, (_, index) => [-index, 0]);
    expect(faultsOf({ ...points, points: backwards })).toHaveLength(20);
  });
});
