import { checkCircuit, MOST_PARTS } from '#sim/circuit/check-circuit.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { describe, expect, test } from 'vitest';
import { besideLoad, messagesOf, plain } from '../../support/circuit-issues.ts';

/** The axle counter of the format's description, as it stands in a file. */
const axleCounter = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
  {
    name: 'U1',
    kind: 'timer',
    family: 'bipolar',
    pins: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'in',
      output: 'out',
      reset: 'rail',
      control: 'control',
      threshold: 'timing',
      discharge: 'timing',
    },
  },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '68 kΩ' },
  { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '4.7 µF', polarised: true, rating: '25 V' },
  {
    name: 'G1',
    kind: 'signal',
    plus: 'in',
    minus: 'ground',
    wave: { shape: 'pulses', period: '150 ms', width: '8 ms', rest: '12 V', pulse: '0 V' },
  },
];

describe('checkCircuit(data)', () => {
  test('gives the axle counter without any issue: SI numbers, defaults, nets in order of mention', () => {
    const { issues, circuit } = checkCircuit({ parts: axleCounter }, standardKinds);
    expect(issues).toEqual([]);
    expect(circuit?.nets).toEqual(['rail', 'ground', 'in', 'out', 'timing', 'control']);
    expect(circuit?.parts.map(({ name }) => name)).toEqual(['BT1', 'U1', 'R1', 'C1', 'G1']);
    expect(circuit?.parts[2]).toEqual({
      name: 'R1',
      kind: 'resistor',
      nets: { a: 'rail', b: 'timing' },
      values: { resistance: 68000 },
    });
    expect(circuit?.parts[3]?.values).toEqual({
      capacitance: 4.7e-6,
      leakage: Infinity,
      series: 0,
      initial: 0,
      polarised: true,
      rating: 25,
    });
    expect(circuit?.parts[4]?.values).toEqual({
      resistance: 50,
      wave: { shape: 'pulses', period: 0.15, width: 0.008, rest: 12, pulse: 0, delay: 0, count: Infinity },
    });
  });

  test('takes an empty drawing board for what it is: no ground', () => {
    expect(messagesOf([])).toEqual([
      'circuit must have a net named ground, from which voltages are counted; got no net at all. Name the net of the supply\'s minus "ground".',
    ]);
  });

  test.each([
    [undefined, 'circuit must be an object with parts; got nothing. Write for example { "parts": [ ... ] }.'],
    [null, 'circuit must be an object with parts; got null. Write for example { "parts": [ ... ] }.'],
    [7, 'circuit must be an object with parts; got 7. Write for example { "parts": [ ... ] }.'],
    ['R1', 'circuit must be an object with parts; got "R1". Write for example { "parts": [ ... ] }.'],
    [[], 'circuit must be an object with parts; got a list or an object. Write for example { "parts": [ ... ] }.'],
    [{}, 'circuit: parts must be a list of parts; got nothing. Write for example "parts": [ ... ].'],
    [{ parts: null }, 'circuit: parts must be a list of parts; got null. Write for example "parts": [ ... ].'],
    [
      { parts: { R1: 5 } },
      'circuit: parts must be a list of parts; got a list or an object. Write for example "parts": [ ... ].',
    ],
  ])('refuses %j', (data, message) => {
    const { issues, circuit } = checkCircuit(data, standardKinds);
    expect(issues.map((issue) => issue.message)).toEqual([message]);
    expect(circuit).toBeUndefined();
  });

  test('refuses what stands beside the parts list, by name', () => {
    const { issues } = checkCircuit({ parts: besideLoad(), layout: 1 }, standardKinds, 'boards.lamp');
    expect(issues).toEqual([
      {
        code: 'unknown-field',
        severity: 'fault',
        where: 'boards.lamp',
        field: 'layout',
        message: 'boards.lamp must have no other fields than parts; got "layout". Take it out.',
      },
    ]);
  });

  test('takes 500 parts and refuses 501', () => {
    const many = (count: number) =>
      besideLoad(
        ...Array.from({ length: count - 2 }, (_, index) => {
          return { name: `R${index}`, kind: 'resistor', a: 'rail', b: 'ground', resistance: 1000 };
        }),
      );
    expect(MOST_PARTS).toBe(500);
    expect(messagesOf(many(500))).toEqual([]);
    expect(messagesOf(many(501))).toEqual([
      'circuit: parts must be at most 500 parts; got 501. Divide it into several boards.',
    ]);
  });

  test('puts the place before every place and message', () => {
    const { issues } = checkCircuit(
      { parts: besideLoad({ name: 'R1', kind: 'resistor', a: 'rail', b: 'ground', resistance: -5 }) },
      standardKinds,
      'boards.lamp',
    );
    expect(issues.map((issue) => ({ ...issue, message: plain(issue.message) }))).toEqual([
      {
        code: 'bad-value',
        severity: 'fault',
        where: 'boards.lamp.R1.resistance',
        part: 'R1',
        field: 'resistance',
        message: 'boards.lamp.R1: resistance must be at least 0 Ω; got −5 Ω. Choose a value in that range.',
      },
    ]);
  });

  test('finds all faults of all parts at once', () => {
    const { issues, circuit } = checkCircuit(
      {
        parts: [
          null,
          {},
          { name: 'R1', kind: 'resitor', a: 'x' },
          { name: 'R1', kind: 'resistor', a: 'x', resistence: 5 },
          { name: 'C1', kind: 'capacitor', a: 'x', b: 'ground', capacitance: 0 },
        ],
      },
      standardKinds,
    );
    expect(circuit).toBeUndefined();
    expect(issues.map(({ code, where, field }) => [code, where, field])).toEqual([
      ['not-an-object', 'parts[0]', undefined],
      ['missing-field', 'parts[1].name', 'name'],
      ['missing-field', 'parts[1].kind', 'kind'],
      ['unknown-kind', 'R1.kind', 'kind'],
      ['double-name', 'parts[3].name', 'name'],
      ['unknown-field', 'parts[3]', 'resistence'],
      ['missing-net', 'parts[3].b', 'b'],
      ['missing-field', 'parts[3].resistance', 'resistance'],
      ['bad-value', 'C1.capacitance', 'capacitance'],
    ]);
  });

  test('keeps the circuit when there are only warnings', () => {
    const data = { parts: besideLoad({ name: 'R1', kind: 'resistor', a: 'rail', b: 'loose', resistance: 10 }) };
    const { issues, circuit } = checkCircuit(data, standardKinds);
    expect(issues.map(({ severity }) => severity)).toEqual(['warning']);
    expect(circuit?.parts).toHaveLength(3);
  });

  test('does not change its input and gives equal results twice', () => {
    const data = { parts: structuredClone(axleCounter) };
    const before = JSON.stringify(data);
    const first = checkCircuit(data, standardKinds);
    expect(checkCircuit(data, standardKinds)).toEqual(first);
    expect(JSON.stringify(data)).toBe(before);
  });
});
