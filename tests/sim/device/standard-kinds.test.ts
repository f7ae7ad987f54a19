import { standardDevices } from '#sim/device/standard-devices.ts';
import { defaultOf } from '#sim/circuit/read-part.ts';
import { timerParameters } from '#sim/device/families.ts';
import { ledColours } from '#sim/device/kinds/led.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { describe, expect, test } from 'vitest';
import { besideLoad, circuitOf, messagesOf, partOf } from '../../support/circuit-issues.ts';

/** The values of one part after the check. */
function valuesOf(part: object) {
  return partOf(circuitOf(besideLoad({ name: 'X1', ...part })), 'X1').values;
}

const ab = { a: 'rail', b: 'ground' };
const poles = { plus: 'rail', minus: 'ground' };
const pins = { supply: 'rail', ground: 'ground', trigger: 'rail', threshold: 'rail', output: 'out' };

describe('standardKinds', () => {
  test('each kind has a device, and each device a kind', () => {
    expect([...standardDevices.keys()].sort()).toEqual([...standardKinds.keys()].sort());
  });

  test('has every kind under its own name', () => {
    expect([...standardKinds.keys()]).toEqual([
      'supply',
      'signal',
      'resistor',
      'pot',
      'capacitor',
      'button',
      'jumper',
      'switch',
      'diode',
      'led',
      'transistor',
      'source',
      'speaker',
      'buzzer',
      'relay',
      'solenoid',
      'finger',
      'probe',
      'timer',
    ]);
    for (const [name, kind] of standardKinds) expect(kind.kind).toBe(name);
  });

  test.each([...standardKinds.values()])(
    '$kind: names are used once, every field has a title, every default a source',
    (kind) => {
      const names = [
        'name',
        'kind',
        ...kind.terminals.map((each) => each.name),
        ...kind.fields.map((each) => each.name),
      ];
      expect(new Set(names).size).toBe(names.length);
      for (const field of kind.fields) {
        expect(field.title, field.name).not.toBe('');
        const known = defaultOf(field, {});
        if (known !== undefined) expect(known.source, field.name).toMatch(/\w/);
        if (field.required === true) expect(known, field.name).toBeUndefined();
      }
    },
  );

  test.each([...standardKinds.values()])('$kind: every plain default passes its own reader', (kind) => {
    for (const field of kind.fields) {
      if (field.default !== undefined)
        expect(field.read(field.default), field.name).toEqual({ ok: true, value: field.default });
    }
  });

  test.each([...standardKinds.values()])('$kind: pairs of terminals that must be apart exist', (kind) => {
    const names = kind.terminals.map(({ name }) => name);
    for (const pair of kind.apart ?? []) expect(names).toEqual(expect.arrayContaining([...pair]));
  });
});

// Defaults are those of the format's description; where they come from is in the source beside each.
describe('a part with only what is required has', () => {
  test.each<[object, object]>([
    [
      { kind: 'supply', plus: 'x', minus: 'rail', voltage: '9 V' },
      { voltage: 9, resistance: 0, origin: 'unknown', changes: [] },
    ],
    [
      { kind: 'signal', ...poles, wave: { shape: 'constant', level: 1 } },
      { wave: { shape: 'constant', level: 1 }, resistance: 50 },
    ],
    [{ kind: 'resistor', ...ab, resistance: '4K7' }, { resistance: 4700 }],
    [
      { kind: 'pot', a: 'rail', wiper: 'ground', b: 'ground', resistance: '10 kΩ' },
      { resistance: 10e3, position: 0.5, end: 0 },
    ],
    [
      { kind: 'capacitor', ...ab, capacitance: '100n' },
      { capacitance: 1e-7, leakage: Infinity, series: 0, initial: 0 },
    ],
    [
      { kind: 'button', ...ab },
      { closed: false, resistance: 0, presses: [] },
    ],
    [
      { kind: 'jumper', ...ab, resistance: 1 },
      { closed: true, resistance: 1, presses: [] },
    ],
    [
      { kind: 'switch', ...ab },
      { closed: false, resistance: 0, presses: [] },
    ],
    [
      { kind: 'diode', ...ab },
      { forward: 0.6, slope: 10 },
    ],
    [
      { kind: 'led', ...ab },
      { forward: 1.7, slope: 10, colour: 'red', limit: 0.02 },
    ],
    [
      { kind: 'buzzer', ...poles, resistance: 400, least: 8, most: 16 },
      { resistance: 400, least: 8, most: 16, frequency: 2300 },
    ],
    [
      // 40 mA: three quarters and a tenth of it; 1.3 times 12 V.
      { kind: 'relay', ...ab, voltage: 12, resistance: 300 },
      {
        ...{ voltage: 12, resistance: 300, pullIn: 0.03, dropOut: 0.004, operateTime: 0.01, releaseTime: 0.01 },
        ...{ most: 15.6, contactResistance: 0.1, insulation: 1e9 },
      },
    ],
    [
      { kind: 'solenoid', ...ab, voltage: 12, resistance: 300, pullIn: '20 mA', longest: '0.5 s' },
      {
        ...{ voltage: 12, resistance: 300, pullIn: 0.02, dropOut: 0.004, operateTime: 0.01, releaseTime: 0.01 },
        ...{ most: 15.6, longest: 0.5 },
      },
    ],
    [
      { kind: 'finger', a: 'rail' },
      {
        touches: [],
        capacitance: 1e-10,
        resistance: 1e4,
        earth: 1e8,
        hum: 0,
        frequency: 50,
        coupling: 3e-12,
        earthed: true,
        stray: 10e-12,
      },
    ],
    [
      { kind: 'probe', a: 'rail' },
      { resistance: 1e7, capacitance: 1.2e-11 },
    ],
    [
      { kind: 'timer', pins },
      { family: 'bipolar', start: 'cleared', with: {}, parameters: timerParameters('bipolar') },
    ],
  ])('%j the values %j', (part, values) => {
    expect(valuesOf(part)).toEqual(values);
  });

  test('a probe goes to ground where b is left out', () => {
    expect(partOf(circuitOf(besideLoad({ name: 'X1', kind: 'probe', a: 'rail' })), 'X1').nets).toEqual(ab);
  });
});

describe('fields are read as described', () => {
  test.each<[object, object]>([
    [
      { kind: 'resistor', ...ab, resistance: 0.5, tolerance: 'J', rating: '0.5 W' },
      { resistance: 0.5, tolerance: 0.05, rating: 0.5 },
    ],
    [{ kind: 'resistor', ...ab, resistance: 1e15 }, { resistance: 1e15 }],
    [{ kind: 'capacitor', ...ab, capacitance: '1 F', leakage: 'none' }, { leakage: Infinity }],
    [
      { kind: 'capacitor', ...ab, capacitance: 1e3, leakage: '1 MΩ', initial: '-3 V', polarised: false },
      { leakage: 1e6, initial: -3, polarised: false },
    ],
    [
      { kind: 'pot', a: 'rail', wiper: 'ground', b: 'ground', resistance: 10, position: '100 %', end: 2 },
      { position: 1, end: 2 },
    ],
    [
      { kind: 'finger', a: 'rail', earth: 'none', touches: [{ at: 1, for: 1 }] },
      { earth: Infinity, touches: [{ at: 1, for: 1 }] },
    ],
    [{ kind: 'led', ...ab, colour: 'green' }, { forward: 2.2 }],
    [{ kind: 'led', ...ab, colour: 'green', forward: 2 }, { forward: 2 }],
    [{ kind: 'probe', a: 'rail', capacitance: 0 }, { capacitance: 0 }],
  ])('%j gives %j', (part, values) => {
    expect(valuesOf(part)).toMatchObject(values);
  });

  test('an LED takes its forward voltage and the source of it from its colour', () => {
    for (const [colour, { forward, source }] of Object.entries(ledColours)) {
      expect(valuesOf({ kind: 'led', ...ab, colour })).toMatchObject({ colour, forward });
      const field = standardKinds.get('led')?.fields.find(({ name }) => name === 'forward');
      expect(field && defaultOf(field, { colour })).toEqual({ value: forward, source });
    }
  });

  test('a timer has all parameters of its family, but those given', () => {
    const given = { delay: '1 µs', dischargeCurrent: 'unlimited', outputOneWay: false };
    const values = valuesOf({ kind: 'timer', pins, family: 'bipolar', start: 'set', with: given });
    const changes = { delay: 1e-6, dischargeCurrent: Infinity, outputOneWay: false };
    expect(values).toEqual({
      family: 'bipolar',
      start: 'set',
      with: changes,
      parameters: { ...timerParameters('bipolar'), ...changes },
    });
  });

  test.each<[object, string]>([
    [
      { kind: 'relay', ...ab, voltage: 12, resistance: 300, normallyOpen: 'rail' },
      'X1: normallyOpen must come with common; got normallyOpen alone, which leads nowhere. Name the net of the other end of the contact.',
    ],
    [
      { kind: 'relay', ...ab, voltage: 12, resistance: 300, common: 'rail' },
      'X1: common must come with normallyOpen or normallyClosed; got common alone, which leads nowhere. Name the net of the other end of the contact.',
    ],
    [
      { kind: 'solenoid', ...ab, voltage: 12, resistance: 300, dropOut: '30 mA' },
      'X1: dropOut must be less than pullIn; got 30 mA, while pullIn is 30 mA. A winding holds with less current than it pulls in with.',
    ],
    [
      { kind: 'buzzer', ...poles, resistance: 400, least: 8, most: 8 },
      'X1: most must be more than least; got 8 V, while least is 8 V. Data sheets state both as the operating voltage, such as 8 V to 16 V.',
    ],
    [
      { kind: 'relay', ...ab, voltage: 12, resistance: 300, operateTime: 0 },
      'X1: operateTime must be above 0 s; got 0 s. Choose a value in that range.',
    ],
    [{ kind: 'supply', ...poles }, 'X1: voltage must be given; got nothing. Add the voltage of plus above minus.'],
    [
      { kind: 'supply', ...poles, voltage: '5 A' },
      'X1: voltage must be a voltage; got "5 A", a current. Write for example 5 V or 350 mV.',
    ],
    [
      { kind: 'supply', ...poles, voltage: 5, resistance: -1 },
      'X1: resistance must be at least 0 Ω; got −1 Ω. Choose a value in that range.',
    ],
    [
      { kind: 'supply', ...poles, voltage: 5, resistance: 1, origin: 'mains' },
      'X1: origin must be one of unknown, battery, isolated; got "mains". Choose one of these.',
    ],
    [
      { kind: 'signal', ...poles },
      'X1: wave must be given; got nothing. Add the voltage of plus above minus over time.',
    ],
    [
      { kind: 'resistor', ...ab, resistance: '-1 kΩ' },
      'X1: resistance must be at least 0 Ω; got −1 kΩ. Choose a value in that range.',
    ],
    [
      { kind: 'resistor', ...ab, resistance: Infinity },
      'X1: resistance must be a resistance; got infinity. Write for example 68 kΩ or 4K7.',
    ],
    [
      { kind: 'resistor', ...ab, resistance: 1, rating: 0 },
      'X1: rating must be above 0 W; got 0 W. Choose a value in that range.',
    ],
    [
      { kind: 'resistor', ...ab, resistance: 1, tolerance: 2 },
      'X1: tolerance must be at least 0 and below 100 %; got 2, which is 200 %. Write for example 5 %, 0.05 or J.',
    ],
    [
      { kind: 'pot', a: 'rail', wiper: 'ground', b: 'ground', resistance: 1, position: 1.1 },
      'X1: position must be at least 0 % and at most 100 %; got 110 %. Choose a value in that range.',
    ],
    [
      { kind: 'capacitor', ...ab, capacitance: 0 },
      'X1: capacitance must be above 0 F; got 0 F. Choose a value in that range.',
    ],
    [
      { kind: 'capacitor', ...ab, capacitance: '-1 nF' },
      'X1: capacitance must be above 0 F; got −1 nF. Choose a value in that range.',
    ],
    [
      { kind: 'capacitor', ...ab, capacitance: 1, leakage: 0 },
      'X1: leakage must be above 0 Ω; got 0 Ω. Choose a value in that range. Or write "none".',
    ],
    [
      { kind: 'capacitor', ...ab, capacitance: 1, polarised: 'yes' },
      'X1: polarised must be true or false; got "yes". Write it without quotes.',
    ],
    [{ kind: 'button', ...ab, closed: 1 }, 'X1: closed must be true or false; got 1. Write it without quotes.'],
    [
      {
        kind: 'button',
        ...ab,
        presses: [
          { at: 1, for: 1 },
          { at: 1.5, for: 1 },
        ],
      },
      'X1: presses[1].at must begin after the one before it has ended; got 1.5 s, while that end is at 2 s. Put the list in order of time.',
    ],
    [
      { kind: 'diode', ...ab, forward: -1 },
      'X1: forward must be at least 0 V; got −1 V. Choose a value in that range.',
    ],
    [{ kind: 'diode', ...ab, slope: 0 }, 'X1: slope must be above 0 Ω; got 0 Ω. Choose a value in that range.'],
    [
      { kind: 'led', ...ab, colour: 'purple' },
      'X1: colour must be one of red, bright_red, yellow, green, blue, white; got "purple". Choose one of these.',
    ],
    [{ kind: 'led', ...ab, limit: 0 }, 'X1: limit must be above 0 A; got 0 A. Choose a value in that range.'],
    [
      { kind: 'finger', a: 'rail', humidity: 3 },
      'X1 must have no other fields than name, kind, a, touches, capacitance, resistance, earth, hum, frequency, coupling, earthed, stray; got "humidity". Take it out.',
    ],
    [
      { kind: 'probe', a: 'rail', resistance: 0 },
      'X1: resistance must be above 0 Ω; got 0 Ω. Choose a value in that range.',
    ],
  ])('%j is refused', (part, message) => {
    expect(messagesOf(besideLoad({ name: 'X1', ...part }))).toEqual([message]);
  });
});
