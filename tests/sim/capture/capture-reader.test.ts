import { CaptureReader, type CaptureRequest, readCapture } from '#sim/capture/capture-reader.ts';
import type { Capture } from '#sim/capture/capture.ts';
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normalNumbers } from '../../support/made-capture.ts';

const request: CaptureRequest = { known: ['out', 'timing'], level: 6, hysteresis: 0.6 };

function read(text: string, more: Partial<CaptureRequest> = {}): Capture {
  const outcome = readCapture(text, { ...request, ...more });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.fault));
  return outcome.capture;
}

function faultOf(text: string, more: Partial<CaptureRequest> = {}): string {
  const outcome = readCapture(text, { ...request, ...more });
  if (outcome.ok) throw new Error('was read');
  const { field, rule, got } = outcome.fault;
  return `${field} must ${rule}; got ${got}`;
}

const column = ({ times, channels }: Capture): unknown => [
  times,
  ...channels.map(({ net, values }) => [net, ...values]),
];
const plain = [
  [0, 1, 2],
  ['out', 0, 11, 0.5],
];

describe('readCapture(text, request)', () => {
  test.each([
    ['commas', 'time_s,out_V\n0,0\n1,11\n2,0.5\n'],
    ['semicolons and decimal commas', 'Zeit;time (s);out (V)\n9;0;0\n9;1,0;11\n9;2;0,5\n'],
    ['tabs and decimal commas', 'time [s]\tout [V]\n0\t0\n1,0\t1,1e1\n2\t,5\n'],
    ['CR LF, a byte order mark and quotes', '\uFEFF"time_s","out_V"\r\n"0","0"\r\n"1","11"\r\n"2","0.5"'],
    ['CR alone', 'time_s,out_V\r0,0\r1,11\r2,0.5\r'],
    ['comments and empty lines', '# bench\ntime_s,out_V\n\n0,0\n% touched\n1,11\n;;\n2,0.5\n'],
    ['lines of an instrument above the titles', 'Model,ABC1\nLength,3\n\ntime_s,out_V\n0,0\n1,11\n2,0.5\n'],
    ['a row of units', 'time,out\nSecond,Volt\n0,0\n1,11\n2,0.5\n'],
    ['other units', 'time/ms,out_mV\n0,0\n1000,11000\n2000,500\n'],
  ])('reads %s', (_, text) => {
    const capture = read(text);
    expect(column(capture)).toEqual(plain);
    expect(capture.malformed.count).toBe(0);
  });

  test('takes columns by title or position, and units that the file does not say', () => {
    const text = 'x,CH1,CH2\n0,9,0\n1,9,11000\n2,9,500\n';
    const time = { column: 1, unit: 's' };
    const out = { column: 'ch2', unit: 'mV' };
    expect(column(read(text, { time, nets: new Map([['out', out]]) }))).toEqual(plain);
    expect(column(read('0,0\n1,11\n2,0.5\n', { time, nets: new Map([['out', { column: 2, unit: 'V' }]]) }))).toEqual(
      plain,
    );
  });

  test('asks for what the file does not say', () => {
    expect(faultOf('time,out_V\n0,0\n1,11\n')).toBe(
      'columns must say the unit of the time, which the file does not; got "1"',
    );
    expect(faultOf('time_s,out\n0,0\n1,11\n')).toContain('say the unit of out');
    expect(faultOf('0,0\n1,11\n')).toContain('say which column is the time');
    expect(faultOf('time_s,lamp_V\n0,0\n1,11\n')).toContain('which column was measured at which net');
    expect(faultOf('time_s,out_ms\n0,0\n1,11\n')).toBe('columns must give out as a voltage, in V or mV; got a time');
    const nets = new Map([['out', { column: 'CH3' }]]);
    expect(faultOf('time_s,CH1_V\n0,0\n1,11\n', { nets })).toContain(
      'name a column of the file for out ("time", "CH1"); got "CH3"',
    );
  });

  test.each([
    ['nothing', ''],
    ['prose', 'Measured on the bench,\nin the evening.\n'],
    ['one row', 'time_s,out_V\n0,0\n'],
    ['binary data', '\u0000\u0001PNG\u0000\n\u0000\u0000'],
    ['one endless line', `time_s,out_V\n${'1,'.repeat(100_000)}`],
  ])('refuses %s', (_, text) => {
    expect(faultOf(text)).toMatch(/^data must hold at least two rows of numbers/);
  });

  test('passes malformed rows over and names them by line', () => {
    const capture = read('time_s,out_V\n0,0\n1,abc\n2\n3,1\n2.5,4\nNaN,1\n4,Infinity\n5,1e999\n6,"1.234,5"\n7,2\n');
    expect(column(capture)).toEqual([
      [0, 3, 7],
      ['out', 0, 1, 2],
    ]);
    expect(capture.malformed.count).toBe(7);
    expect(capture.malformed.first.map(({ line, reason }) => `${line}: ${reason}`)).toEqual([
      '3: out must be a number; got "abc"',
      '4: out must be a number; got nothing',
      '6: the time must not go back; got 2.5 s after 3 s',
      '7: the time must be a number; got "NaN"',
      '8: out must be a number; got "Infinity"',
      '9: out must be a number; got "1e999"',
      '10: out must be a number; got "\\"1.234"',
    ]);
  });

  test('takes no row that lacks a number for titles', () => {
    const { malformed, ...capture } = read('time_s,out_V\n-2,NaN\n-1,inf\n0,0\n1,11\n2,0.5\n');
    expect(column({ malformed, ...capture })).toEqual(plain);
    expect(malformed.first.map(({ line }) => line)).toEqual([2, 3]);
    // A column whose first samples are missing keeps its title.
    expect(read('time_s,timing_V,out_V\n-1,---,\n0,0,0\n1,1,11\n2,2,0.5\n').channels.map(({ net }) => net)).toEqual([
      'timing',
      'out',
    ]);
  });

  test('lists the first malformed rows and counts the rest', () => {
    const text = `time_s,out_V\n0,0\n${'x,y\n'.repeat(500)}1,1\n`;
    const { malformed, rows } = read(text);
    expect([malformed.count, malformed.first.length, rows]).toEqual([500, 20, 2]);
  });

  test('finds edges by hysteresis, jumps in the middle between samples', () => {
    const { channels } = read('time_s,out_V\n0,0\n1,0\n2,11\n3,6.2\n4,5.8\n5,11\n6,11\n7,0\n');
    // From 11 V down to 5.8 V is not beyond 5.4 V: no edge.
    expect(channels[0]?.edges).toEqual([
      { time: 1.5, to: 'high', uncertainty: 1 / Math.sqrt(12), steep: true, inGap: false },
      { time: 6.5, to: 'low', uncertainty: 1 / Math.sqrt(12), steep: true, inGap: false },
    ]);
  });

  test('finds one edge on a noisy slope, where the slope crosses the level', () => {
    const normal = normalNumbers(5);
    const rows = Array.from({ length: 1000 }, (_, k) => `${k / 100},${1.2 * (k / 100) + 0.2 * normal()}`);
    const { channels } = read(`time_s,timing_V\n${rows.join('\n')}\n`);
    const [edge, ...more] = channels[0]?.edges ?? [];
    expect(more).toEqual([]);
    expect(edge?.steep).toBe(false);
    // 1.2 V/s through 6 V at 5 s.
    expect(Math.abs((edge?.time ?? 0) - 5)).toBeLessThan(0.25);
    expect(Math.abs((edge?.time ?? 0) - 5)).toBeLessThan(3 * (edge?.uncertainty ?? 0));
    // 0.2 V of noise, estimated from 998 differences.
    expect(Math.abs((channels[0]?.noise ?? 0) / 0.2 - 1)).toBeLessThan(0.15);
  });

  test('tells gaps, and edges that lie in one', () => {
    const rows = Array.from({ length: 100 }, (_, k) => `${k < 50 ? k / 10 : k},${k < 50 ? 0 : 11}`);
    const { gaps, channels } = read(`time_s,out_V\n${rows.join('\n')}\n`);
    expect(gaps).toEqual({ count: 1, first: [{ from: 4.9, until: 50 }] });
    expect(channels[0]?.edges.map(({ inGap }) => inGap)).toEqual([true]);
  });

  test('keeps all edges and the envelope of a long file in little memory', () => {
    const reader = new CaptureReader(request);
    reader.push('time_s,out_V\n');
    // A pulse of one sample in every 10 000.
    for (let k = 0; k < 200_000; k++) reader.push(`${k},${k % 10_000 === 5000 ? 11 : 0}\n`);
    const outcome = reader.end();
    if (!outcome.ok) throw new Error(outcome.fault.rule);
    const { capture } = outcome;
    expect(capture.rows).toBe(200_000);
    expect(capture.stride).toBe(64);
    expect(capture.times).toHaveLength(Math.ceil(200_000 / 64));
    expect(capture.channels[0]?.edges).toHaveLength(40);
    expect(capture.channels[0]?.high.filter((each) => each === 11)).toHaveLength(20);
    expect(JSON.stringify(capture).length).toBeLessThan(100_000);
  });

  test('gives the same for any division into chunks', () => {
    const text = '\uFEFFtime_s;out_V\r\n0;0,5\r\n1;11\r\nx;1\r\n\r\n2;0\r\n3;11\n';
    const whole = readCapture(text, request);
    expect(whole.ok).toBe(true);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: text.length })), (cuts) => {
        const reader = new CaptureReader(request);
        const places = [0, ...cuts.sort((a, b) => a - b), text.length];
        for (const [index, place] of places.slice(1).entries()) reader.push(text.slice(places[index], place));
        expect(reader.end()).toEqual(whole);
      }),
    );
  });

  test('never throws, whatever the text', () => {
    const piece = fc.constantFrom(
      'time_s',
      'out_V',
      ',',
      ';',
      '\t',
      '\n',
      '\r',
      '"',
      '1',
      '-',
      'e',
      '.',
      '#',
      '\uFEFF',
      '\u0000',
      'µ',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 200 }), (pieces) => {
        expect(typeof readCapture(pieces.join(''), request).ok).toBe('boolean');
      }),
    );
  });
});
