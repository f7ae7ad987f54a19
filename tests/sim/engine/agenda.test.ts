import { describe, expect, test } from 'vitest';
import { addTwoPart, subtractTwoPart, type TwoPart } from '#sim/core/two-part.ts';
import type { Reactor } from '#sim/device/contract.ts';
import { Agenda } from '#sim/engine/agenda.ts';
import type { Wave } from '#sim/signal/wave.ts';

// Times are those given. Where they are sums of two doubles, the second part is compared as well: it is what such a sum
// leaves of 2^-60 or of a period that is not exact in binary.

const TINY = 2 ** -60;

function reactor(slots: number, timetable: Reactor['timetable'] = []): Reactor {
  return {
    part: 'U1',
    start: 0,
    slots,
    timetable,
    guards: () => [],
    react: (state) => ({ state, pieces: [], schedule: [], cancel: [], records: [] }),
  };
}

/** Pulses of 1/4 of each period, the first at once. */
const pulses = (period: number, count = Infinity, delay = 0): Wave => ({
  shape: 'pulses',
  period,
  width: period / 4,
  rest: 0,
  pulse: 5,
  delay,
  count,
});

const steps = (...times: readonly number[]): Wave => ({
  shape: 'points',
  between: 'steps',
  points: times.map((time, k) => [time, k]),
});

/** Goes on to the next thing: an input, or an event and its reactor. */
function next(agenda: Agenda): { time: number; input: number } | { time: number; reactor: number; event: number } {
  agenda.pass(agenda.toNext);
  const input = agenda.nextInput;
  if (input < 0) {
    const taken = agenda.takeEvent();
    return { time: agenda.now.high, ...taken };
  }
  agenda.advanceInput();
  return { time: agenda.now.high, input };
}

function nextOnes(agenda: Agenda, many: number): unknown[] {
  return Array.from({ length: many }, () => next(agenda));
}

describe('Agenda: what comes next', () => {
  test('is nothing where there is nothing', () => {
    expect(new Agenda([], []).toNext).toBe(Infinity);
    expect(new Agenda([{ shape: 'constant', level: 1 }], [reactor(1)]).toNext).toBe(Infinity);
  });

  test('is the earliest of corners, timetables and scheduled events', () => {
    const agenda = new Agenda(
      [pulses(4, Infinity, 1), steps(0, 1.5)],
      [
        reactor(2, [
          { at: 1.25, event: 7 },
          { at: 3, event: 8 },
        ]),
      ],
    );
    agenda.schedule(0, 1, 2.5, 9);
    agenda.schedule(0, 0, 0.5, 10);
    expect(nextOnes(agenda, 7)).toEqual([
      { time: 0.5, reactor: 0, event: 10 },
      { time: 1, input: 0 },
      { time: 1.25, reactor: 0, event: 7 },
      { time: 1.5, input: 1 },
      { time: 2, input: 0 },
      { time: 2.5, reactor: 0, event: 9 },
      { time: 3, reactor: 0, event: 8 },
    ]);
    expect(next(agenda)).toEqual({ time: 5, input: 0 });
  });

  test('at one time is inputs first, then timetables, then what was scheduled, each in the order of the parts', () => {
    const agenda = new Agenda(
      [steps(0, 1), steps(0, 1)],
      [reactor(1, [{ at: 1, event: 1 }]), reactor(1, [{ at: 1, event: 2 }])],
    );
    agenda.schedule(1, 0, 1, 4);
    agenda.schedule(0, 0, 1, 3);
    expect(nextOnes(agenda, 6)).toEqual([
      { time: 1, input: 0 },
      { time: 1, input: 1 },
      { time: 1, reactor: 0, event: 1 },
      { time: 1, reactor: 1, event: 2 },
      { time: 1, reactor: 0, event: 3 },
      { time: 1, reactor: 1, event: 4 },
    ]);
    expect(agenda.toNext).toBe(Infinity);
  });

  test('in one slot comes in the order in which it was scheduled, also where a delay has become shorter', () => {
    const agenda = new Agenda([steps(0, 0.25)], [reactor(1)]);
    agenda.schedule(0, 0, 1, 1);
    agenda.schedule(0, 0, 0.5, 2);
    agenda.schedule(0, 0, 2, 3);
    // An input in between counts the times of all that waits from another moment.
    expect(nextOnes(agenda, 4)).toEqual([
      { time: 0.25, input: 0 },
      { time: 1, reactor: 0, event: 1 },
      { time: 1, reactor: 0, event: 2 },
      { time: 2, reactor: 0, event: 3 },
    ]);
  });

  test('is not what was cancelled, all of a slot and no other', () => {
    const agenda = new Agenda([], [reactor(1), reactor(2)]);
    agenda.schedule(1, 1, 1, 1);
    agenda.schedule(1, 1, 2, 2);
    agenda.schedule(0, 0, 3, 3);
    agenda.schedule(1, 0, 4, 4);
    agenda.cancel(1, 1);
    expect(nextOnes(agenda, 2)).toEqual([
      { time: 3, reactor: 0, event: 3 },
      { time: 4, reactor: 1, event: 4 },
    ]);
    agenda.cancel(1, 1);
    agenda.cancel(0, 0);
    expect(agenda.toNext).toBe(Infinity);
    agenda.schedule(1, 1, 1, 5);
    expect(next(agenda)).toEqual({ time: 5, reactor: 1, event: 5 });
  });
});

describe('Agenda: the time', () => {
  test('keeps what passes in two parts', () => {
    const agenda = new Agenda([], [reactor(1)]);
    agenda.pass(1);
    for (let k = 0; k < 4; k++) agenda.pass(TINY);
    expect(agenda.now).toEqual({ high: 1, low: 4 * TINY });
    agenda.pass(2 ** -20);
    expect(agenda.now).toEqual({ high: 1 + 2 ** -20, low: 4 * TINY });
    agenda.schedule(0, 0, 1, 1);
    expect(agenda.toNext).toBe(1);
    agenda.pass(TINY);
    agenda.pass(2 ** -20);
    expect(agenda.toNext).toBe(1 - 2 ** -20);
    expect(agenda.now).toEqual({ high: 1 + 2 ** -19, low: 5 * TINY });
  });

  test('to what is due within its second part is the difference of these', () => {
    const agenda = new Agenda([], [reactor(1)]);
    agenda.pass(1);
    agenda.pass(TINY);
    agenda.schedule(0, 0, 4 * TINY, 1);
    expect(agenda.toNext).toBe(4 * TINY);
  });

  test('is the very one that an event was scheduled for, once it is taken', () => {
    const agenda = new Agenda([], [reactor(1)]);
    agenda.pass(1);
    agenda.pass(TINY);
    agenda.schedule(0, 0, 0.5, 1);
    agenda.pass(agenda.toNext);
    expect(agenda.takeEvent()).toEqual({ reactor: 0, event: 1 });
    expect(agenda.now).toEqual({ high: 1.5, low: TINY });
  });

  test('to what was scheduled at a time in two parts counts both of them', () => {
    const agenda = new Agenda([], [reactor(1)]);
    agenda.pass(1);
    agenda.pass(TINY);
    agenda.schedule(0, 0, 1, 1);
    // Due at 2 + 2^-60, and it is 1 + 2^-60 now, then 2, then 2 - 2^-60.
    agenda.pass(1 - TINY);
    expect(agenda.toNext).toBe(TINY);
  });

  test('since a corner: none of the second part is lost either', () => {
    // 0.1 and its fourth are no sums of few halves; corners are exactly 0.025 and 0.1 as doubles say.
    const agenda = new Agenda([pulses(0.1), steps(0, 0.03, 9)], []);
    const corners = [next(agenda), next(agenda)];
    expect(corners).toEqual([
      { time: 0.025, input: 0 },
      { time: 0.03, input: 1 },
    ]);
    agenda.pass(1e-3);
    const now = agenda.now;
    const since = subtractTwoPart(now, { high: 0.025, low: 0 });
    expect(agenda.sinceCorner(0)).toBe(since.high);
    expect(agenda.sinceCorner(1)).toBe(1e-3);
  });

  test('since a corner that lies in the same bits as now is what little has passed', () => {
    const agenda = new Agenda([pulses(1)], [reactor(1)]);
    next(agenda);
    agenda.pass(0.5);
    agenda.pass(TINY);
    agenda.schedule(0, 0, 0, 1);
    agenda.takeEvent();
    // The corner at 0.25 was 1/4 + 2^-60 ago; with 1/4 less on the clock that is 2^-60.
    const early = agenda.sinceCorner(0);
    expect(early).toBe(0.5 + TINY);
    next(agenda);
    agenda.pass(TINY);
    expect(agenda.sinceCorner(0)).toBe(TINY);
  });
});

describe('Agenda: what repeats itself', () => {
  test('is known at the very corner of an input that does, and no later', () => {
    const agenda = new Agenda([steps(0, 2), pulses(4)], [reactor(0, [{ at: 0.5, event: 1 }])]);
    expect(agenda.atRepeatingCorner).toBe(false);
    expect(next(agenda)).toEqual({ time: 0.5, reactor: 0, event: 1 });
    expect(agenda.atRepeatingCorner).toBe(false);
    expect(next(agenda)).toEqual({ time: 1, input: 1 });
    expect(agenda.atRepeatingCorner).toBe(true);
    agenda.pass(0.5);
    expect(agenda.atRepeatingCorner).toBe(false);
    expect(next(agenda)).toEqual({ time: 2, input: 0 });
    expect(agenda.atRepeatingCorner).toBe(false);
    const first = new Agenda([pulses(4)], []);
    next(first);
    expect(first.atRepeatingCorner).toBe(true);
  });

  test('are inputs as long as they have corners left', () => {
    expect(new Agenda([], []).hasRepeatingInputs).toBe(false);
    expect(new Agenda([steps(0, 2), { shape: 'constant', level: 1 }], []).hasRepeatingInputs).toBe(false);
    expect(new Agenda([steps(0, 2), pulses(1)], []).hasRepeatingInputs).toBe(true);
    const agenda = new Agenda([pulses(4, 1, 1)], []);
    expect(agenda.hasRepeatingInputs).toBe(true);
    next(agenda);
    expect(agenda.hasRepeatingInputs).toBe(true);
    next(agenda);
    expect(agenda.hasRepeatingInputs).toBe(false);
  });

  test('has the same phase one period on, and another in between', () => {
    const agenda = new Agenda([pulses(1), steps(0)], [reactor(1)]);
    const phases = Array.from({ length: 4 }, () => {
      next(agenda);
      agenda.schedule(0, 0, 0.125, 5);
      const phase = agenda.phase();
      next(agenda);
      return phase;
    });
    expect(phases[2]).toEqual(phases[0]);
    expect(phases[3]).toEqual(phases[1]);
    expect(phases[1]).not.toEqual(phases[0]);
  });

  test('has another phase when another event waits, or waits for another time', () => {
    const phaseOf = (after: number, event: number, passed = 0): number[] => {
      const agenda = new Agenda([pulses(1)], [reactor(1)]);
      next(agenda);
      agenda.schedule(0, 0, after, event);
      agenda.pass(passed);
      return agenda.phase();
    };
    expect(phaseOf(0.125, 1)).toEqual(phaseOf(0.125, 1));
    expect(phaseOf(0.125, 2)).not.toEqual(phaseOf(0.125, 1));
    expect(phaseOf(0.25, 1)).not.toEqual(phaseOf(0.125, 1));
    expect(phaseOf(0.125, 1, TINY)).not.toEqual(phaseOf(0.125, 1));
  });

  test('has no phase of inputs that do not repeat, or do not any more; nor of the clock where nothing is due', () => {
    const over = new Agenda([pulses(1, 1), steps(0, 0.5, 9)], [reactor(2)]);
    nextOnes(over, 2);
    over.pass(0.25);
    expect(over.phase()).toEqual([0, 0]);
    over.schedule(0, 1, 0.5, 3);
    // Two counts, the time in two parts and the event; then where the anchor is, and the clock in two parts.
    expect(over.phase()).toEqual([0, 1, 0.75, 0, 3, 1, 0.25, 0]);
  });
});

describe('Agenda.toSingular', () => {
  test('is the time to the first corner or entry of a timetable that does not come again', () => {
    const agenda = new Agenda([pulses(1), steps(0, 4)], [reactor(1, [{ at: 3, event: 1 }]), reactor(1)]);
    agenda.schedule(1, 0, 0.5, 1);
    expect(agenda.toSingular).toBe(3);
    agenda.pass(0.125);
    expect(agenda.toSingular).toBe(2.875);
    const later = new Agenda([pulses(1), steps(0, 2)], [reactor(0, [{ at: 3, event: 1 }])]);
    expect(later.toSingular).toBe(2);
    expect(new Agenda([pulses(1)], [reactor(1)]).toSingular).toBe(Infinity);
  });
});

describe('Agenda: periods to come', () => {
  test('are as many as the input lasts for that ends first', () => {
    const agenda = new Agenda([pulses(1, 10), pulses(2, 3), pulses(1)], []);
    // 10 pulses have 20 corners, the first of which has been passed at the start; 3 have 6.
    expect(agenda.periodsLeft([2, 0, 2])).toBe(9);
    expect(agenda.periodsLeft([4, 2, 4])).toBe(2);
    expect(agenda.periodsLeft([0, 0, 2])).toBe(Infinity);
    expect(agenda.periodsLeft([0, 0, 0])).toBe(Infinity);
  });

  /** What an agenda shows from now on. */
  const coming = (agenda: Agenda, many: number): unknown[] =>
    Array.from({ length: many }, () => [next(agenda), agenda.now]);

  test('are passed over as if each had been gone through', () => {
    const waves = [pulses(0.1), pulses(0.2), steps(0, 50.5)];
    const made = (): Agenda => {
      const agenda = new Agenda(waves, [reactor(1, [{ at: 50.25, event: 1 }]), reactor(0, [{ at: 50.125, event: 2 }])]);
      nextOnes(agenda, 7);
      expect(agenda.atRepeatingCorner).toBe(true);
      return agenda;
    };
    const walked = made();
    const skipped = made();
    // One period of 0.2 s has four corners of the first input and two of the second.
    nextOnes(walked, 6 * 100);
    const { high } = skipped.skip(100, [4, 2, 0], { high: 0.2, low: 0 });
    expect(high).toBeCloseTo(20, 12);
    expect(skipped.now).toEqual(walked.now);
    expect(skipped.marks).toEqual(walked.marks);
    expect(skipped.standing().corners).toEqual(walked.standing().corners);
    expect(skipped.standing().entries).toEqual(walked.standing().entries);
    expect(coming(skipped, 6 * 200)).toEqual(coming(walked, 6 * 200));
  });

  test('are passed over from any other moment by as much as they last: 3 times 2 + 2^-60', () => {
    const agenda = new Agenda([steps(0, 8)], [reactor(1, [{ at: 9, event: 2 }])]);
    agenda.schedule(0, 0, 0.5, 1);
    next(agenda);
    agenda.pass(0.25);
    const later = agenda.skip(3, [0], { high: 2, low: TINY });
    expect(later).toEqual({ high: 6, low: 3 * TINY });
    expect(agenda.now).toEqual({ high: 6.75, low: 3 * TINY });
    // What does not repeat itself comes when it was to come.
    expect(agenda.toNext).toBe(1.25 - 3 * TINY);
    expect(nextOnes(agenda, 2)).toEqual([
      { time: 8, input: 0 },
      { time: 9, reactor: 0, event: 2 },
    ]);
  });
});

describe('Agenda.standing()', () => {
  const waves = [pulses(0.1), steps(0, 0.06, 0.2)];
  const reactors = [
    reactor(
      1,
      [0.01, 0.07, 0.3].map((at, k) => ({ at, event: k })),
    ),
    reactor(2),
  ];
  function underWay(): Agenda {
    const agenda = new Agenda(waves, reactors);
    agenda.schedule(1, 1, 0.11, 5);
    agenda.schedule(1, 1, 0.15, 6);
    agenda.schedule(0, 0, 0.4, 7);
    nextOnes(agenda, 3);
    agenda.pass(1e-3);
    return agenda;
  }

  test('is plain data of where it stands, times counted from the last thing that happened', () => {
    const agenda = new Agenda([pulses(1), steps(0, 3)], [reactor(1, [{ at: 2, event: 1 }])]);
    agenda.schedule(0, 0, 0.5, 9);
    next(agenda);
    agenda.pass(0.125);
    expect(agenda.standing()).toEqual({
      anchor: [0.25, 0],
      clock: [0.125, 0],
      marks: [2, 0],
      corners: [
        [0.75, 0],
        [2.75, 0],
      ],
      timetables: [0],
      entries: [[1.75, 0]],
      slots: [[[0.25, 0, 9]]],
    });
  });

  test('is taken up by another agenda of the same program, bit for bit', () => {
    const first = underWay();
    const other = new Agenda(waves, reactors);
    other.schedule(1, 0, 1e-3, 3);
    other.resume(JSON.parse(JSON.stringify(first.standing())) as ReturnType<Agenda['standing']>);
    expect(other.standing()).toEqual(first.standing());
    expect(other.now).toEqual(first.now);
    for (let k = 0; k < 20; k++) {
      expect(other.toNext).toBe(first.toNext);
      expect(next(other)).toEqual(next(first));
      expect(other.now).toEqual(first.now);
    }
    expect(other.standing()).toEqual(first.standing());
  });

  test('is taken up with other waves and timetables: what they hold before now is over, also what is due just now', () => {
    const first = underWay();
    const { now } = first;
    const others = [
      reactor(
        1,
        [now.high, now.high + 0.5].map((at, k) => ({ at, event: 20 + k })),
      ),
      reactor(2),
    ];
    const anew = new Agenda([steps(0, 0.05, 0.25), pulses(0.5)], others);
    anew.resumeAnew(first.standing());
    expect(anew.now).toEqual(now);
    expect(anew.marks).toEqual([1, 1]);
    const all = nextOnes(anew, 6);
    expect(all).toEqual([
      { time: expect.closeTo(0.11, 15) as number, reactor: 1, event: 5 },
      { time: 0.125, input: 1 },
      { time: expect.closeTo(0.15, 15) as number, reactor: 1, event: 6 },
      { time: 0.25, input: 0 },
      { time: expect.closeTo(0.4, 15) as number, reactor: 0, event: 7 },
      { time: 0.5, input: 1 },
    ]);
    expect(next(anew)).toEqual({ time: now.high + 0.5, reactor: 0, event: 21 });
  });

  test('can be the end of everything', () => {
    const agenda = new Agenda([{ shape: 'constant', level: 1 }], [reactor(1)]);
    agenda.pass(2);
    const { corners, entries } = agenda.standing();
    expect([corners, entries]).toEqual([[null], [null]]);
    const other = new Agenda([{ shape: 'constant', level: 1 }], [reactor(1)]);
    other.resume(agenda.standing());
    expect(other.toNext).toBe(Infinity);
    expect(addTwoPart(other.now, { high: 0, low: 0 } satisfies TwoPart)).toEqual({ high: 2, low: 0 });
  });
});
