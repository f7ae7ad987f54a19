import { describe, expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import type { Window } from '#sim/measure/context.ts';
import { faultSentence } from '#sim/measure/fault-words.ts';
import { type FaultObserver, faultObserver } from '#sim/measure/faults.ts';
import type { FaultCode } from '#sim/trace/event.ts';
import { plain } from '../../support/circuit-issues.ts';
import { type MadeStep, play } from '../../support/made-run.ts';

// Lengths and counts are those of the stretches that each test states.

const circuit = {
  nets: [],
  parts: [
    { name: 'D1', kind: 'led', nets: {}, values: { limit: 0.02 } },
    { name: 'R1', kind: 'resistor', nets: {}, values: { resistance: 100 } },
    { name: 'SP1', kind: 'solenoid', nets: {}, values: { longest: 0.5 } },
  ],
} as unknown as Circuit;

/** A part goes beyond a limit, or comes back. */
function turn(
  phase: 'over' | 'clear',
  more: { part?: string; what?: FaultCode; pin?: string; limit?: number } = {},
): MadeStep {
  const { part = 'D1', what = 'over-current', pin, limit = 0.02 } = more;
  return { event: { part, kind: 'fault', limit, fault: { what, phase, ...(pin === undefined ? {} : { pin }) } } };
}

const pass = (length: number): MadeStep => ({ length, signals: {} });

function watch(
  steps: readonly MadeStep[],
  { window = { from: 0, until: 100 }, prefix = '' }: { window?: Window; prefix?: string } = {},
): FaultObserver {
  const observer = faultObserver(circuit, window, prefix);
  play({ nets: [], steps }, observer);
  return observer;
}

describe('faultObserver()', () => {
  test('counts stretches, keeps the longest, and tells the first', () => {
    const steps = [
      pass(1),
      turn('over'),
      pass(0.5),
      turn('clear'),
      pass(1),
      turn('over'),
      pass(2),
      turn('clear'),
      pass(1),
    ];
    const [row] = watch(steps).result();
    expect(row).toMatchObject({ part: 'D1', what: 'over-current', first: 1, count: 2, longest: 2, lasting: false });
    expect(row).not.toHaveProperty('pin');
    expect(plain(row!.sentence)).toBe(
      'D1 carried more than its limit of 20.0 mA, 2 times, first at 1.00 s, for up to 2.00 s.',
    );
  });

  test('a shorter stretch later does not shorten the longest', () => {
    const steps = [turn('over'), pass(2), turn('clear'), pass(1), turn('over'), pass(0.5), turn('clear'), pass(1)];
    expect(watch(steps).result()).toMatchObject([{ count: 2, longest: 2 }]);
  });

  test('one that lasts to the end, and one that came and went once', () => {
    const lasting = watch([pass(1), turn('over'), pass(0.5)]).result();
    expect(lasting).toMatchObject([{ first: 1, count: 1, longest: 0.5, lasting: true }]);
    expect(plain(lasting[0]!.sentence)).toMatch(/, from 1\.00 s to the end\.$/);
    const once = watch([pass(1), turn('over'), pass(0.5), turn('clear'), pass(1)]).result();
    expect(plain(once[0]!.sentence)).toMatch(/, once, at 1\.00 s for 500 ms\.$/);
  });

  test('stretches without length do not count', () => {
    expect(watch([pass(1), turn('over'), turn('clear'), pass(1)]).result()).toEqual([]);
    const steps = [turn('over'), pass(1), turn('clear'), turn('over'), turn('clear'), pass(1)];
    expect(watch(steps).result()).toMatchObject([{ count: 1, longest: 1, lasting: false }]);
  });

  test('only what lies in the window counts', () => {
    const steps = [turn('over'), pass(2), turn('clear'), pass(2), turn('over'), pass(2), turn('clear'), pass(1)];
    expect(watch(steps, { window: { from: 1.5, until: 4.25 } }).result()).toMatchObject([
      { first: 1.5, count: 2, longest: 0.5 },
    ]);
    expect(watch(steps, { window: { from: 2, until: 4 } }).result()).toEqual([]);
  });

  test('coming back from what it never saw begin is nothing', () => {
    expect(watch([pass(1), turn('clear'), pass(1)]).result()).toEqual([]);
  });

  test('other events are nothing', () => {
    const other: MadeStep = { event: { part: 'D1', kind: 'close' } };
    const bare: MadeStep = { event: { part: 'D1', kind: 'fault' } };
    expect(watch([other, bare, pass(1)]).result()).toEqual([]);
  });

  test('each limit of each part, and each pin, has a row of its own', () => {
    const steps = [
      turn('over', { part: 'U1', what: 'pin-high', pin: 'trigger', limit: 0.3 }),
      turn('over', { part: 'U1', what: 'pin-high', pin: 'reset', limit: 0.3 }),
      turn('over', { part: 'U1', what: 'pin-low', pin: 'reset', limit: -0.3 }),
      turn('over'),
      pass(1),
    ];
    expect(
      watch(steps)
        .result()
        .map(({ part, what, pin }) => [part, what, pin]),
    ).toEqual([
      ['U1', 'pin-high', 'trigger'],
      ['U1', 'pin-high', 'reset'],
      ['U1', 'pin-low', 'reset'],
      ['D1', 'over-current', undefined],
    ]);
  });

  test('a limit that has changed is told as it was passed last', () => {
    const steps = [
      turn('over', { limit: 0.02 }),
      pass(1),
      turn('clear'),
      pass(1),
      turn('over', { limit: 0.03 }),
      pass(1),
      turn('clear'),
    ];
    expect(plain(watch(steps).result()[0]!.sentence)).toContain('more than its limit of 30.0 mA, 2 times');
  });

  test('only parts with the prefix are told, without it', () => {
    const steps = [turn('over', { part: 'b.D1' }), turn('over', { part: 'a.D1' }), pass(1)];
    expect(
      watch(steps, { prefix: 'b.' })
        .result()
        .map(({ part }) => part),
    ).toEqual(['D1']);
  });

  test('soFar() of a run that stands: what is beyond its limit lasts, and goes on to be counted', () => {
    const observer = faultObserver(circuit, { from: 0, until: 100 });
    const at = (time: number) => ({ part: 'D1', kind: 'fault' as const, time, timeLow: 0, limit: 0.02 });
    observer.event!({ ...at(1), fault: { what: 'over-current', phase: 'over' } });
    expect(observer.soFar(3)).toMatchObject([{ first: 1, count: 1, longest: 2, lasting: true }]);
    expect(plain(observer.soFar(3)[0]!.sentence)).toMatch(/, from 1\.00 s on\.$/);
    observer.event!({ ...at(5), fault: { what: 'over-current', phase: 'clear' } });
    observer.event!({ ...at(6), fault: { what: 'over-current', phase: 'over' } });
    expect(observer.soFar(7)).toMatchObject([{ first: 1, count: 2, longest: 4, lasting: true }]);
    expect(plain(observer.soFar(7)[0]!.sentence)).toMatch(/, 2 times, first at 1\.00 s, and now\.$/);
  });

  test('a circuit that changes is asked for its part when the limit is passed', () => {
    let resistance = 100;
    const changing = () => ({ nets: [], parts: [{ name: 'R1', kind: 'resistor', nets: {}, values: { resistance } }] });
    const observer = faultObserver(changing, { from: 0, until: 100 });
    const at = (time: number, limit: number, phase: 'over' | 'clear') =>
      observer.event!({ part: 'R1', kind: 'fault', time, timeLow: 0, limit, fault: { what: 'over-power', phase } });
    at(0, 5, 'over');
    // 5 V across 100 ohm are 250 mW, and 10 V across 1 kohm 100 mW.
    expect(plain(observer.soFar(1)[0]!.sentence)).toContain('more than 250 mW at a time');
    at(1, 5, 'clear');
    resistance = 1000;
    at(2, 10, 'over');
    expect(plain(observer.soFar(3)[0]!.sentence)).toContain('more than 100 mW at a time');
  });
});

describe('faultSentence()', () => {
  const row = { part: 'X', first: 1, count: 1, longest: 1, lasting: true };

  test.each<[FaultCode, number, string]>([
    ['reverse-voltage', -5, 'X was the wrong way round by more than 5.00 V'],
    ['over-voltage', 16, 'X was above its rating of 16.0 V'],
    ['over-current', 0.02, 'X carried more than its limit of 20.0 mA'],
    ['on-too-long', 0, 'X was on for longer than the 500 ms that it bears'],
    ['over-power', 5, 'X took more than 250 mW at a time (used until a rating is stated)'],
    ['supply-low', 4.5, 'The supply of X was below the 4.50 V that it needs'],
    ['supply-high', 16, 'The supply of X was above the 16.0 V that it bears'],
    ['output-gives', 0.2, 'The output of X gave more than the 200 mA that it is made for'],
    ['output-takes', 0.2, 'The output of X took more than the 200 mA that it is made for'],
    ['pin-high', 0.3, 'The input of X was more than 300 mV above its supply'],
    ['pin-low', -0.3, 'The input of X was more than 300 mV below its ground'],
  ])('%s', (what, limit, words) => {
    const part = { name: 'X', kind: 'any', nets: {}, values: { longest: 0.5, resistance: 100 } };
    expect(plain(faultSentence({ ...row, what }, limit, part))).toBe(`${words}, from 1.00 s to the end.`);
    expect(plain(faultSentence({ ...row, what }, limit, part, true))).toBe(`${words}, from 1.00 s on.`);
  });

  test('names the pin where there is one, and a stated rating', () => {
    expect(plain(faultSentence({ ...row, what: 'pin-high', pin: 'reset' }, 0.3, undefined))).toContain(
      'The reset of X',
    );
    const rated = { name: 'X', kind: 'any', nets: {}, values: { resistance: 100, rating: 0.25 } };
    expect(plain(faultSentence({ ...row, what: 'over-power' }, 5, rated))).toContain('250 mW at a time (its rating)');
  });
});
