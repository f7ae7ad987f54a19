import { beforeEach, describe, expect, test } from 'vitest';
import type { TimerFacts } from '#sim/measure/context.ts';
import { explain } from '#sim/measure/explanation.ts';
import { FateTally } from '#sim/measure/fate-tally.ts';
import { holdWords } from '#sim/measure/hold-words.ts';
import { sharedNetWords, startWords } from '#sim/measure/start-words.ts';
import { stepWords } from '#sim/measure/step-words.ts';
import type { LatestLevels } from '#sim/measure/latest-levels.ts';
import { stuckWords } from '#sim/measure/stuck-words.ts';
import { plain } from '../../support/circuit-issues.ts';
import { madeTimer } from '../../support/made-timer.ts';

// What is said follows from the numbers that each test puts into the tally; quotients of them are worked out beside it.

const timer: TimerFacts = { ...madeTimer, minimumTrigger: 0.002 };
const window = { from: 0, until: 20 };

let tally: FateTally;
beforeEach(() => {
  tally = new FateTally(window);
});

/** Puts values into the ranges of the tally. */
function seen(ranges: Partial<Record<keyof FateTally, readonly number[]>>): void {
  for (const [name, values] of Object.entries(ranges)) {
    for (const value of values) tally[name as 'steps'].add(value);
  }
}

/** So many pulses, of which so many met each fate. */
function pulses(count: number, counts: Partial<FateTally['counts']>): void {
  tally.pulses = count;
  Object.assign(tally.counts, counts);
}

describe('stepWords()', () => {
  const said = (): string => plain(stepWords(tally).join(' '));
  const even = { steps: [3, 3, 3], spacings: [0.5, 0.5, 0.5] };

  test('says nothing without a second start', () => {
    seen({ spacings: [1, 1, 1] });
    expect(stepWords(tally)).toEqual([]);
  });

  test('says nothing of one or two gaps where every pulse started an interval', () => {
    pulses(3, { started: 3 });
    seen({ steps: [1, 1], spacings: [1, 1] });
    expect(stepWords(tally)).toEqual([]);
  });

  test('tells one gap, and two, without a ratio', () => {
    pulses(4, { started: 2, ignored: 2 });
    seen({ steps: [3], spacings: [0.5, 0.6, 0.5] });
    expect(said()).toBe('The second start came 3 pulses after the first.');
    seen({ steps: [3] });
    expect(said()).toBe('Both later starts came 3 pulses after the one before.');
  });

  test('three gaps of evenly spaced pulses are a ratio, three unevenly spaced ones are not', () => {
    seen({ steps: [1, 1, 1], spacings: [0.5, 0.5, 0.5] });
    expect(said()).toBe('Every start after the first came 1 pulse after the one before: the ratio is 1 throughout.');
    seen({ spacings: [0.75] });
    expect(said()).toBe(
      'Every start after the first came 1 pulse after the one before; the pulses came unevenly, 500 ms to 750 ms apart, so no ratio follows from that.',
    );
  });

  test('two gaps between pulses are too few to call them even', () => {
    seen({ steps: [2, 2, 2], spacings: [0.5, 0.5] });
    expect(said()).toContain('the pulses came unevenly, 500 ms apart');
  });

  test('why a ratio: how long an interval is beside the time between pulses', () => {
    seen({ ...even, spans: [1.2, 1.2] });
    expect(said()).toBe(
      'Every start after the first came 3 pulses after the one before: the ratio is 3 throughout. An interval is 2.40 times the 500 ms from pulse to pulse, so 2 further pulses fall inside it and the next one starts an interval again.',
    );
  });

  test('one further pulse, and none', () => {
    seen({ steps: [2, 2, 2], spacings: [0.5, 0.5, 0.5], spans: [0.6] });
    expect(said()).toContain(
      'An interval is 1.20 times the 500 ms from pulse to pulse, so 1 further pulse falls inside',
    );
    tally = new FateTally(window);
    seen({ steps: [1, 1, 1], spacings: [0.5, 0.5, 0.5], spans: [0.3] });
    expect(said()).toContain(
      'An interval is 0.600 times the 500 ms from pulse to pulse, so no further pulse falls inside',
    );
  });

  test('intervals of several lengths give a range of quotients', () => {
    seen({ ...even, spans: [1.1, 1.4] });
    expect(said()).toContain('An interval is 2.20 to 2.80 times the 500 ms');
  });

  test('where pulses held the output on, it is the output that is compared', () => {
    seen({ ...even, spans: [1.2], ownHolds: [0.1] });
    expect(said()).toContain('Each time the output stays on for 1.20 s, which is 2.40 times the 500 ms');
    tally = new FateTally(window);
    seen({ ...even, spans: [1.2], ownHolds: [0.1], otherHolds: [0.1] });
    expect(said()).toContain('Each time the output stays on for');
    tally = new FateTally(window);
    seen({ ...even, spans: [1.2], otherHolds: [0.1] });
    expect(said()).toContain('Each time the output stays on for');
  });

  test('lengths that would give another ratio explain nothing; what was found running is told', () => {
    // 1.6 s / 0.5 s = 3.2: three further pulses, not two; the shorter one would fit.
    seen({ ...even, spans: [1.2, 1.6], found: [2, 2] });
    expect(said()).toBe(
      'Every start after the first came 3 pulses after the one before: the ratio is 3 throughout. In each interval 2 further pulses found it running.',
    );
  });

  test.each([
    ['not always as many', [1, 2]],
    ['as many each time, but not those between two starts', [3, 3]],
    ['none known', []],
  ])('of pulses that found an interval running it says nothing where they were %s', (_, found) => {
    seen({ ...even, found });
    expect(said()).toMatch(/the ratio is 3 throughout\.$/);
  });

  test('one further pulse is one', () => {
    seen({ steps: [2, 2, 2], spacings: [0.5, 0.5, 0.5], found: [1, 1, 1] });
    expect(said()).toMatch(/throughout\. In each interval 1 further pulse found it running\.$/);
  });

  test('a ratio of 1 with nothing found is not called so many further pulses', () => {
    seen({ steps: [1, 1, 1], spacings: [0.5, 0.5, 0.5], found: [0, 0, 0] });
    expect(said()).toMatch(/the ratio is 1 throughout\.$/);
  });

  const uneven = 'pulses, so the ratio is not constant';

  test('numbers of pulses that differ: two neighbours, or a range', () => {
    seen({ steps: [2, 3], spacings: [1, 1], spans: [2, 2] });
    expect(said()).toBe(`From one start to the next there were 2 or 3 ${uneven}.`);
    seen({ steps: [5] });
    expect(said()).toBe(`From one start to the next there were 2 to 5 ${uneven}.`);
  });

  test.each([
    ['barred pulses', { barred: 1 }, 0],
    ['cut intervals', {}, 1],
    ['as many of both', { barred: 1 }, 1],
  ])('RESET is the reason where there were %s', (_, counts, cutByReset) => {
    pulses(5, counts);
    tally.cutByReset = cutByReset;
    seen({ steps: [2, 3], spacings: [1, 2], spans: [2, 3] });
    expect(said()).toBe(`From one start to the next there were 2 or 3 ${uneven}: RESET stepped in between.`);
  });

  test('the pulses are the reason, or the intervals, or both', () => {
    const of = (spacings: number[], spans: number[]): string => {
      tally = new FateTally(window);
      seen({ steps: [2, 3], spacings, spans });
      return said().replace(`From one start to the next there were 2 or 3 ${uneven}: `, '');
    };
    expect(of([1, 2], [3, 3])).toBe(
      'the output stayed on equally long each time, but the pulses came 1.00 s to 2.00 s apart.',
    );
    expect(of([1, 1], [3, 4])).toBe(
      'the pulses came evenly, 1.00 s apart, but the output stayed on for 3.00 s to 4.00 s at a time.',
    );
    expect(of([1, 2], [3, 4])).toBe(
      'the pulses came 1.00 s to 2.00 s apart, and the output stayed on for 3.00 s to 4.00 s at a time.',
    );
  });
});

describe('startWords()', () => {
  const said = (facts: Partial<TimerFacts> = {}): string =>
    plain(startWords(tally, { ...timer, ...facts }).join(' ')).replace('began with THRESHOLD still at ', '');

  test('says nothing where every interval began with THRESHOLD down', () => {
    seen({ otherLengths: [1] });
    expect(startWords(tally, timer)).toEqual([]);
  });

  test('the second of two is named; of more it is said how many', () => {
    tally.intervals = 2;
    seen({ soonVoltages: [2] });
    expect(said()).toBe('The second interval 2.00 V: the capacitor had had no time to empty.');
    tally.intervals = 3;
    expect(said()).toBe('1 of the 3 intervals 2.00 V: the capacitor had had no time to empty.');
    seen({ soonVoltages: [2.5] });
    tally.intervals = 2;
    expect(said()).toBe('2 of the 2 intervals 2.00 V to 2.50 V: the capacitor had had no time to empty.');
  });

  test('only a timer whose DISCHARGE is on the capacitor empties it', () => {
    tally.intervals = 2;
    seen({ soonVoltages: [2] });
    expect(said({ discharge: 'elsewhere' })).toBe('The second interval 2.00 V.');
  });

  test('says that they were shorter only where every one was shorter than every other', () => {
    tally.intervals = 3;
    seen({ soonVoltages: [2], soonLengths: [0.5] });
    expect(said({ discharge: 'elsewhere' })).toBe('1 of the 3 intervals 2.00 V.');
    seen({ otherLengths: [1] });
    expect(said({ discharge: 'elsewhere' })).toBe('1 of the 3 intervals 2.00 V and was shorter.');
    seen({ soonVoltages: [2], soonLengths: [0.75] });
    expect(said({ discharge: 'elsewhere' })).toBe('2 of the 3 intervals 2.00 V and were shorter.');
    // 1 - 1e-7 is the same as 1 in a millionth.
    seen({ soonLengths: [1 - 1e-7] });
    expect(said({ discharge: 'elsewhere' })).toBe('2 of the 3 intervals 2.00 V.');
  });

  test('does not call them shorter where none of them ran out', () => {
    tally.intervals = 2;
    seen({ soonVoltages: [2], otherLengths: [1] });
    expect(said({ discharge: 'elsewhere' })).toBe('The second interval 2.00 V.');
  });
});

describe('sharedNetWords()', () => {
  const said = (): string => plain(sharedNetWords(tally, timer).slice(1).join(' '));

  test('says nothing where nothing started', () => {
    seen({ later: [1] });
    expect(sharedNetWords(tally, timer)).toEqual([]);
  });

  test('says what the net does, and nothing of intervals before one has run out', () => {
    pulses(1, { started: 1 });
    expect(sharedNetWords(tally, timer)).toEqual([
      'TRIGGER and THRESHOLD share the net in: an interval starts whenever that net has fallen to the trigger reference, and ends when it has risen to the limit.',
    ]);
  });

  test('a first interval alone is told with its length', () => {
    pulses(1, { started: 1 });
    tally.firstLength = 2;
    expect(said()).toBe('The first lasted 2.00 s.');
  });

  test('later intervals are told with what they were counted from, the first apart where it was longer from lower', () => {
    pulses(3, { started: 3 });
    Object.assign(tally, { firstLength: 2, firstStart: 0 });
    seen({ later: [1, 1], laterVoltages: [4, 4], laterStarts: [0.5, 0.5] });
    const later = 'The later intervals lasted 1.00 s, counted from 4.00 V.';
    expect(said()).toBe(`${later} The first, which began from a lower voltage, lasted 2.00 s.`);
    tally.firstLength = 1 + 1e-7;
    expect(said()).toBe(later);
    Object.assign(tally, { firstLength: 2, firstStart: 0.5 });
    expect(said()).toBe(later);
    tally.firstStart = undefined;
    expect(said()).toBe(later);
    Object.assign(tally, { firstLength: undefined, firstStart: 0 });
    expect(said()).toBe(later);
  });

  test('a first interval that started lower than one that has not run out is the only one', () => {
    pulses(2, { started: 2 });
    Object.assign(tally, { firstLength: 2, firstStart: 0 });
    seen({ laterVoltages: [4], laterStarts: [0.5] });
    expect(said()).toBe('The first lasted 2.00 s.');
  });

  test('lengths without starts to compare are not compared', () => {
    pulses(2, { started: 2 });
    Object.assign(tally, { firstLength: 2, firstStart: 0 });
    seen({ later: [1], laterVoltages: [4] });
    expect(said()).toBe('The later intervals lasted 1.00 s, counted from 4.00 V.');
  });
});

describe('holdWords()', () => {
  const said = (): string[] => holdWords(tally).map(plain);
  const because = 'because TRIGGER beats THRESHOLD.';
  const copy =
    'Since every pulse outlasts its own interval, the output is on just while the input is low: an inverted copy of it.';

  test('says nothing where no pulse held the output on', () => {
    pulses(1, { started: 1 });
    expect(said()).toEqual([]);
  });

  test('one starter of several, and several', () => {
    pulses(3, { started: 2, ignored: 1 });
    seen({ ownHolds: [0.5] });
    const one =
      '1 pulse that had started an interval was still low when it ran out and held the output on for 500 ms more';
    expect(said()).toEqual([`${one}, ${because}`]);
    seen({ ownHolds: [1] });
    const two =
      '2 pulses that had started an interval were still low when it ran out and held the output on for 500 ms to 1.00 s more';
    expect(said()).toEqual([`${two}, ${because}`]);
  });

  test('the last one may last to the end of the run', () => {
    pulses(3, { started: 2, ignored: 1 });
    const interval = { start: { high: 0, low: 0 }, found: 0 };
    const open = { time: { high: 9, low: 0 }, open: true, accepted: true, reset: false };
    tally.openPulse = { ...open, began: interval, heldFor: 0.5 };
    seen({ ownHolds: [0.5] });
    expect(said()[0]).toContain('for 500 ms more, to the end of the run, because');
    seen({ ownHolds: [0.5] });
    expect(said()[0]).toContain('for 500 ms more, the last of them to the end of the run, because');
    tally.openPulse = { ...open, began: interval };
    expect(said()[0]).toContain('more, because');
    tally.openPulse = { ...open, heldFor: 0.5 };
    expect(said()[0]).toContain('more, because');
  });

  test('an output that copies the input is told where every ended pulse outlasted its own interval', () => {
    pulses(2, { started: 2 });
    seen({ ownHolds: [0.5] });
    expect(said()).toHaveLength(1);
    seen({ ownHolds: [0.5] });
    expect(said()[1]).toBe(copy);
    pulses(3, { started: 3 });
    expect(said()).toHaveLength(1);
    tally.openPulse = { time: { high: 9, low: 0 }, open: true, accepted: true, reset: false };
    expect(said()[1]).toBe(copy);
    pulses(3, { started: 2, ignored: 1 });
    expect(said()).toHaveLength(1);
  });

  test('one pulse that has not ended yet is no copy', () => {
    pulses(1, { started: 1 });
    tally.openPulse = { time: { high: 9, low: 0 }, open: true, accepted: true, reset: false };
    seen({ ownHolds: [0.5] });
    expect(said()).toHaveLength(1);
  });

  test('pulses that found the interval running', () => {
    pulses(3, { started: 2, held: 1 });
    seen({ otherHolds: [0.5] });
    expect(said()).toEqual([
      `1 pulse that had found it running was still low when it ran out and held the output on for 500 ms more, ${because}`,
    ]);
    seen({ otherHolds: [0.5] });
    expect(said()[0]).toMatch(/^2 pulses that had found it running were still low/);
  });
});

describe('stuckWords()', () => {
  const at = (high: number) => ({ start: { high, low: 0 }, found: 0 });
  const said = (latest?: LatestLevels): string[] => stuckWords(tally, timer, window, latest).map(plain);

  test('says nothing where none is running, or the one that is has run out, or was never timed', () => {
    expect(said()).toEqual([]);
    tally.running = { ...at(5), over: { high: 6, low: 0 } };
    expect(said()).toEqual([]);
    tally.running = { ...at(5), threshold: 9, limit: 8 };
    expect(said()).toEqual([]);
  });

  test('says nothing of one that has not lasted longer than others did, unless it can never end', () => {
    tally.running = at(5);
    seen({ lengths: [15] });
    expect(said({ threshold: 3, limit: 8 })).toEqual([]);
    const never = { threshold: 3, limit: 8, never: { threshold: 6, limit: 8 } };
    expect(said(never)).toEqual([
      'The interval that began at 5 s did not end before 20 s: timing stood at 3.00 V by then and aims at 6.00 V, below its limit of 8.00 V, so unless something changes it never ends.',
    ]);
  });

  test('tells one that is longer than all others, or the only one, and how far it was', () => {
    tally.running = at(5);
    expect(said({ threshold: 3, limit: 8 })).toEqual([
      'The interval that began at 5 s did not end before 20 s: timing stood at 3.00 V of its 8.00 V limit by then.',
    ]);
    seen({ lengths: [14.9] });
    expect(said({ threshold: 3, limit: 8 })).toHaveLength(1);
    expect(said()).toEqual(['The interval that began at 5 s did not end before 20 s.']);
  });

  test('tells rest, and a limit that is only approached', () => {
    tally.running = at(5);
    expect(said({ threshold: 6, limit: 8, never: { threshold: 6, limit: 8 } })[0]).toContain(
      'timing has come to rest at 6.00 V, below its limit of 8.00 V, so',
    );
    expect(said({ threshold: 6, limit: 8, never: { threshold: 8, limit: 8 } })[0]).toContain(
      'timing comes ever nearer to its limit of 8.00 V and never passes it, so',
    );
  });
});

describe('explain()', () => {
  const said = (): string => plain(explain(tally, timer, window, undefined));

  test('one pulse, and several that met one fate', () => {
    pulses(1, { ignored: 1 });
    expect(said()).toBe('1 input pulse came before 20 s and found an interval running and was ignored.');
    pulses(2, { ignored: 2 });
    expect(said()).toBe('2 input pulses came before 20 s, and each found an interval running and was ignored.');
  });

  test('several fates, of one pulse and of more', () => {
    pulses(4, { started: 1, short: 1, barred: 2 });
    expect(said()).toBe(
      '4 input pulses came before 20 s: 1 started an interval, 1 was too short to act and 2 were barred by RESET.',
    );
  });

  test('one interval, alike ones, and a range', () => {
    pulses(9, { started: 9 });
    const lengths = (): string => said().replace('9 input pulses came before 20 s, and each started an interval. ', '');
    seen({ lengths: [1] });
    expect(lengths()).toBe('The interval lasted 1.00 s.');
    seen({ lengths: [1 + 1e-7] });
    expect(lengths()).toBe('Both complete intervals lasted 1.00 s.');
    seen({ lengths: [1] });
    expect(lengths()).toBe('Each of the 3 complete intervals lasted 1.00 s.');
    seen({ lengths: [2] });
    expect(lengths()).toBe('The 4 complete intervals lasted 1.00 s to 2.00 s.');
  });

  test('one start that was not timed, all, and some', () => {
    pulses(1, { started: 1 });
    tally.intervals = 1;
    seen({ untimed: [0.5] });
    expect(said()).toBe(
      '1 input pulse came before 20 s and switched the output on. THRESHOLD was not below its limit at the start, so no interval was timed: the output stayed on just as long as the trigger was low, 500 ms.',
    );
    tally.intervals = 2;
    seen({ untimed: [0.5] });
    expect(said()).toContain('THRESHOLD was not below its limit at any start, so no interval was timed:');
    tally.intervals = 3;
    expect(said()).toContain('at 2 of the 3 starts, so no interval was timed there:');
    seen({ lengths: [1] });
    expect(said()).toContain('500 ms. The other interval lasted 1.00 s.');
  });

  test('short pulses: one or several, all or some, and none that has ended', () => {
    const short = (count: number, all: number, widths: number[]): string => {
      tally = new FateTally(window);
      pulses(all, { short: count, started: all - count });
      seen({ shortWidths: widths });
      return said().replace(/^.*?\. ?/, '');
    };
    expect(short(1, 1, [0.001])).toBe('It was low for 1.00 ms; the trigger needs 2.00 ms.');
    expect(short(1, 2, [0.001])).toBe('The short one was low for 1.00 ms; the trigger needs 2.00 ms.');
    expect(short(2, 2, [0.001, 0.0015])).toBe('They were low for 1.00 ms to 1.50 ms; the trigger needs 2.00 ms.');
    expect(short(2, 3, [0.001, 0.001])).toBe('The short ones were low for 1.00 ms; the trigger needs 2.00 ms.');
    expect(short(1, 1, [])).toBe('');
    expect(short(0, 1, [])).toBe('');
  });

  test('what RESET ended, and what its release began', () => {
    pulses(2, { started: 2 });
    Object.assign(tally, { cutByReset: 1, begunByRelease: 0 });
    expect(said()).toMatch(/ RESET ended 1 interval early\.$/);
    Object.assign(tally, { cutByReset: 0, begunByRelease: 2 });
    expect(said()).toMatch(
      /each started an interval\. 2 intervals began at the release of RESET, with the trigger still low\.$/,
    );
  });

  test('a window is told as short as it was given, in six digits at most', () => {
    const until = (time: number): string => plain(explain(tally, timer, { from: 0, until: time }, undefined));
    expect(until(1.5)).toContain('No input pulse came before 1.5 s:');
    expect(until(1.23456789)).toContain('No input pulse came before 1.23457 s:');
  });

  test('no pulse at all', () => {
    expect(said()).toBe('No input pulse came before 20 s: in never fell below the trigger reference of U1.');
  });
});
