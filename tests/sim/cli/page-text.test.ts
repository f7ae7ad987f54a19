import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { rangeText, stretchText, timeText } from '#sim/cli/number-words.ts';
import { Told } from '#sim/cli/told.ts';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { captured } from '../../support/captured-output.ts';
import { documentOf } from '../../support/documents.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What `compute` prints of a page, thin spaces as ordinary ones. */
async function printed(boards: unknown, page: readonly unknown[]): Promise<string> {
  const path = join(folder, 'page.tt.json');
  writeFileSync(path, JSON.stringify(documentOf(boards, page)));
  return plain((await captured(['compute', path])).out);
}

function timesIn(text: string, words: string): number {
  return text.split(words).length - 1;
}

const ideal = { 'U1.family': 'ideal' };

describe('a trace as text', () => {
  test('tells when the logic lanes that are shown were on, and of no other net', async () => {
    const cell = { id: 'look', kind: 'trace', board: 'flasher', until: '2 s', show: ['out'] };
    const text = await printed({ flasher: { ready: 'astable', values: ideal } }, [cell]);
    // High for (R1 + R2) C1 ln 3 = 78 kΩ · 10 µF · 1.0986 = 856.9 ms at first, then low for 68 kΩ · 10 µF · ln 2 = 471.3 ms
    // and high for 78 kΩ · 10 µF · ln 2 = 540.7 ms, from 1.328 s to 1.869 s.
    expect(text).toContain('\n  out  high 0 s to 856.9 ms, 1.328 s to 1.869 s\n');
    expect(text).not.toContain('timing');
  });

  test('tells two instants close to each other with the digits that their distance needs', () => {
    expect(plain(stretchText(4, 4.000368))).toBe('4 s to 4.00037 s');
    expect(plain(stretchText(4.0004, 4.0012))).toBe('4.0004 s to 4.0012 s');
    expect(plain(stretchText(0, 0.8569))).toBe('0 s to 856.9 ms');
    expect(plain(stretchText(0.16701, 0.3763))).toBe('167 ms to 376.3 ms');
    expect(plain(stretchText(2, 2))).toBe('2 s to 2 s');
    expect(plain(stretchText(0, 0))).toBe('0 s to 0 s');
  });

  test('tells an input by when it was low, and counts what is not written out', async () => {
    const cell = { id: 'look', kind: 'trace', board: 'counter', until: '2 s', show: ['in', 'timing'] };
    const text = await printed({ counter: { ready: 'frequency divider', values: ideal } }, [cell]);
    // Pulses of 8 ms every 150 ms from 0.1 s on: the 13th and last comes at 1.9 s.
    expect(text.replaceAll(/\s+/g, ' ')).toContain(
      'in low 100 ms to 108 ms, 250 ms to 258 ms, 400 ms to 408 ms, 550 ms to 558 ms, 700 ms to 708 ms, 850 ms to 858 ms, and 7 more times',
    );
    expect(text).not.toMatch(/timing {2}(high|low)/);
  });

  test('gives no number of stretches where more of them came than are listed', async () => {
    const cell = { id: 'look', kind: 'trace', board: 'counter', until: '1500000000 s', show: ['out'] };
    const text = await printed({ counter: { ready: 'frequency divider', values: ideal } }, [cell]);
    expect(text.replaceAll(/\s+/g, ' ')).toContain('and many more times (--csv and --json list the first of them)');
    expect(text).not.toMatch(/and \d+ more/);
  });

  test('tells of a lane that never steps which level it keeps, and where a stretch reaches beyond the window', async () => {
    const wave = { shape: 'pulses', period: '1 s', width: '500 ms', rest: '12 V', pulse: '0 V', delay: '100 ms' };
    const values = { ...ideal, 'G1.wave': wave };
    const look = { kind: 'trace', board: 'counter', show: ['in', 'out'] };
    const text = await printed({ counter: { ready: 'frequency divider', values } }, [
      { ...look, id: 'before', until: '50 ms' },
      { ...look, id: 'within', from: '200 ms', until: '1.2 s' },
    ]);
    expect(text).toContain('out  low throughout');
    expect(text).toContain('in   low up to 600 ms, from 1.1 s on');
  });

  test('says what the fate marks under a trigger stand for', async () => {
    const cell = { id: 'look', kind: 'trace', board: 'counter', until: '1 s', show: ['in', 'out'] };
    const text = await printed({ counter: { ready: 'frequency divider', values: ideal } }, [cell]);
    expect(text).toContain('● started   ○ ignored\n');
  });
});

describe('rangeText(low, high, unit)', () => {
  test('takes an end lost in the rounding of the other for 0', () => {
    expect(plain(rangeText(-4.4e-16, 10.7, 'V'))).toBe('0 V to 10.7 V');
    // 0.5 µA of trigger current in 50 Ω.
    expect(plain(rangeText(25e-6, 12, 'V'))).toBe('0 V to 12.0 V');
    expect(plain(rangeText(-12, 3e-15, 'V'))).toBe('−12.0 V to 0 V');
  });

  test('keeps an end that an instrument shows, and a signal that is small throughout', () => {
    expect(plain(rangeText(0.02, 10.7, 'V'))).toBe('20.0 mV to 10.7 V');
    expect(plain(rangeText(1e-9, 2e-9, 'A'))).toBe('1.00 nA to 2.00 nA');
    expect(plain(rangeText(5, 5, 'V'))).toBe('5.00 V');
  });
});

describe('timeText(time)', () => {
  test('writes four digits at most and none that is padding', () => {
    const texts = [0, 6, 0.1, 0.61524, 3.208, 350e-9, 1234.5].map((time) => plain(timeText(time)));
    expect(texts).toEqual(['0 s', '6 s', '100 ms', '615.2 ms', '3.208 s', '350 ns', '1235 s']);
  });
});

describe('readings as text', () => {
  test('have what the textbook says of the same number beside them', async () => {
    const take = { width: 'width(out)', ratio: 'ratio( out,in )', top: 'peak(timing)', stop: 'width(in, 20 V)' };
    const text = await printed({ counter: { ready: 'frequency divider', values: ideal } }, [
      { id: 'circuit', kind: 'board', board: 'counter' },
      { id: 'numbers', kind: 'reading', board: 'counter', until: '6 s', take },
    ]);
    // R C ln 3 = 68 kΩ · 4.7 µF · 1.0986 = 351 ms; with 1.1 it is 352 ms, 2.3 spacings of 150 ms.
    expect(text).toContain('  width  351 ms    width(out), by the textbook 352 ms\n');
    expect(text).toContain('  ratio  3         ratio( out,in ), by the textbook 3\n');
    expect(text).toContain('  top    8.00 V    peak(timing)\n');
  });
});

describe('what concerns a whole board', () => {
  const hot = {
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'ground', resistance: 100 },
    ],
  };

  test('parts beyond their limits are told once, under the first cell that saw it', async () => {
    const text = await printed({ hot }, [
      { id: 'look', kind: 'trace', board: 'hot', until: 1, show: ['current(R1)'] },
      { id: 'heat', kind: 'reading', board: 'hot', until: 1, take: { heat: 'power(R1)' } },
      { id: 'later', kind: 'reading', board: 'hot', from: 1, until: 2, take: { heat: 'power(R1)' } },
    ]);
    // 81 V^2 / 100 ohm is 0.81 W, above the 0.25 W used until a rating is stated.
    expect(timesIn(text, 'R1 took more than 250 mW')).toBe(1);
    expect(text.indexOf('R1 took')).toBeLessThan(text.indexOf('heat: readings'));
  });

  test('the same limit passed on two boards is told for each', async () => {
    const reading = { kind: 'reading', until: 1, take: { heat: 'power(R1)' } };
    const text = await printed({ hot, other: hot }, [
      { ...reading, id: 'one', board: 'hot' },
      { ...reading, id: 'two', board: 'other' },
    ]);
    expect(timesIn(text, 'R1 took more than 250 mW')).toBe(2);
  });

  test('a fault of the board is told once, and the other cells say where', async () => {
    const [supply] = hot.parts;
    const bad = { parts: [supply, { name: 'R1', kind: 'resistor', a: 'rail', b: 'ground', resistance: '4.7k' }] };
    const reading = { kind: 'reading', board: 'bad', until: 1, take: { heat: 'power(R1)' } };
    const text = await printed({ bad }, [
      { id: 'circuit', kind: 'board', board: 'bad' },
      { ...reading, id: 'one' },
      { ...reading, id: 'two' },
    ]);
    expect(timesIn(text.replaceAll(/\s+/g, ' '), 'The unit is missing. Write 4.7 kΩ or 4K7.')).toBe(1);
    expect(text).toContain('circuit: cannot be computed\n');
    expect(text).toContain('one: cannot be computed, for the reason given at circuit\n');
    expect(text).toContain('two: cannot be computed, for the reason given at circuit\n');
  });

  test('a run that stopped early says once why', async () => {
    const press = { name: 'S1', kind: 'button', a: 'rail', b: 'ground', presses: [{ at: 1, for: 1 }] };
    const reading = { kind: 'reading', board: 'shorted', until: 3, take: { volts: 'mean(rail)' } };
    const text = await printed({ shorted: { parts: [...hot.parts, press] } }, [
      { ...reading, id: 'one' },
      { ...reading, id: 'two' },
    ]);
    expect(text).toMatch(/one: stopped early\n {2}page\[0\] \(one\): /);
    expect(text).toContain('two: stopped early, for the reason given at one\n');
    // What was computed until then is there for both.
    expect(timesIn(text, 'volts  9.00 V')).toBe(2);
  });

  test('a caution about what flashes is told once for each board', () => {
    const told = new Told();
    const cautions = ['Mind the lamp D1.'];
    expect(told.newCautions({ board: 'flasher', cautions })).toEqual(cautions);
    expect(told.newCautions({ board: 'flasher', cautions })).toEqual([]);
    expect(told.newCautions({ board: 'slim', cautions })).toEqual(cautions);
  });

  test('cautions about all boards come before those about some', async () => {
    const boards = { small: { ready: 'monostable' }, large: { ready: 'monostable', values: { C1: '1 mF' } } };
    const text = await printed(boards, [
      { id: 'one', kind: 'board', board: 'small' },
      { id: 'two', kind: 'board', board: 'large' },
    ]);
    const cautions = text.slice(text.indexOf('Cautions')).split('\n- ').slice(1);
    const particular = cautions.map((caution) => /^(small|large): /.test(caution));
    expect(particular).toContain(true);
    expect(particular.lastIndexOf(false)).toBeLessThan(particular.indexOf(true));
  });

  test('of a variant of a board only the parts that differ are listed', async () => {
    const ready = 'monostable';
    const boards = { platform: { ready }, slow: { ready, values: { C1: '47 µF' } }, bell: { ready: 'touch switch' } };
    const text = await printed(boards, [
      { id: 'one', kind: 'board', board: 'platform' },
      { id: 'two', kind: 'board', board: 'slow' },
      { id: 'three', kind: 'board', board: 'bell' },
      { id: 'four', kind: 'board', board: 'platform' },
    ]);
    expect(text).toContain(
      'two: board slow\n  Parts as on platform, but:\n  C1  capacitor  capacitance 47 µF; polarised yes; rating 25 V\n',
    );
    expect(text).toMatch(/three: board bell\n {2}BT1 /);
    expect(text).toContain('four: board platform\n  Parts as above.\n');
  });
});
