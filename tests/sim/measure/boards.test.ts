import { describe, expect, it } from 'vitest';
import { boardOf, divider, type FilePart, fatesOf, readAll } from '../../support/run-board.ts';

/** Relative agreement with closed forms that the engine promises (model.md: 1e-12 away from grazing). */
const PROMISED = 1e-12;

function closeTo(got: unknown, wanted: number): void {
  expect(Math.abs(Number(got) / wanted - 1)).toBeLessThanOrEqual(PROMISED);
}

const valuesOf = (...[board, window, calls]: Parameters<typeof readAll>): unknown[] =>
  readAll(board, window, calls).map(({ value }) => value);

/** Resistance times capacitance of the divider (s), and its interval R C ln 3 from an empty capacitor. */
const RC = 68e3 * 4.7e-6;
const T = RC * Math.log(3);

const supply: FilePart = {
  name: 'BT1',
  kind: 'supply',
  plus: 'rail',
  minus: 'ground',
  voltage: '12 V',
  origin: 'isolated',
};
const astable = boardOf([
  supply,
  {
    name: 'U1',
    kind: 'timer',
    family: 'ideal',
    pins: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'timing',
      output: 'out',
      threshold: 'timing',
      discharge: 'tap',
    },
  },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'tap', resistance: '1 kΩ' },
  { name: 'R2', kind: 'resistor', a: 'tap', b: 'timing', resistance: '10 kΩ' },
  { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '10 µF' },
]);

describe('readings of a divider', () => {
  it('width is R C ln 3, and the ratio floor(T / Tin) + 1', () => {
    const [width, ratio, period, duty, count, first] = valuesOf(divider({}), 6, [
      'width(out)',
      'ratio(out, in)',
      'period(out)',
      'duty(out)',
      'count(out)',
      'first(out)',
    ]);
    closeTo(width, T);
    expect(ratio).toBe(3);
    closeTo(period, 0.45);
    closeTo(duty, T / 0.45);
    expect([count, first]).toEqual([14, 0]);
  });

  it.each([0.4, 0.9, 1.1, 2.5, 3.99, 4.01, 9.5])('ratio at T = %d Tin', (times) => {
    const period = T / times;
    const board = divider({ period, width: period / 100 });
    expect(valuesOf(board, 60 * period, ['ratio(out, in)'])).toEqual([Math.floor(times) + 1]);
  });

  it('a pulse that comes exactly when the interval ends finds it running: ratio 3 at T = 2 Tin', () => {
    const board = divider({ period: T / 2 });
    expect(valuesOf(board, 6, ['ratio(out, in)'])).toEqual([3]);
    const { pulses } = fatesOf(board, 6);
    expect(pulses.slice(0, 4).map(({ fate }) => fate)).toEqual(['started', 'ignored', 'held', 'started']);
    expect(pulses[2]!.heldFor).toBeCloseTo(0.008, 12);
  });

  it('level(timing, t) follows V (1 - exp(-t / RC)), and mean(out) the duty', () => {
    const [level, mean] = valuesOf(divider({}), 4.5, ['level(timing, 100 ms)', 'mean(out)']);
    closeTo(level, 12 * (1 - Math.exp(-0.1 / RC)));
    closeTo(mean, (12 * T) / 0.45);
  });

  it('current and power of the timing resistor: charge 2/3 V C each time, then V / R through the discharge', () => {
    const until = 4.5;
    const [current, power, charge] = valuesOf(divider({}), until, ['current(R1)', 'power(R1)', 'current(C1)']);
    const charges = 8 * 4.7e-6;
    const rest = 0.45 - T;
    closeTo(current, (charges + (12 / 68e3) * rest) / 0.45);
    // While charging: integral of V^2/R exp(-2t/RC) = V^2 C / 2 (1 - 1/9).
    closeTo(power, ((144 * 4.7e-6 * (8 / 9)) / 2 + (144 / 68e3) * rest) / 0.45);
    // The charge of each interval leaves in an instant at its end, so nothing stays.
    expect(Math.abs(Number(charge))).toBeLessThan(1e-18);
  });

  it('light(led) is the mean current as a share of the limit', () => {
    const led = [
      { name: 'LED1', kind: 'led', a: 'out', b: 'lamp', forward: '2 V', slope: '10 Ω', limit: '20 mA' },
      { name: 'R2', kind: 'resistor', a: 'lamp', b: 'ground', resistance: '990 Ω' },
    ];
    // 10 V over 1000 Ω while the output is high: 10 mA of 20 mA.
    closeTo(valuesOf(divider({ more: led }), 4.5, ['light(LED1)'])[0], (0.5 * T) / 0.45);
  });

  it('says why a stuck output has no width', () => {
    const leak = { name: 'R9', kind: 'resistor', a: 'timing', b: 'ground', resistance: '68 kΩ' };
    expect(
      readAll(divider({ more: [leak] }), 20, ['width(out)', 'ratio(out, in)']).map(({ reason }) => reason),
    ).toEqual(['out never fell before 20\u202fs', 'out rose only once before 20\u202fs; a ratio needs two']);
  });

  it('delay(in, out, fall, rise) is the minimum trigger width and the delay of the family', () => {
    const board = divider({ family: 'bipolar' });
    const { delay, minimumTrigger } = board.timers[0]!;
    const [seen] = valuesOf(board, 6, ['delay(in, out, fall, rise)']) as [number];
    expect(delay + minimumTrigger).toBeGreaterThan(0);
    // A difference of two-part times of up to 6 s, its summands below 1 µs.
    expect(Math.abs(seen - delay - minimumTrigger)).toBeLessThan(1e-15);
  });
});

describe('readings of an astable', () => {
  it('lows are R2 C ln 2, widths (R1 + R2) C ln 2, and the first width (R1 + R2) C ln 3', () => {
    const [widths, lows, period] = valuesOf(astable, 2, ['widths(out)', 'lows(out)', 'periods(out)']) as number[][];
    closeTo(widths![0], 0.11 * Math.log(3));
    for (const width of widths!.slice(1)) closeTo(width, 0.11 * Math.log(2));
    for (const low of lows!) closeTo(low, 0.1 * Math.log(2));
    closeTo(period![1], 0.21 * Math.log(2));
  });

  it('a capacitor that turns round at a limit makes no edge there', () => {
    const [upper, lower, peak] = valuesOf(astable, 2, [
      'count(timing, 8 V)',
      'count(timing, 4 V, fall)',
      'peak(timing)',
    ]);
    expect([upper, lower]).toEqual([0, 0]);
    closeTo(peak, 8);
  });
});

describe('fates on boards', () => {
  it('ignored pulses carry the voltage and the time to go', () => {
    const { pulses, counts, explanation } = fatesOf(divider({}), 6);
    expect(counts).toEqual({ started: 14, held: 0, ignored: 26, short: 0, barred: 0 });
    closeTo(pulses[1]!.threshold, 12 * (1 - Math.exp(-0.15 / RC)));
    closeTo(pulses[1]!.toGo, T - 0.15);
    // 12 (1 - exp(-0.15/0.3196)) = 4.49 V, 56 % of 8 V; T - 0.15 = 0.201 s; T / 0.15 = 2.34.
    expect(pulses[1]!.reason).toBe(
      'Ignored: the interval was still running; timing stood at 4.49\u202fV of its 8.00\u202fV limit (56\u202f%), 201\u202fms to go.',
    );
    expect(explanation).toBe(
      '40 input pulses came before 6\u202fs: 14 started an interval and 26 found it running and were ignored. ' +
        'Each of the 13 complete intervals lasted 351\u202fms. ' +
        'Every start after the first came 3 pulses after the one before: the ratio is 3 throughout. ' +
        'An interval is 2.34 times the 150\u202fms from pulse to pulse, so 2 further pulses fall inside it and the next one starts an interval again.',
    );
  });

  it('held pulses keep the output on to their end', () => {
    const board = divider({ width: 0.1 });
    const { pulses, counts, intervals } = fatesOf(board, 6);
    expect(counts).toMatchObject({ started: 14, held: 13, ignored: 13 });
    closeTo(pulses[2]!.heldFor, 0.4 - T);
    closeTo(pulses[0]!.interval, T);
    closeTo(intervals[0]!.until, 0.4);
    closeTo(valuesOf(board, 6, ['width(out)'])[0], 0.4);
  });

  it('a trigger that outlasts every interval makes the output an inverted copy, and the explanation says so', () => {
    const board = divider({ period: 1, width: 0.5 });
    const { counts, explanation, pulses } = fatesOf(board, 6);
    expect(counts).toMatchObject({ started: 6, held: 0 });
    closeTo(pulses[0]!.heldFor, 0.5 - T);
    expect(explanation).toContain('an inverted copy of it');
    closeTo(valuesOf(board, 6, ['width(out)'])[0], 0.5);
  });

  it('an interval that never ends is explained by where THRESHOLD stopped', () => {
    const leak = { name: 'R9', kind: 'resistor', a: 'timing', b: 'ground', resistance: '68 kΩ' };
    const { counts, explanation } = fatesOf(divider({ more: [leak] }), 6);
    expect(counts).toMatchObject({ started: 1, ignored: 39 });
    expect(explanation).toContain(
      'did not end before 6\u202fs: timing has come to rest at 6.00\u202fV, below its limit of 8.00\u202fV, so unless something changes it never ends.',
    );
  });

  it('RESET bars pulses, cuts intervals short, and lets a pulse start that is still low at its release', () => {
    const wave = { shape: 'pulses', period: 1.6, width: 0.5, delay: 0.2, rest: '12 V', pulse: '0 V' };
    const more = [{ name: 'G2', kind: 'signal', plus: 'stop', minus: 'ground', wave }];
    const { pulses, counts, explanation } = fatesOf(divider({ reset: 'stop', more, width: 0.12 }), 1.2);
    // RESET is low from 0.2 to 0.7 s: pulses at 0.3 and 0.45 are barred, the one at 0.6 is low until 0.72 s.
    // The interval from 0.7 s on lasts until 1.051 s: it runs out just after the pulse of 1.05 s has come.
    expect(pulses.map(({ fate }) => fate)).toEqual([
      'started',
      'ignored',
      'barred',
      'barred',
      'started',
      'ignored',
      'ignored',
      'held',
    ]);
    expect(counts.barred).toBe(2);
    expect(pulses[0]!.reason).toBe('Started: an interval that RESET ended after 200\u202fms.');
    expect(pulses[4]!.reason).toContain('Started when RESET let go, 100\u202fms after the pulse came');
    expect(explanation).toContain('RESET ended 1 interval early. 1 interval began at the release of RESET');
  });

  it('pulses below the minimum trigger width are short', () => {
    const board = divider({ width: 0.0005, timer: { with: { minimumTrigger: '1 ms' } } });
    const { counts, explanation } = fatesOf(board, 6);
    expect(counts).toMatchObject({ short: 40, started: 0 });
    expect(explanation).toBe(
      '40 input pulses came before 6\u202fs, and each was too short to act. They were low for 500\u202fµs; the trigger needs 1.00\u202fms.',
    );
  });

  it('a latch that is set from the start runs an interval that no pulse began', () => {
    const { counts, intervals } = fatesOf(divider({ timer: { start: 'set' }, width: 0.01 }), 0.3);
    expect(counts).toMatchObject({ started: 0, ignored: 2 });
    expect(intervals).toEqual([{ from: 0, until: null }]);
  });

  it('an astable starts itself with pulses of no length', () => {
    const { pulses, counts, explanation } = fatesOf(astable, 2);
    expect(counts).toEqual({ started: 14, held: 0, ignored: 0, short: 0, barred: 0 });
    for (const { time, end } of pulses.slice(1)) expect(end).toBe(time);
    expect(explanation).toContain(
      'TRIGGER and THRESHOLD share the net timing: an interval starts whenever that net has fallen',
    );
    // 0.11 s ln 2 = 76.2 ms from 4 V; 0.11 s ln 3 = 121 ms from 0 V.
    expect(explanation).toContain('The later intervals lasted 76.2\u202fms, counted from 4.00\u202fV.');
    expect(explanation).toContain('The first, which began from a lower voltage, lasted 121\u202fms.');
  });

  it('says that no pulse came where none did', () => {
    const { explanation, pulses } = fatesOf(divider({ wave: { shape: 'constant', level: '12 V' } }), 6);
    expect(pulses).toEqual([]);
    expect(explanation).toBe('No input pulse came before 6\u202fs: in never fell below the trigger reference of U1.');
  });

  it('a discharge of limited current explains shorter intervals by a capacitor that had no time to empty', () => {
    // 470 µF at 8 V hold 3.8 mC, and 12 V through 1 kΩ bring up to 12 mA more; a sink of 20 mA takes about 0.3 s for that,
    // far longer than the gap between intervals.
    const board = divider({
      resistance: '1 kΩ',
      capacitance: '470 µF',
      period: 0.3,
      timer: { with: { dischargeCurrent: '20 mA', dischargeResistance: '10 Ω' } },
    });
    const { explanation, pulses } = fatesOf(board, 6);
    expect(explanation).toContain('and were shorter: the capacitor had had no time to empty.');
    const late = pulses.filter(({ fate }) => fate === 'started').at(-2)!;
    expect(late.threshold).toBeGreaterThan(0.1);
    expect(late.reason).toContain('at THRESHOLD,');
  });
});
