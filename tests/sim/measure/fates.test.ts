import { describe, expect, it } from 'vitest';
import { charging, type MadeStep } from '../../support/made-run.ts';
import { LIMIT, event, stretch, ledger, start, runsOut, charged } from '../../support/made-timer.ts';

/** Local times added to starts, and one logarithm: rounding only. */
const DIGITS = 14;

/** It reaches 8 V after ln 3 s. */
const T = Math.log(3);

describe('fateObserver', () => {
  it('started: a pulse that began an interval, with its length', () => {
    const { pulses, counts, intervals } = ledger([
      ...start,
      stretch(0.1, charged(0)),
      event('triggerHigh'),
      stretch(T - 0.1, charged(0.1)),
      ...runsOut,
      stretch(1),
    ]);
    expect(counts).toEqual({ started: 1, held: 0, ignored: 0, short: 0, barred: 0 });
    expect(pulses).toHaveLength(1);
    expect(pulses[0]).toMatchObject({ time: 0, end: 0.1, fate: 'started', limit: LIMIT });
    expect(pulses[0]!.interval).toBeCloseTo(T, DIGITS);
    expect(pulses[0]).not.toHaveProperty('threshold');
    expect(pulses[0]).not.toHaveProperty('open');
    expect(pulses[0]!.reason).toBe('Started: an interval of 1.10\u202fs.');
    expect(intervals).toEqual([{ from: 0, until: 0.1 + (T - 0.1) }]);
  });

  it('ignored: a pulse that found the interval running, with how far it was and how long it had to go', () => {
    const { pulses, counts } = ledger([
      ...start,
      stretch(0.1, charged(0)),
      event('triggerHigh'),
      stretch(0.4, charged(0.1)),
      event('triggerLow'),
      stretch(0.1, charged(0.5)),
      event('triggerHigh'),
      stretch(T - 0.6, charged(0.6)),
      ...runsOut,
      stretch(1),
    ]);
    expect(counts).toMatchObject({ started: 1, ignored: 1 });
    expect(pulses[1]).toMatchObject({ time: 0.5, fate: 'ignored', limit: LIMIT });
    expect(pulses[1]!.threshold).toBeCloseTo(12 * (1 - Math.exp(-0.5)), DIGITS);
    expect(pulses[1]!.toGo).toBeCloseTo(T - 0.5, DIGITS);
    // 12 (1 - exp(-1/2)) = 4.72 V, 59 % of 8 V; ln 3 - 1/2 = 0.599 s.
    expect(pulses[1]!.reason).toBe(
      'Ignored: the interval was still running; timing stood at 4.72\u202fV of its 8.00\u202fV limit (59\u202f%), 599\u202fms to go.',
    );
  });

  it('ignored: says so when the interval had not ended by the end of the run', () => {
    const { pulses } = ledger([
      ...start,
      event('triggerHigh'),
      stretch(0.25, 3),
      event('triggerLow'),
      stretch(0.25, 4),
      event('triggerHigh'),
      stretch(0.25, 5),
    ]);
    expect(pulses[1]).not.toHaveProperty('toGo');
    expect(pulses[1]!.reason).toContain('and it had not ended by the end of the run.');
    expect(pulses[0]).not.toHaveProperty('interval');
    expect(pulses[0]!.reason).toContain('Started: an interval that was still running at the end');
  });

  it('held: a pulse that found the interval running and kept the output high past its end', () => {
    const { pulses, counts, intervals } = ledger([
      ...start,
      event('triggerHigh'),
      stretch(1, charged(0)),
      event('triggerLow'),
      // TRIGGER beats THRESHOLD: it passes 8 V at ln 3 in the middle of this stretch and nothing switches.
      stretch(0.5, charged(1)),
      event('triggerHigh'),
      ...runsOut,
      stretch(1),
    ]);
    expect(counts).toEqual({ started: 1, held: 1, ignored: 0, short: 0, barred: 0 });
    expect(pulses[1]!.heldFor).toBeCloseTo(1.5 - T, DIGITS);
    expect(pulses[1]!.toGo).toBeCloseTo(T - 1, DIGITS);
    expect(pulses[0]!.interval).toBeCloseTo(T, DIGITS);
    expect(pulses[0]).not.toHaveProperty('heldFor');
    expect(intervals).toEqual([{ from: 0, until: 1.5 }]);
    expect(pulses[1]!.reason).toContain('Still low when it ran out, the pulse held the output on for 401\u202fms.');
  });

  it('held: a pulse that comes exactly when the interval ends finds it running, with nothing to go', () => {
    const { pulses } = ledger([
      ...start,
      event('triggerHigh'),
      stretch(T, charged(0)),
      event('triggerLow'),
      stretch(0.25, charged(T)),
      event('triggerHigh'),
      ...runsOut,
      stretch(1),
    ]);
    expect(pulses[1]).toMatchObject({ fate: 'held', toGo: 0 });
    expect(pulses[1]!.heldFor).toBeCloseTo(0.25, DIGITS);
    expect(pulses[1]!.reason).toContain('and it ran out at that very instant');
  });

  it('started: a starter that outlasts its interval stays started and carries heldFor', () => {
    const { pulses, counts } = ledger([...start, stretch(2, charged(0)), event('triggerHigh'), ...runsOut, stretch(1)]);
    expect(counts).toMatchObject({ started: 1, held: 0 });
    expect(pulses[0]!.interval).toBeCloseTo(T, DIGITS);
    expect(pulses[0]!.heldFor).toBeCloseTo(2 - T, DIGITS);
    expect(pulses[0]!.reason).toContain('the pulse outlasted it and held the output on for 901\u202fms more.');
  });

  it('started: says from what voltage the interval was counted where the capacitor was not empty', () => {
    const { pulses } = ledger([...start, event('triggerHigh'), stretch(1, charging(4, 12, 1)), ...runsOut, stretch(1)]);
    expect(pulses[0]!.threshold).toBe(4);
    expect(pulses[0]!.reason).toBe(
      'Started: an interval of 1.00\u202fs, counted from 4.00\u202fV at THRESHOLD, 50\u202f% of its limit.',
    );
  });

  it('short: a pulse below the minimum trigger width', () => {
    const { pulses, counts } = ledger([event('triggerLow'), stretch(0.001), event('triggerHigh'), stretch(1)], {
      timer: { minimumTrigger: 0.002 },
    });
    expect(counts).toMatchObject({ short: 1, started: 0 });
    expect(pulses[0]!.reason).toBe('Short: low for 1.00\u202fms, less than the 2.00\u202fms that the trigger needs.');
  });

  it('started: a pulse that acts after the minimum trigger width', () => {
    const { counts, intervals } = ledger(
      [
        event('triggerLow'),
        stretch(0.25),
        event('accepted'),
        event('set', 'accepted'),
        stretch(0.25, 1),
        event('triggerHigh'),
        stretch(0.5, 2),
        ...runsOut,
        stretch(1),
      ],
      { timer: { minimumTrigger: 0.25 } },
    );
    expect(counts).toMatchObject({ started: 1, short: 0 });
    expect(intervals).toEqual([{ from: 0.25, until: 1 }]);
  });

  it('started: a pulse that found an interval running, then began one of its own once it was accepted', () => {
    const { counts, pulses } = ledger(
      [
        ...start,
        event('triggerHigh'),
        stretch(1, 5),
        event('triggerLow'),
        stretch(0.125, 7),
        ...runsOut,
        stretch(0.125),
        event('accepted'),
        event('set', 'accepted'),
        event('triggerHigh'),
        stretch(1, 5),
        ...runsOut,
        stretch(1),
      ],
      { timer: { minimumTrigger: 0.25 } },
    );
    expect(counts).toMatchObject({ started: 2, ignored: 0, held: 0 });
    expect(pulses[1]).toMatchObject({ time: 1, fate: 'started', interval: 1 });
  });

  it('barred: a pulse that came and went while RESET was low', () => {
    const { counts, pulses } = ledger([
      event('resetLow'),
      stretch(1),
      event('triggerLow'),
      stretch(0.25),
      event('triggerHigh'),
      stretch(0.25),
      event('resetHigh'),
      stretch(1),
    ]);
    expect(counts).toEqual({ started: 0, held: 0, ignored: 0, short: 0, barred: 1 });
    expect(pulses[0]!.reason).toBe('Barred: RESET was low, so the pulse could not act.');
  });

  it('started: a pulse low through a reset and still low at its release', () => {
    const { counts, pulses } = ledger([
      event('resetLow'),
      event('triggerLow'),
      stretch(0.5),
      event('resetHigh'),
      event('set', 'resetHigh'),
      stretch(0.25, 1),
      event('triggerHigh'),
      stretch(0.25, 7),
      ...runsOut,
      stretch(1),
    ]);
    expect(counts).toMatchObject({ started: 1, barred: 0 });
    expect(pulses[0]!.reason).toContain(
      'Started when RESET let go, 500\u202fms after the pulse came: an interval of 500\u202fms',
    );
  });

  it('started: an interval that RESET cut short says so', () => {
    const { pulses } = ledger([
      ...start,
      event('triggerHigh'),
      stretch(0.5, 3),
      event('triggerLow'),
      stretch(0.25, 4),
      event('triggerHigh'),
      event('resetLow'),
      event('cleared', 'resetLow'),
      stretch(1),
    ]);
    expect(pulses[0]!.reason).toBe('Started: an interval that RESET ended after 750\u202fms.');
    expect(pulses[1]!.reason).toContain('250\u202fms before RESET ended it.');
  });

  it('gives a zero-length pulse, as a timer that starts itself makes, its fate', () => {
    const { counts, pulses } = ledger([
      stretch(1, 4),
      ...start,
      event('triggerHigh'),
      stretch(1, charging(4, 12, 1)),
      ...runsOut,
      stretch(1, 8),
    ]);
    expect(counts).toMatchObject({ started: 1 });
    expect(pulses[0]).toMatchObject({ time: 1, end: 1, interval: 1 });
  });

  it('open: a pulse still low at the end is counted by what it has done so far', () => {
    const openOf = (steps: MadeStep[], minimumTrigger = 0) =>
      ledger(steps, { timer: { minimumTrigger } }).pulses.at(-1);
    expect(openOf([...start, stretch(1, 3)])).toMatchObject({ fate: 'started', open: true, end: null });
    const outlasting = openOf([...start, stretch(2, charged(0))]);
    expect(outlasting).toMatchObject({ fate: 'started', open: true });
    expect(outlasting!.heldFor).toBeCloseTo(2 - T, DIGITS);
    const first = [...start, event('triggerHigh'), stretch(1, charged(0)), event('triggerLow')];
    const ignored = openOf([...first, stretch(0.05, charged(1))]);
    expect(ignored).toMatchObject({ fate: 'ignored', open: true });
    expect(ignored!.reason).toMatch(/; still low at the end of the run\.$/);
    expect(openOf([...first, stretch(0.5, charged(1))])).toMatchObject({ fate: 'held', open: true });
    expect(openOf([event('resetLow'), event('triggerLow'), stretch(1)])).toMatchObject({ fate: 'barred', open: true });
    expect(openOf([event('triggerLow'), stretch(1)], 2)).toMatchObject({ fate: 'short', open: true });
  });

  it('counts pulses that begin in the window, and knows what began before it', () => {
    const steps = [
      ...start,
      event('triggerHigh'),
      stretch(1, 3),
      event('triggerLow'),
      event('triggerHigh'),
      stretch(1, 4),
      event('triggerLow'),
      event('triggerHigh'),
      stretch(1, 5),
    ];
    const { counts, pulses, intervals } = ledger(steps, { window: { from: 0.5, until: 2 } });
    expect(counts).toEqual({ started: 0, held: 0, ignored: 1, short: 0, barred: 0 });
    expect(pulses[0]!.time).toBe(1);
    expect(intervals).toEqual([{ from: 0, until: null }]);
  });

  it('knows an interval that runs from the start of the run', () => {
    const steps = [stretch(1, 3), event('triggerLow'), event('triggerHigh'), stretch(1, 4), ...runsOut, stretch(1)];
    const { counts, intervals } = ledger(steps, { timer: { start: 'set' } });
    expect(counts).toMatchObject({ ignored: 1 });
    expect(intervals).toEqual([{ from: 0, until: 2 }]);
  });

  it('does not take the events of other timers for its own', () => {
    const other: MadeStep = { event: { part: 'U2', kind: 'triggerLow' } };
    expect(ledger([other, stretch(1)]).pulses).toEqual([]);
  });

  it('lists the first pulses when told how many, and counts all', () => {
    const pulse = [event('triggerLow'), stretch(0.25), event('triggerHigh'), stretch(0.25)];
    const { pulses, counts, cut } = ledger([...pulse, ...pulse, ...pulse], {
      timer: { minimumTrigger: 1 },
      options: { most: 2 },
    });
    expect(pulses).toHaveLength(2);
    expect(counts.short).toBe(3);
    expect(cut).toBe(true);
  });
});
