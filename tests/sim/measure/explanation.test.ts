import { describe, expect, it } from 'vitest';
import { divider, fatesOf } from '../../support/run-board.ts';
import { plain } from '../../support/circuit-issues.ts';

/** Resistance times capacitance of the divider (s), and its interval R C ln 3 from an empty capacitor. */
const RC = 68e3 * 4.7e-6;
const T = RC * Math.log(3);

/** The explanation and the reason of each pulse, with ordinary spaces. */
function said(...[board, window]: Parameters<typeof fatesOf>): { explanation: string; reasons: string[] } {
  const { explanation, pulses } = fatesOf(board, window);
  return { explanation: plain(explanation), reasons: pulses.map(({ reason }) => plain(reason)) };
}

describe('where an interval starts from', () => {
  // 4.7 µF at 3.3 V hold 16 µC, which 0.15 A take away in 0.1 ms; some 100 ms are left for it. What stays is the
  // saturation voltage of the discharge pin, 37 mV (family table), which is 1.1 % of two thirds of 5 V.
  it.each([4.5, 5, 5.5, 12])('at %d V: an emptied capacitor is not called one that had no time to empty', (voltage) => {
    const { explanation, reasons } = said(divider({ family: 'bipolar', voltage }), 6);
    expect(explanation).toContain('the ratio is 3 throughout');
    expect(explanation).not.toMatch(/no time|still at|not back/);
    expect(reasons.filter((reason) => reason.includes('counted from'))).toEqual([]);
  });

  it('at 5 V: a capacitor that really had no time is called so, and how many times', () => {
    // As the hurried board of the axle counter, at 5 V: 220 µF · 3.3 V / 0.15 A = 4.9 ms to empty at the very least.
    // R C ln 3 is 0.65 s; with 0.327 s between pulses the third comes 1.4 ms after the end and finds C1 half full.
    const hurried = { family: 'bipolar', voltage: 5, resistance: '2.7 kΩ', capacitance: '220 µF', period: 0.3245 };
    const { explanation, reasons } = said(divider(hurried), 12);
    expect(explanation).toMatch(
      /\d+ of the \d+ intervals began with THRESHOLD still at [\d.]+ V and were shorter: the capacitor had had no time to empty\./,
    );
    expect(reasons.some((reason) => /counted from [12]\.\d\d V at THRESHOLD/.test(reason))).toBe(true);
  });

  it('a capacitor that has come to rest high up is not called one that had no time to empty', () => {
    // A discharge pin of 200 Ω against 1 kΩ leaves 12 V · 200 / 1200 = 2 V, 25 % of 8 V; 1 µF · 167 Ω settle in a millisecond.
    const board = divider({
      resistance: '1 kΩ',
      capacitance: '1 µF',
      timer: { with: { dischargeResistance: '200 Ω' } },
      width: 0.0001,
      period: 0.02,
    });
    const { explanation, reasons } = said(board, 1);
    expect(explanation).not.toContain('no time to empty');
    // R C ln (10 V / 4 V) = 0.916 ms.
    expect(reasons.at(-2)).toBe('Started: an interval of 916 µs, counted from 2.00 V at THRESHOLD, 25 % of its limit.');
  });
});

describe('what is said of the ratio', () => {
  it('a ratio takes three gaps from start to start: with fewer only those are told', () => {
    // Starts at 0, 0.45, 0.9 and 1.35 s: two gaps before 1 s, three before 1.4 s.
    expect(said(divider({}), 0.5).explanation).toContain('The second start came 3 pulses after the first.');
    expect(said(divider({}), 0.5).explanation).not.toContain('ratio');
    expect(said(divider({}), 1).explanation).toContain('Both later starts came 3 pulses after the one before.');
    expect(said(divider({}), 1).explanation).not.toContain('ratio');
    expect(said(divider({}), 1.4).explanation).toContain(
      'Every start after the first came 3 pulses after the one before: the ratio is 3 throughout.',
    );
  });

  it('a ratio takes evenly spaced pulses: with others it is told that nothing follows for others yet', () => {
    // Pairs of pulses: the second of each comes 0.1 s after the first, within T = 0.351 s; pairs are 0.5 to 0.8 s apart.
    const points = [0, 0.6, 1.1, 1.9, 2.5].flatMap((at) => [
      [at, 0],
      [at + 0.01, 12],
      [at + 0.1, 0],
      [at + 0.11, 12],
    ]);
    const { explanation } = said(divider({ wave: { shape: 'points', between: 'steps', points } }), 3);
    expect(explanation).not.toContain('the ratio is 2');
    expect(explanation).toContain(
      'Every start after the first came 2 pulses after the one before; the pulses came unevenly, 100 ms to 700 ms apart, so no ratio follows from that.',
    );
  });

  it('pulses that all start an interval need no word on their gaps when there are few', () => {
    expect(said(divider({ period: 0.5 }), 0.9).explanation).toBe(
      '2 input pulses came before 900 ms, and each started an interval. Both complete intervals lasted 351 ms.',
    );
  });
});

describe('THRESHOLD above its limit', () => {
  // R1 = 0 Ω holds THRESHOLD at the supply, 12 V, above 8 V. TRIGGER beats it, and when TRIGGER lets go nothing holds.
  const board = divider({ resistance: 0, timer: { with: { dischargeCurrent: '20 mA' } } });

  it('no interval is timed; the output lasts as long as the trigger is low', () => {
    const { reasons, explanation } = said(board, 6);
    expect(reasons[0]).toBe(
      'Started: no interval was timed, since THRESHOLD stood at 12.0 V, above its limit of 8.00 V; the output stayed on just as long as the trigger was low, 8.00 ms.',
    );
    expect(explanation).toContain('40 input pulses came before 6 s, and each switched the output on.');
    expect(explanation).toContain(
      'THRESHOLD was not below its limit at any start, so no interval was timed: the output stayed on just as long as the trigger was low, 8.00 ms.',
    );
    expect(`${reasons.join(' ')} ${explanation}`).not.toMatch(/interval of 0 s|lasted 0 s|150 %|outlast/);
  });

  it('starts that were timed are told apart from those that were not', () => {
    // Without a discharge pin C1 charges for ever: at 0.1 s it is below 8 V, T = 0.351 s later it is not, and stays so.
    const pins = { supply: 'rail', ground: 'ground', trigger: 'in', output: 'out', threshold: 'timing' };
    const { explanation } = said(divider({ period: 0.5, timer: { pins } }), 1.2);
    expect(explanation).toBe(
      '3 input pulses came before 1.2 s, and each switched the output on. THRESHOLD was not below its limit at 2 of the 3 starts, so no interval was timed there: the output stayed on just as long as the trigger was low, 8.00 ms. The other interval lasted 351 ms.',
    );
  });

  it('a trigger still low at the end is told as such', () => {
    const { reasons } = said(board, 0.154);
    expect(reasons.at(-1)).toBe(
      'Started: no interval was timed, since THRESHOLD stood at 12.0 V, above its limit of 8.00 V; the output stays on just as long as the trigger is low, which it still was at the end of the run.',
    );
  });
});

describe('an interval that does not end', () => {
  const leak = (resistance: string) => ({ name: 'R9', kind: 'resistor', a: 'timing', b: 'ground', resistance });

  it('is told to aim below its limit', () => {
    // R1 and the leak halve 12 V: aim 6 V, time constant RC / 2 = 0.16 s. After 0.2 s: 6 V (1 - exp(-0.2 / 0.1598)) = 4.28 V.
    const after = (until: number) => said(divider({ more: [leak('68 kΩ')] }), until).explanation;
    expect(after(0.2)).toContain(
      'The interval that began at 0 s did not end before 200 ms: timing stood at 4.28 V by then and aims at 6.00 V, below its limit of 8.00 V, so unless something changes it never ends.',
    );
    expect(after(6)).toContain(
      'did not end before 6 s: timing has come to rest at 6.00 V, below its limit of 8.00 V, so unless something changes it never ends.',
    );
  });

  it('writes as many digits as tell the aim from the limit', () => {
    // 12 V · 135.9 / 203.9 = 7.99804 V.
    expect(said(divider({ more: [leak('135.9 kΩ')] }), 6).explanation).toContain(
      'timing has come to rest at 7.998 V, below its limit of 8.000 V',
    );
  });

  it('says since when without padding, and that a limit is only approached', () => {
    // 12 V · 136 / 204 is the limit of 8 V itself. The pulse comes at 0.1 s.
    const wave = { shape: 'pulses', period: '150 ms', width: '8 ms', rest: '12 V', pulse: '0 V', delay: '100 ms' };
    expect(said(divider({ more: [leak('136 kΩ')], wave }), 3).explanation).toContain(
      'The interval that began at 100 ms did not end before 3 s: timing comes ever nearer to its limit of 8.00 V and never passes it, so unless something changes it never ends.',
    );
  });

  it('an aim above the limit is no reason to say never', () => {
    const { explanation } = said(divider({ period: 1 }), 0.3);
    // 12 V (1 - exp(-0.3 / 0.3196)) = 7.31 V; T is 0.351 s.
    expect(T).toBeGreaterThan(0.3);
    expect(explanation).toContain('did not end before 300 ms: timing stood at 7.31 V of its 8.00 V limit by then.');
    expect(explanation).not.toContain('never ends');
  });

  it('a pulse that comes just before the end reads a voltage told from the limit', () => {
    // 0.1 ms before the end 8 V - 4 V · 0.1 ms / RC = 7.9987 V.
    const { reasons } = said(divider({ period: T - 1e-4 }), 1);
    expect(reasons[1]).toContain('timing stood at 7.999 V of its 8.000 V limit');
  });
});
