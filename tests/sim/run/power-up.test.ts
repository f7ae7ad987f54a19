import { compareStarts, OutputHistory, otherStart, powerUpRace, raceWords } from '#sim/run/power-up.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, resultOf } from '../../support/documents.ts';
import { boardOf, type FilePart } from '../../support/run-board.ts';
import { astable, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

const [ohms, farads] = [100e3, 1e-6];
const idle = signal('G1', 'in', { shape: 'constant', level: 9 });

function compared(parts: readonly FilePart[], until: number) {
  const { circuit } = boardOf(parts);
  const [cleared, set] = [new OutputHistory(), new OutputHistory()];
  runCircuit(circuit, { until, observers: [cleared] });
  runCircuit(otherStart(circuit)!, { until, observers: [set] });
  return compareStarts(circuit, cleared, set, until);
}

function undecided(start = 'both'): FilePart[] {
  return [...monostable({ voltage: 9, resistance: ohms, capacitance: farads, ofTimer: { start } }), idle];
}

describe('both starts of a timer', () => {
  test('a monostable set at the start runs one interval from an empty capacitor: alike after R C ln 3', () => {
    const { alikeFrom, timers, sentence } = compared(undecided(), 1);
    expect(Math.abs(alikeFrom! / (ohms * farads * Math.log(3)) - 1)).toBeLessThanOrEqual(1e-12);
    expect(timers).toEqual(['U1']);
    expect(plain(sentence)).toBe(
      'With U1 cleared or set at the start, both end alike after 110 ms; until then the output of U1 differs.',
    );
  });

  test('a free-running timer starts from its empty capacitor whatever its latch held', () => {
    const parts = astable({ voltage: 9, first: 10e3, second: 10e3, capacitance: 1e-6, ofTimer: { start: 'both' } });
    expect(compared(parts, 1)).toMatchObject({ alikeFrom: 0, timers: [] });
  });

  test('a latch that nothing drives keeps its start for good', () => {
    const parts = [
      supply(9),
      timer('U1', { trigger: 'rail', threshold: 'ground', output: 'out' }, { start: 'both' }),
      resistor('R1', 'out', 'ground', 1e3),
    ];
    const { alikeFrom, sentence } = compared(parts, 1);
    expect(alikeFrom).toBeNull();
    expect(plain(sentence)).toContain('does not come to the same by 1.00 s: the output of U1 still differs.');
  });

  test('two flashers out of step are not alike because they happen to stand alike at the end', () => {
    // The capacitor starts between the limits, so the latch decides which way it goes first.
    const parts = astable({ voltage: 9, first: 10e3, second: 10e3, capacitance: 1e-6, ofTimer: { start: 'both' } });
    const half = parts.map((part) => (part.kind === 'capacitor' ? { ...part, initial: 4.5 } : part));
    for (const until of [0.5, 0.503, 0.507, 0.512]) expect(compared(half, until).alikeFrom).toBeNull();
  });

  test('a timer whose start is stated has no other start', () => {
    for (const start of ['cleared', 'set']) expect(otherStart(boardOf(undecided(start)).circuit)).toBeUndefined();
  });
});

describe('a race at power-up', () => {
  /** Each output is the other's trigger: whoever sets first keeps the other from it. */
  const crossed = (delay: number): FilePart[] => [
    supply(9),
    timer('U1', { trigger: 'b', threshold: 'ground', output: 'a' }, { with: { delay: 0 } }),
    timer('U2', { trigger: 'a', threshold: 'ground', output: 'b' }, { with: { delay } }),
    resistor('R1', 'a', 'ground', 1e4),
    resistor('R2', 'b', 'ground', 1e4),
  ];

  test('is found where the order of settling decides', () => {
    expect(powerUpRace(boardOf(crossed(0)).circuit)).toEqual(['U1', 'U2']);
    expect(raceWords(['U1', 'U2'])).toContain('At power-up U1 and U2 race');
    expect(raceWords([])).toBeUndefined();
  });

  test('is none for a single timer, or for timers that do not meet', () => {
    expect(powerUpRace(boardOf(undecided('cleared')).circuit)).toEqual([]);
    const apart = [
      supply(9),
      timer('U1', { trigger: 'ground', threshold: 'ground', output: 'a' }),
      timer('U2', { trigger: 'rail', threshold: 'ground', output: 'b' }),
    ];
    expect(powerUpRace(boardOf(apart).circuit)).toEqual([]);
  });
});

test('a rail that no supply holds without resistance lets timers meet as well', () => {
  // With 1 Ω behind it, each output that goes high lowers the rail for the other; here too little to decide anything.
  const parts = [
    supply(9, { resistance: 1 }),
    timer('U1', { trigger: 'ground', threshold: 'ground', output: 'a' }),
    timer('U2', { trigger: 'ground', threshold: 'ground', output: 'b' }),
    resistor('R1', 'a', 'ground', 100),
    resistor('R2', 'b', 'ground', 100),
  ];
  expect(powerUpRace(boardOf(parts).circuit)).toEqual([]);
});

describe('in a document', () => {
  const page = [
    { id: 'numbers', kind: 'reading', board: 'lamp', until: '1 s', take: { count: 'count(out)', top: 'peak(out)' } },
    { id: 'look', kind: 'trace', board: 'lamp', until: '1 s', show: ['out'] },
  ];

  test('every cell that runs says what both starts come to, readings what differs', () => {
    const results = computed(documentOf({ lamp: { parts: undecided() } }, page));
    const { powerUp, values } = resultOf(results, 'numbers', 'reading');
    expect(values).toMatchObject({ count: 0, top: 0 });
    expect(powerUp?.map(plain)).toEqual([
      'With U1 cleared or set at the start, both end alike after 110 ms; until then the output of U1 differs.',
      'Set at the start it reads: count 1 instead of 0, top 9.00 V instead of 0 V.',
    ]);
    expect(resultOf(results, 'look', 'trace').powerUp).toHaveLength(1);
  });

  test('tells of a list only that it is another one', () => {
    const free = astable({ voltage: 9, first: 10e3, second: 10e3, capacitance: 1e-6, ofTimer: { start: 'both' } });
    const half = free.map((part) => (part.kind === 'capacitor' ? { ...part, initial: 4.5 } : part));
    const lists = [{ id: 'numbers', kind: 'reading', board: 'flasher', until: '1 s', take: { all: 'edges(out)' } }];
    const { powerUp } = resultOf(computed(documentOf({ flasher: { parts: half } }, lists)), 'numbers', 'reading');
    expect(powerUp?.[1]).toBe('Set at the start it reads: another list in all.');
  });

  test('a stated start says nothing about it', () => {
    const results = computed(documentOf({ lamp: { parts: undecided('cleared') } }, page));
    expect(resultOf(results, 'numbers', 'reading')).not.toHaveProperty('powerUp');
  });
});
