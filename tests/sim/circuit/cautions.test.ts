import { cautions, OPENING_CAUTION, USUAL_CAUTIONS } from '#sim/circuit/cautions.ts';
import { describe, expect, test } from 'vitest';
import { circuitOf, plain } from '../../support/circuit-issues.ts';

const prediction = 'A simulation is a prediction, not a safety approval; local codes and licensed practice come first.';
const ownSupply =
  "Run the board from an isolated supply of its own, never from track power or a transformer's AC output. It is not for real railways, vehicles, alarms, access, medical or fire use.";
const unrated = (names: string) =>
  `Resistors inside their power rating: not stated for ${names}; 0.25 W is the limit used until stated.`;

const battery = (voltage: unknown = '6 V', more: object = {}) => {
  return { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage, origin: 'battery', ...more };
};
const resistor = (name: string, a: string, b: string, resistance: unknown, rating: unknown = '1 W') => {
  return { name, kind: 'resistor', a, b, resistance, rating };
};
const load = resistor('RL', 'rail', 'ground', '10 kΩ');
const capacitor = (more: object) => ({ name: 'C1', kind: 'capacitor', a: 'rail', b: 'ground', ...more });
const timer = (family: string, more: object = {}) => {
  const pins = { supply: 'rail', ground: 'ground', trigger: 'rail', threshold: 'rail', output: 'out' };
  return { name: 'U1', kind: 'timer', family, pins, ...more };
};

/** The cautions beside those that every board with a supply has. */
function specialOf(...parts: unknown[]): string[] {
  const all = cautions(circuitOf(parts)).map(plain);
  expect(all.slice(0, 2)).toEqual([OPENING_CAUTION, ownSupply]);
  expect(all.at(-1)).toBe(prediction);
  expect([...all.slice(0, 2), all.at(-1)]).toEqual(USUAL_CAUTIONS);
  return all.slice(2, -1);
}

describe('cautions(circuit)', () => {
  test('opens with switching off and ends with what a prediction is', () => {
    expect(OPENING_CAUTION).toBe(
      "Hot or smelling: switch off first. Switch off, discharge large capacitors through a resistor, then exchange a part. Set the supply's current limit, or fit a fuse, before first power.",
    );
    expect(specialOf(battery(), load)).toEqual([]);
  });

  test('says only what a prediction is where nothing gives power', () => {
    const parts = [resistor('R1', 'a', 'ground', 1000), resistor('R2', 'a', 'ground', 1000)];
    expect(cautions(circuitOf(parts))).toEqual([prediction]);
  });

  test('are whole sentences, none twice', () => {
    const circuit = circuitOf([
      battery('24 V', { origin: 'unknown' }),
      { name: 'F1', kind: 'finger', a: 'rail' },
      { name: 'P1', kind: 'probe', a: 'rail' },
      { name: 'D1', kind: 'led', a: 'rail', b: 'ground' },
      capacitor({ capacitance: '470 µF', rating: '16 V' }),
      resistor('R1', 'rail', 'ground', 100),
      timer('cmos'),
    ]);
    const all = cautions(circuit);
    for (const sentence of all) expect(sentence).toMatch(/^[A-Z].*\.$/s);
    expect(new Set(all).size).toBe(all.length);
  });

  test.each<[string, object, string]>([
    [
      'stated as polarised',
      { capacitance: '100 nF', polarised: true, rating: '16 V' },
      'C1 (100 nF, plus end at rail, rated 16 V)',
    ],
    ['from 1 µF on, with nothing stated', { capacitance: '1 µF' }, 'C1 (1 µF, polarity not stated, rating not stated)'],
    [
      'polarised, without rating',
      { capacitance: '4.7 µF', polarised: true },
      'C1 (4.7 µF, plus end at rail, rating not stated)',
    ],
  ])('ask for the right way round of a capacitor %s', (_, fields, text) => {
    expect(specialOf(battery(), load, capacitor(fields))).toEqual([
      `Electrolytic capacitors the right way round and inside their voltage rating: ${text}.`,
    ]);
  });

  test('say nothing about polarity below 1 µF or where it is stated that there is none', () => {
    expect(specialOf(battery(), load, capacitor({ capacitance: '470 nF' }))).toEqual([]);
    expect(specialOf(battery(), load, capacitor({ capacitance: '10 µF', polarised: false }))).toEqual([]);
  });

  test('name a capacitor whose rating the supply exceeds, its later voltages included', () => {
    const fields = { capacitance: '1 nF', rating: '10 V' };
    expect(specialOf(battery('10 V'), load, capacitor(fields))).toEqual([]);
    const rising = battery('6 V', { changes: [{ at: 1, voltage: '12 V', over: 1 }] });
    expect(specialOf(rising, load, capacitor(fields))).toEqual([
      'C1: the rating of 10 V is below the 12 V of the supply.',
    ]);
  });

  test('write a sum of voltages without the digits of its rounding', () => {
    // The lines of the sine reach 0.93 mV below ground (4.7e-4 of its amplitude, see docs/decisions/0004).
    const wave = { shape: 'sine', frequency: 1, amplitude: 2, offset: 2 };
    const signal = { name: 'G1', kind: 'signal', plus: 'tone', minus: 'ground', wave };
    const tone = { name: 'R9', kind: 'resistor', a: 'tone', b: 'ground', resistance: '10 kΩ' };
    expect(
      specialOf(battery('12 V'), load, signal, tone, capacitor({ capacitance: '1 nF', rating: '10 V' })),
    ).toContain('C1: the rating of 10 V is below the 12.0009 V of the supply.');
  });

  test('ask for large capacitors to be discharged, from 100 µF on', () => {
    const stored =
      'Large capacitors stay charged after switching off: discharge C1 (100 µF) through a resistor before touching the circuit.';
    expect(specialOf(battery(), load, capacitor({ capacitance: '100 µF', polarised: false }))).toEqual([stored]);
    expect(specialOf(battery(), load, capacitor({ capacitance: '99 µF', polarised: false }))).toEqual([]);
  });

  test.each<[string, unknown, string, string[]]>([
    ['bipolar', '16 V', 'at its upper limit', []],
    [
      'bipolar',
      '18 V',
      'above it',
      ['U1: the supply reaches 18 V, above the 16 V that a timer of the family bipolar bears.'],
    ],
    ['bipolar', '4.5 V', 'at its lower limit', []],
    [
      'bipolar',
      '3 V',
      'below it',
      ['U1: the supply is as low as 3 V, below the 4.5 V that a timer of the family bipolar needs.'],
    ],
    ['cmos', '3 V', 'in range', []],
    [
      'cmos',
      '16 V',
      'above it',
      ['U1: the supply reaches 16 V, above the 15 V that a timer of the family cmos bears.'],
    ],
    ['ideal', '50 V', 'without limit', []],
    ['bipolar', '-6 V', 'reversed', ['U1: the supply is reversed, which destroys a timer.']],
  ])('compare a %s timer with its supply of %s, %s', (family, voltage, _, messages) => {
    expect(specialOf(battery(voltage), load, timer(family))).toEqual(messages);
  });

  test('use the limits stated for one timer, and the dips of its supply', () => {
    const dipping = battery('6 V', {
      changes: [
        { at: 1, voltage: '5 V' },
        { at: 2, voltage: '6 V' },
      ],
    });
    expect(specialOf(dipping, load, timer('bipolar', { with: { supplyMinimum: '5.5 V' } }))).toEqual([
      'U1: the supply is as low as 5 V, below the 5.5 V that a timer of the family bipolar needs.',
    ]);
  });

  // Closed form: (V - sum of drops) / sum of resistances. Red LED: 1.7 V and 10 Ω.
  test.each<[string, unknown[], string]>([
    // (6 - 1.7) / 10 = 430 mA
    ['straight across a supply', [{ name: 'D1', kind: 'led', a: 'rail', b: 'ground' }], '430 mA'],
    // (6 - 1.7) / (10 + 100) = 39 mA
    [
      'behind too small a resistor',
      [{ name: 'D1', kind: 'led', a: 'rail', b: 'x' }, resistor('R1', 'x', 'ground', 100)],
      '39 mA',
    ],
    // the pot may be turned to its end: (6 - 1.7) / (10 + 5) = 290 mA
    [
      'behind a pot alone',
      [
        { name: 'D1', kind: 'led', a: 'rail', b: 'x' },
        { name: 'P1', kind: 'pot', a: 'x', wiper: 'ground', b: 'ground', resistance: '10 kΩ', end: 5 },
      ],
      '290 mA',
    ],
    // two ways, the one of less resistance through two LEDs: 1.7 V + 2 V + 2 V and 30 Ω x 20 mA make 6.3 V, more than the 6 V
    // there are; the other gives (6 - 1.7) / (10 + 100) = 39 mA; D2 and D3 have their own limit far above
    [
      'that can be reached past other LEDs or without them',
      [
        { name: 'D1', kind: 'led', a: 'rail', b: 'x' },
        { name: 'D2', kind: 'led', a: 'x', b: 'y', forward: 2, limit: 1 },
        { name: 'D3', kind: 'led', a: 'y', b: 'ground', forward: 2, limit: 1 },
        resistor('R1', 'x', 'ground', 100),
      ],
      '39 mA',
    ],
  ])('want a current-limiting path for an LED %s', (_, parts, current) => {
    expect(specialOf(battery(), load, ...parts)).toEqual([
      `D1: an LED always needs a current-limiting path; as joined here about ${current} may flow, above the limit of 20 mA (20 mA unless stated).`,
    ]);
  });

  test('want a current-limiting path for an LED at a timer output, for its own sake and for that of the output', () => {
    // bipolar output high, 1.3 V and 4 Ω: (6 - 1.3 - 1.7) / (4 + 10) = 214 mA
    expect(specialOf(battery(), load, timer('bipolar'), { name: 'D1', kind: 'led', a: 'out', b: 'ground' })).toEqual([
      'D1: an LED always needs a current-limiting path; as joined here about 210 mA may flow, above the limit of 20 mA (20 mA unless stated).',
      'U1: the output would have to give about 214 mA through D1, above the 200 mA of a timer of the family bipolar. Put more resistance into what it feeds.',
      'Lamps that flash 3 to 60 times a second can set off fits in people who are sensitive to it. Whether a lamp does is told with every trace, fates and reading of the board.',
    ]);
  });

  test.each<[string, unknown[]]>([
    ['behind 220 Ω', [{ name: 'D1', kind: 'led', a: 'rail', b: 'x' }, resistor('R1', 'x', 'ground', 220)]],
    [
      'with a limit above what flows',
      [{ name: 'D1', kind: 'led', a: 'rail', b: 'x', limit: '50 mA' }, resistor('R1', 'x', 'ground', 100)],
    ],
    [
      'whose forward voltage the supply does not reach',
      [{ name: 'D1', kind: 'led', a: 'rail', b: 'ground', forward: 7 }],
    ],
    [
      'that only a capacitor feeds',
      [
        { name: 'D1', kind: 'led', a: 'rail', b: 'x' },
        { name: 'C1', kind: 'capacitor', a: 'x', b: 'ground', capacitance: '1 nF' },
      ],
    ],
    [
      'in series with others, whose drops count',
      [
        { name: 'D1', kind: 'led', a: 'rail', b: 'x' },
        { name: 'D2', kind: 'led', a: 'x', b: 'y' },
        resistor('R1', 'y', 'ground', 130), // (6 - 3.4) / (130 + 20) = 17 mA; without D2's drop it would be 29 mA
      ],
    ],
    [
      'with a small resistor beside it, which leads no current from the supply through it',
      [
        { name: 'D1', kind: 'led', a: 'rail', b: 'x' },
        resistor('R1', 'rail', 'x', 47),
        resistor('R2', 'x', 'ground', 470),
      ],
    ],
  ])('are content with an LED %s', (_, parts) => {
    expect(specialOf(battery(), load, ...parts)).toEqual([]);
  });

  test('show a rating that is not stated, and a resistor that could take too much', () => {
    // V^2 / R = 36 / 100 = 0.36 W
    const parts = [battery(), { ...resistor('R1', 'rail', 'ground', 100), rating: undefined }];
    expect(specialOf(...parts)).toEqual([
      'R1 may turn about 360 mW into heat (rating not stated, 0.25 W used).',
      unrated('R1'),
    ]);
    expect(specialOf(battery(), resistor('R1', 'rail', 'ground', 100, '0.5 W'))).toEqual([]);
    const behind = resistor('R2', 'x', 'ground', 1e4);
    expect(specialOf(battery(), resistor('R1', 'rail', 'x', 100, '0.3 W'), behind)).toEqual([
      'R1: with the whole 6 V across it, it would turn 360 mW into heat (rated 300 mW).',
    ]);
  });

  test('keep a touch plate to isolated supplies and 1 MΩ', () => {
    const touch = [
      'Touch plates only on a battery or another isolated extra-low-voltage supply. While touching, no mains-powered instrument, charger or computer is connected. Never connect plate, body or 0 V to mains earth to improve the response.',
    ];
    const rule = 'At least 1 MΩ stands between a touch plate and the circuit.';
    const plate = { name: 'F1', kind: 'finger', a: 'plate' };
    expect(specialOf(battery(), plate, resistor('R1', 'rail', 'plate', '1 MΩ'))).toEqual([...touch, rule]);
    expect(specialOf(battery('6 V', { origin: 'unknown' }), plate, resistor('R1', 'rail', 'plate', '1 MΩ'))).toEqual([
      'BT1: origin is not stated; a board to be touched needs battery or isolated.',
      ...touch,
      rule,
    ]);
    expect(specialOf(battery(), plate, resistor('R1', 'rail', 'plate', '680 kΩ'))).toEqual([
      'F1: only 680 kΩ stands between the plate plate and the circuit, by way of R1; make it 1 MΩ or more.',
      ...touch,
      rule,
    ]);
  });

  test('name the voltage where it may no longer be touched', () => {
    expect(specialOf(battery('60 V'), load)).toEqual([]);
    expect(specialOf(battery('61 V'), load)).toEqual([
      'Up to 61 V is more than the 60 V that may be touched: hand-held boards stay at extra-low voltage.',
    ]);
  });

  test('count supplies in series together', () => {
    const second = { name: 'BT2', kind: 'supply', plus: 'top', minus: 'rail', voltage: '6 V' };
    expect(specialOf(battery(), second, resistor('R1', 'top', 'ground', '1 kΩ', '0.1 W'))).toEqual([
      // V^2 / R = 144 / 1000
      'R1 may turn about 144 mW into heat (rated 100 mW).',
    ]);
  });

  test('warn of the ground clip where something is measured', () => {
    expect(specialOf(battery(), load, { name: 'P1', kind: 'probe', a: 'rail' })).toEqual([
      "An oscilloscope's ground clip is usually mains earth: clip it only to the 0 V of an isolated supply. Never measure mains circuits with this set-up.",
    ]);
  });
});
