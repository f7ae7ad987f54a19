import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { charging, type MadeStep } from '../../support/made-run.ts';
import { LIMIT, event, stretch, ledger, start, runsOut, charged } from '../../support/made-timer.ts';

/** Local times added to starts, and one logarithm: rounding only. */
const DIGITS = 14;

const T = Math.log(3);

describe('the end of the window', () => {
  test('levels are those just before it, not those of a segment that begins there', () => {
    const { explanation } = ledger([...start, event('triggerHigh'), stretch(1, 3), stretch(1, 5)], {
      window: { from: 0, until: 1 },
    });
    expect(plain(explanation)).toContain('did not end before 1 s: timing has come to rest at 3.00 V');
    expect(explanation).not.toContain('5.00');
  });

  test('levels are those at it where it lies inside a segment', () => {
    // From 0 V at 1 s: 12 V (1 - exp(-1/2)) = 4.72 V at 1.5 s.
    const { explanation } = ledger(
      [stretch(1), ...start, event('triggerHigh'), stretch(1, charged(0)), stretch(1, 7)],
      {
        window: { from: 0, until: 1.5 },
      },
    );
    expect(plain(explanation)).toContain(
      'did not end before 1.5 s: timing stood at 4.72 V of its 8.00 V limit by then.',
    );
  });

  test('an interval that runs out after it has not run out, and held nothing on', () => {
    const { pulses, intervals, counts } = ledger([...start, stretch(2, charged(0)), event('triggerHigh'), ...runsOut], {
      window: { from: 0, until: 1 },
    });
    expect(pulses).toHaveLength(1);
    expect(pulses[0]).not.toHaveProperty('heldFor');
    expect(pulses[0]).not.toHaveProperty('interval');
    expect(pulses[0]).toMatchObject({ fate: 'started', open: true, end: null });
    expect(intervals).toEqual([{ from: 0, until: null }]);
    expect(counts.started).toBe(1);
  });

  test('an interval that runs out exactly there has not run out', () => {
    const straight = { constant: 0, slope: 4 };
    const { pulses } = ledger([...start, stretch(4, straight), event('triggerHigh'), ...runsOut], {
      window: { from: 0, until: 2 },
    });
    expect(pulses[0]).not.toHaveProperty('heldFor');
    expect(pulses[0]).not.toHaveProperty('interval');
  });

  test('events at it, and after it, do not count', () => {
    const steps = [stretch(1), ...start, event('triggerHigh'), stretch(1, 3), ...start, event('triggerHigh')];
    const { pulses, counts } = ledger(steps, { window: { from: 0, until: 1 } });
    expect(pulses).toEqual([]);
    expect(counts.started).toBe(0);
  });

  test('the words name the end of a run that is shorter than its window', () => {
    expect(plain(ledger([stretch(1.5)]).explanation)).toContain('No input pulse came before 1.5 s:');
  });

  test('a pulse still low there counts if it began in the window only', () => {
    const steps = [...start, stretch(1, 3)];
    expect(ledger(steps).counts.started).toBe(1);
    const later = ledger(steps, { window: { from: 0.5, until: 2 } });
    expect(later.counts.started).toBe(0);
    expect(later.pulses).toEqual([]);
  });
});

describe('the beginning of the window', () => {
  const before = [...start, event('triggerHigh'), stretch(1, charged(0)), ...runsOut, stretch(1)];

  test('intervals that ended before it, or exactly there, are not listed', () => {
    expect(ledger(before, { window: { from: 1.5, until: 9 } }).intervals).toEqual([]);
    expect(ledger(before, { window: { from: 1, until: 9 } }).intervals).toEqual([]);
    expect(ledger(before, { window: { from: 0.5, until: 9 } }).intervals).toEqual([{ from: 0, until: 1 }]);
  });
});

test('pulses that find an interval tell how long it still took, though it began before the window and ends after others', () => {
  const pulse = (at: number) => [event('triggerLow'), stretch(0.1, charged(at)), event('triggerHigh')];
  const steps = [
    ...[...start, stretch(0.25, charged(0)), event('triggerHigh'), stretch(0.25, charged(0.25))],
    ...[
      ...pulse(0.5),
      stretch(0.1, charged(0.6)),
      ...pulse(0.7),
      stretch(T - 0.8, charged(0.8)),
      ...runsOut,
      stretch(1),
    ],
  ];
  const { pulses } = ledger(steps, { window: { from: 0.4, until: 100 } });
  expect(pulses.map(({ fate }) => fate)).toEqual(['ignored', 'ignored']);
  expect(pulses.map(({ toGo }) => toGo)).toEqual([0.5, 0.7].map((at) => expect.closeTo(T - at, DIGITS)));
});

test('a pulse is open that is still low at the end, and no other, whether its interval has ended or not', () => {
  const ended = [...start, stretch(0.5, charged(0)), event('resetLow'), event('cleared', 'resetLow'), stretch(1)];
  expect(ledger(ended).pulses[0]).toMatchObject({ fate: 'started', interval: 0.5, open: true, end: null });
  expect(ledger([...ended, event('triggerHigh'), stretch(1)]).pulses[0]).not.toHaveProperty('open');
  const held = [...start, stretch(2, charged(0)), event('triggerHigh'), ...runsOut, stretch(1)];
  expect(ledger(held).pulses[0]).toHaveProperty('heldFor');
  expect(ledger(held).pulses[0]).not.toHaveProperty('open');
});

describe('RESET and pulses that are not taken', () => {
  const delayed = { timer: { minimumTrigger: 0.25 } };

  test('a pulse during which RESET falls is barred, not short', () => {
    const steps = [
      event('triggerLow'),
      stretch(0.1),
      event('resetLow'),
      stretch(0.1),
      event('triggerHigh'),
      stretch(1),
    ];
    expect(ledger(steps, delayed).counts).toMatchObject({ barred: 1, short: 0 });
  });

  test('a pulse after RESET has risen is short again', () => {
    const steps = [
      event('resetLow'),
      stretch(1),
      event('resetHigh'),
      stretch(1),
      event('triggerLow'),
      stretch(0.1),
      event('triggerHigh'),
      stretch(1),
    ];
    expect(ledger(steps, delayed).counts).toMatchObject({ barred: 0, short: 1 });
  });

  test('a short pulse tells THRESHOLD and its limit as it came', () => {
    const { pulses } = ledger([stretch(1, 2), event('triggerLow'), stretch(0.1, 3), event('triggerHigh')], delayed);
    expect(pulses[0]).toMatchObject({ fate: 'short', threshold: 3, limit: LIMIT });
  });

  test('a pulse that comes when the run is over tells neither', () => {
    const { pulses } = ledger([stretch(1, 2), event('triggerLow')], delayed);
    expect(pulses).toHaveLength(1);
    expect(pulses[0]).not.toHaveProperty('threshold');
    expect(pulses[0]).not.toHaveProperty('limit');
  });
});

describe('the minimum trigger width', () => {
  const delayed = { timer: { minimumTrigger: 0.25 } };
  const started = [event('triggerLow'), stretch(0.25), event('accepted'), event('set', 'accepted')];

  test('a pulse that has been accepted holds the output on', () => {
    const { pulses } = ledger(
      [...started, stretch(2, charged(0)), event('triggerHigh'), ...runsOut, stretch(1)],
      delayed,
    );
    expect(pulses[0]!.heldFor).toBeCloseTo(2 - T, DIGITS);
    expect(pulses[0]!.interval).toBeCloseTo(T, DIGITS);
  });

  test('a pulse that has not been accepted holds nothing on', () => {
    const steps = [
      ...started,
      stretch(0.1, charged(0)),
      event('triggerHigh'),
      stretch(0.9, charged(0.1)),
      event('triggerLow'),
      stretch(T - 1, charged(1)),
      ...runsOut,
      stretch(0.05, 8),
      event('triggerHigh'),
      stretch(1),
    ];
    const { pulses } = ledger(steps, delayed);
    expect(pulses[1]).toMatchObject({ fate: 'ignored' });
    expect(pulses[1]!.toGo).toBeCloseTo(T - 1, DIGITS);
    expect(pulses[1]).not.toHaveProperty('heldFor');
  });

  test('a pulse that began one interval of its own tells where that began, and nothing of the one it found', () => {
    const { pulses } = ledger(
      [
        ...started,
        stretch(1, 5),
        event('triggerHigh'),
        event('triggerLow'),
        stretch(0.125, 7),
        ...runsOut,
        stretch(0.125),
        event('accepted'),
        event('set', 'accepted'),
        stretch(0.1, 2),
        event('triggerHigh'),
        stretch(1, 5),
        ...runsOut,
        stretch(1),
      ],
      delayed,
    );
    expect(pulses[1]).toMatchObject({ fate: 'started', threshold: 2, limit: LIMIT });
    expect(pulses[1]).not.toHaveProperty('toGo');
  });
});

describe('holding the output on', () => {
  test('RESET ends it: held from the limit to the reset', () => {
    const steps = [
      ...start,
      stretch(2, charged(0)),
      event('resetLow'),
      event('cleared', 'resetLow'),
      stretch(0.5),
      event('triggerHigh'),
      stretch(1),
    ];
    const { pulses } = ledger(steps);
    expect(pulses[0]!.heldFor).toBeCloseTo(2 - T, DIGITS);
  });

  test('a capacitor that has fallen below the limit again meanwhile has not run out', () => {
    const steps = [
      ...start,
      stretch(2, charged(0)),
      stretch(1, charging(7, 6, 1)),
      event('triggerHigh'),
      stretch(1, charging(6, 12, 1)),
      ...runsOut,
      stretch(1),
    ];
    const { pulses, intervals } = ledger(steps);
    expect(pulses[0]).not.toHaveProperty('heldFor');
    expect(pulses[0]).toMatchObject({ interval: 4 });
    expect(intervals).toEqual([{ from: 0, until: 4 }]);
  });
});

describe('THRESHOLD above its limit from the start of what is held on', () => {
  test('an interval that begins with it is held on from its first moment, whatever the one before was', () => {
    const steps = [
      ...[...start, stretch(2, charged(0)), event('triggerHigh'), ...runsOut, stretch(1, 9)],
      ...[...start, stretch(1, 9), event('triggerHigh'), ...runsOut, stretch(1)],
    ];
    const { pulses } = ledger(steps);
    expect(pulses[0]!.heldFor).toBeCloseTo(2 - T, DIGITS);
    expect(pulses[1]!.heldFor).toBe(1);
  });

  test('so is one that begins as RESET lets go while the same pulse is still low', () => {
    const steps = [
      ...[...start, stretch(2, charged(0)), event('resetLow'), event('cleared', 'resetLow'), stretch(1, 9)],
      ...[event('resetHigh'), event('set', 'resetHigh'), stretch(0.5, 9), event('triggerHigh'), ...runsOut, stretch(1)],
    ];
    expect(ledger(steps).pulses[0]!.heldFor).toBe(0.5);
  });

  test('a second pulse holds on from its own beginning', () => {
    // The limit is out of reach while TRIGGER is high, so the interval goes on.
    const away = { length: 1, signals: { timing: 9, control: 12 } };
    const steps = [
      ...[...start, stretch(2, charged(0)), event('triggerHigh'), away],
      ...[event('triggerLow'), stretch(0.25, 9), event('triggerHigh'), ...runsOut, stretch(1)],
    ];
    const { pulses } = ledger(steps);
    expect(pulses.map(({ heldFor }) => heldFor)).toEqual([expect.closeTo(2 - T, DIGITS), 0.25]);
  });
});

test('the limit that ended an interval is told where it had moved', () => {
  const met: MadeStep = { event: { part: 'U1', kind: 'thresholdOver', limit: 4 } };
  const steps = [
    ...start,
    event('triggerHigh'),
    stretch(1, 3),
    met,
    event('cleared', 'thresholdOver'),
    met,
    stretch(1),
    ...start,
    event('triggerHigh'),
    stretch(1, 3),
    ...runsOut,
    stretch(1),
  ];
  const reasons = ledger(steps).pulses.map(({ reason }) => plain(reason));
  expect(reasons[0]).toBe(
    'Started: an interval of 1.00 s, counted from 3.00 V at THRESHOLD, 38 % of its limit, ended by a limit that had gone from 8.00 V to 4.00 V.',
  );
  expect(reasons[1]).not.toContain('ended by');
});

test('where THRESHOLD was heading is known from the time in which the latch was clear', () => {
  // RESET ends the first interval at 4 V and lets go at once: the capacitor was never heading anywhere but for 0 V.
  const steps = [
    stretch(1),
    ...start,
    stretch(1, charging(0, 12, 2)),
    event('resetLow'),
    event('cleared', 'resetLow'),
    event('resetHigh'),
    event('set', 'resetHigh'),
    stretch(0.5, 4),
    event('triggerHigh'),
    stretch(0.5, 5),
    ...runsOut,
    stretch(1),
  ];
  expect(plain(ledger(steps).explanation)).toContain('The second interval began with THRESHOLD still at 4.00 V');
});

test('an interval tells how many pulses found it running', () => {
  const pulse = [event('triggerLow'), stretch(0.05, 1), event('triggerHigh'), stretch(0.2, 1)];
  const turn = [
    ...start,
    stretch(0.05, 1),
    event('triggerHigh'),
    stretch(0.2, 1),
    ...pulse,
    event('triggerLow'),
    stretch(0.05, 1),
    event('triggerHigh'),
    ...runsOut,
    stretch(0.2),
  ];
  // An interval of 0.55 s is 2.2 times the 0.25 s from pulse to pulse.
  const { explanation } = ledger([...turn, ...turn, ...turn, ...turn]);
  expect(plain(explanation)).toContain('the ratio is 3 throughout. An interval is 2.20 times the 250 ms');
});

describe('lists that are cut', () => {
  const pulse = [...start, event('triggerHigh'), stretch(0.5, 3), ...runsOut, stretch(0.5)];

  test('say so, where pulses or only intervals were left out', () => {
    expect(ledger([...pulse, ...pulse], { options: { most: 2 } }).cut).toBe(false);
    expect(ledger([...pulse, ...pulse], { options: { most: 1 } }).cut).toBe(true);
    // An interval runs from the start; with those of the pulses there are three.
    const before = [stretch(1, 3), ...runsOut, stretch(1)];
    const facts = { timer: { start: 'set' as const }, options: { most: 2 } };
    expect(ledger([...before, ...pulse, ...pulse], facts).cut).toBe(true);
    expect(ledger([...before, ...pulse], facts).cut).toBe(false);
  });
});
