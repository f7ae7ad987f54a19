import { describe, expect, test } from 'vitest';
import { fateSentence } from '#sim/measure/fate-words.ts';
import { type IntervalFacts, type PulseFacts, secondsToGo, untimed } from '#sim/measure/pulse-facts.ts';
import { cameTooSoon, startsCharged } from '#sim/measure/start-level.ts';
import { plain } from '../../support/circuit-issues.ts';

// Every number that is said is one of those given, or the quotient or difference of two.

const timer = { threshold: 'timing', minimumTrigger: 0.002 };
const at = (high: number) => ({ high, low: 0 });

function interval(facts: Partial<IntervalFacts> = {}): IntervalFacts {
  return { start: at(10), end: at(12), cause: 'trigger', found: 0, ...facts };
}

/** The sentence of a pulse at 10 s. */
function said(facts: Partial<PulseFacts>): string {
  const pulse = { time: at(10), end: at(10.5), open: false, accepted: true, reset: false, ...facts };
  return plain(fateSentence(pulse, timer));
}

describe('fateSentence(), started', () => {
  test('a limit that moved is told where it moved by more than a tenth of the greater value', () => {
    const moved = (limit: number, limitMet: number) => said({ began: interval({ limit, limitMet, threshold: 0 }) });
    expect(moved(8, 4)).toBe('Started: an interval of 2.00 s, ended by a limit that had gone from 8.00 V to 4.00 V.');
    expect(moved(4, 8)).toContain('ended by a limit that had gone from 4.00 V to 8.00 V');
    expect(moved(10, 9.01)).toBe('Started: an interval of 2.00 s.');
    expect(moved(10, 8.99)).toContain('ended by');
    // 1.05 V is a tenth of 10.5 V, and more than a tenth of 9.45 V.
    expect(moved(9.46, 10.5)).toBe('Started: an interval of 2.00 s.');
  });

  test('without a limit known at the start or met at the end nothing is said of it', () => {
    expect(said({ began: interval({ limit: 8 }) })).toBe('Started: an interval of 2.00 s.');
    expect(said({ began: interval({ limitMet: 8 }) })).toBe('Started: an interval of 2.00 s.');
  });

  test('from where it was counted is told where that is known, of THRESHOLD and of its limit', () => {
    expect(said({ began: interval({ threshold: 4, limit: 8 }) })).toContain('counted from 4.00 V at THRESHOLD, 50 %');
    expect(said({ began: interval({ threshold: 4 }) })).toBe('Started: an interval of 2.00 s.');
  });

  test('THRESHOLD at its limit is told as such, and what ended the output', () => {
    const from = 'Started: no interval was timed, since THRESHOLD stood at 8.00 V, which is its limit;';
    expect(said({ began: interval({ threshold: 8, limit: 8 }) })).toBe(
      `${from} the output stayed on just as long as the trigger was low, 2.00 s.`,
    );
    expect(said({ began: interval({ threshold: 8, limit: 8, byReset: true }) })).toBe(
      `${from} the output stayed on until RESET ended it after 2.00 s.`,
    );
  });

  test('an interval that ran out before RESET came is not called ended by it', () => {
    expect(said({ began: interval({ byReset: true }) })).toBe('Started: an interval that RESET ended after 2.00 s.');
    expect(said({ began: interval({ byReset: true, over: at(11) }) })).toBe('Started: an interval of 1.00 s.');
  });
});

describe('fateSentence(), ignored', () => {
  const found = (level: Partial<PulseFacts>, facts: Partial<IntervalFacts> = {}) =>
    said({ found: interval({ start: at(5), ...facts }), ...level }).replace(
      'Ignored: the interval was still running; ',
      '',
    );

  test('without levels only the time to go is told', () => {
    expect(found({})).toBe('2.00 s to go.');
    expect(found({ threshold: 4 })).toBe('2.00 s to go.');
    expect(found({ limit: 8 })).toBe('2.00 s to go.');
  });

  test('RESET is named where it ended the interval', () => {
    expect(found({}, { byReset: true })).toBe('2.00 s before RESET ended it.');
    expect(found({}, { byReset: true, over: at(11) })).toBe('1.00 s to go.');
  });

  test('a share of a limit of 0 V or below is not told', () => {
    expect(found({ threshold: -1, limit: 0 })).toBe('timing stood at −1.00 V of its 0 V limit, 2.00 s to go.');
  });

  test('a share is told in two digits, or as many as tell it from all', () => {
    const share = (threshold: number) => /\((.*)\)/.exec(found({ threshold, limit: 8 }))?.[1];
    expect(share(4)).toBe('50 %');
    expect(share(7.9)).toBe('99 %');
    expect(share(7.98)).toBe('99.8 %');
    // 1 - 1e-4: four digits make 99.99 %.
    expect(share(7.9992)).toBe('99.99 %');
    expect(share(8)).toBe('100 %');
    // 98.76 % is far enough from all of it to be told in two digits.
    expect(share(7.9008)).toBe('99 %');
  });
});

describe('untimed()', () => {
  test('is so at the limit and above it, not below it, and not where either is unknown', () => {
    expect(untimed(interval({ threshold: 8, limit: 8 }))).toBe(true);
    expect(untimed(interval({ threshold: 9, limit: 8 }))).toBe(true);
    expect(untimed(interval({ threshold: 7.9, limit: 8 }))).toBe(false);
    expect(untimed(interval({ threshold: 9 }))).toBe(false);
    expect(untimed(interval({ limit: -1 }))).toBe(false);
  });

  test('is not so where THRESHOLD passed its limit a time after the start, beyond rounding of the instant', () => {
    const over = (after: number) => untimed(interval({ threshold: 8, limit: 8, start: at(16), over: at(16 + after) }));
    expect(over(0)).toBe(true);
    // A unit in the last place of 16 is 2^-48; eight epsilons of it are 2^-45.
    expect(over(2 ** -45)).toBe(true);
    expect(over(2 ** -44)).toBe(false);
    expect(over(1)).toBe(false);
  });
});

describe('secondsToGo()', () => {
  const toGo = (time: number, end: number) =>
    secondsToGo({ time: at(time), open: false, accepted: true, reset: false, found: interval({ end: at(end) }) });

  test('is the time to the end, and 0 within rounding of that instant', () => {
    expect(toGo(16, 18)).toBe(2);
    expect(toGo(16 - 2 ** -45, 16)).toBe(0);
    expect(toGo(16 - 2 ** -44, 16)).toBe(2 ** -44);
  });
});

describe('startsCharged() and cameTooSoon()', () => {
  const level = (threshold: number | undefined, limit: number | undefined, rest?: number) =>
    interval({
      ...(threshold === undefined ? {} : { threshold }),
      ...(limit === undefined ? {} : { limit }),
      ...(rest === undefined ? {} : { rest }),
    });

  test('on the way down: more than a hundredth of the limit above where it was going', () => {
    expect(cameTooSoon(level(0.0801, 8, 0))).toBe(true);
    expect(cameTooSoon(level(0.0799, 8, 0))).toBe(false);
    expect(cameTooSoon(level(2, 8, 2))).toBe(false);
    expect(startsCharged(level(0.0801, 8, 0))).toBe(true);
    expect(startsCharged(level(0.0799, 8, 0))).toBe(false);
  });

  test('at rest: what is worth telling is more than a twentieth of the limit, on either side of 0 V', () => {
    expect(startsCharged(level(0.39, 8, 0.39))).toBe(false);
    expect(startsCharged(level(0.41, 8, 0.41))).toBe(true);
    expect(startsCharged(level(-0.41, 8, -0.41))).toBe(true);
  });

  test('what is not known is not told', () => {
    expect(cameTooSoon(level(undefined, 8, -9))).toBe(false);
    expect(cameTooSoon(level(2, undefined, 0))).toBe(false);
    expect(cameTooSoon(level(2, 8))).toBe(false);
    expect(startsCharged(level(undefined, 8))).toBe(false);
    expect(startsCharged(level(2, undefined))).toBe(false);
  });
});
