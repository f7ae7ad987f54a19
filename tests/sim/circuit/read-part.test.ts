import { describe, expect, test } from 'vitest';
import { besideLoad, circuitOf, messagesOf } from '../../support/circuit-issues.ts';

const kindList =
  'supply, signal, resistor, pot, capacitor, button, jumper, switch, diode, led, transistor, source, speaker, buzzer, relay, solenoid, finger, probe, timer';

describe('checkCircuit on one part', () => {
  const nameRule = 'must be a letter followed by letters, digits or _';
  test.each<[string, unknown, string]>([
    [
      'a number in place of a part',
      3,
      'parts[2] must be an object with name and kind; got 3. Write for example { "name": "R1", "kind": "resistor", ... }.',
    ],
    [
      'a list in place of a part',
      ['R1'],
      'parts[2] must be an object with name and kind; got a list or an object. Write for example { "name": "R1", "kind": "resistor", ... }.',
    ],
    ['no name', { kind: 'probe', a: 'rail' }, `parts[2]: name ${nameRule}; got nothing. Write for example "R1".`],
    [
      'an empty name',
      { name: '', kind: 'probe', a: 'rail' },
      `parts[2]: name ${nameRule}; got an empty text. Write for example "R1".`,
    ],
    [
      'a number as name',
      { name: 1, kind: 'probe', a: 'rail' },
      `parts[2]: name ${nameRule}; got 1. Write for example "R1".`,
    ],
    [
      'a name that begins with a digit',
      { name: '1R', kind: 'probe', a: 'rail' },
      `parts[2]: name ${nameRule}; got "1R". Write for example "R1".`,
    ],
    [
      'a name with a space',
      { name: 'R 1', kind: 'probe', a: 'rail' },
      `parts[2]: name ${nameRule}; got "R 1". Write for example "R1".`,
    ],
    [
      'a name with a dot',
      { name: 'a.b', kind: 'probe', a: 'rail' },
      `parts[2]: name ${nameRule}; got "a.b". Write for example "R1".`,
    ],
    [
      'a name with a line end',
      { name: 'R1\n', kind: 'probe', a: 'rail' },
      `parts[2]: name ${nameRule}; got "R1\\n". Write for example "R1".`,
    ],
    [
      '__proto__ as name',
      JSON.parse('{"name":"__proto__","kind":"probe","a":"rail"}'),
      'parts[2]: name must not be a word that is reserved; got "__proto__". Write for example "R1".',
    ],
    [
      'constructor as name',
      { name: 'constructor', kind: 'probe', a: 'rail' },
      'parts[2]: name must not be a word that is reserved; got "constructor". Write for example "R1".',
    ],
    [
      'prototype as name',
      { name: 'prototype', kind: 'probe', a: 'rail' },
      'parts[2]: name must not be a word that is reserved; got "prototype". Write for example "R1".',
    ],
    [
      'a name that is taken',
      { name: 'RL', kind: 'probe', a: 'rail' },
      'parts[2]: name must be used only once; got "RL", which parts[1] has already. Rename one of the two.',
    ],
    ['no kind', { name: 'X1', a: 'rail' }, `X1: kind must be one of ${kindList}; got nothing. Choose one of these.`],
    [
      'a kind that is near one',
      { name: 'X1', kind: 'capaciter' },
      `X1: kind must be one of ${kindList}; got "capaciter". Did you mean capacitor?`,
    ],
    [
      'a kind in capitals',
      { name: 'X1', kind: 'LED' },
      `X1: kind must be one of ${kindList}; got "LED". Did you mean led?`,
    ],
    [
      'a kind of no part',
      { name: 'X1', kind: 'magnet' },
      `X1: kind must be one of ${kindList}; got "magnet". Choose one of these.`,
    ],
    [
      'a kind every object has',
      { name: 'X1', kind: 'toString' },
      `X1: kind must be one of ${kindList}; got "toString". Choose one of these.`,
    ],
    [
      'a kind that is no text',
      { name: 'X1', kind: 7 },
      `X1: kind must be one of ${kindList}; got 7. Choose one of these.`,
    ],
    [
      'an unknown field',
      { name: 'X1', kind: 'probe', a: 'rail', colour: 'red' },
      'X1 must have no other fields than name, kind, a, b, resistance, capacitance; got "colour". Take it out.',
    ],
    [
      'an unknown field that is near one',
      { name: 'X1', kind: 'probe', a: 'rail', capacitence: 0 },
      'X1 must have no other fields than name, kind, a, b, resistance, capacitance; got "capacitence". Did you mean capacitance?',
    ],
    [
      '__proto__ as field',
      JSON.parse('{"name":"X1","kind":"probe","a":"rail","__proto__":{"resistance":5}}'),
      'X1 must have no other fields than name, kind, a, b, resistance, capacitance; got "__proto__". Take it out.',
    ],
    [
      'a part of a later version',
      { name: 'F1', kind: 'finger', a: 'rail', humidity: '40 %' },
      'F1 must have no other fields than name, kind, a, touches, capacitance, resistance, earth, hum, frequency, coupling, earthed, stray; got "humidity". Take it out.',
    ],
    [
      'a bounce without end',
      { name: 'S1', kind: 'button', a: 'rail', b: 'ground', resistance: 100, bounce: { for: '0 s', seed: 1 } },
      'S1: bounce.for must be above 0 s; got 0 s. Choose a value in that range.',
    ],
    [
      'a bounce with a seed that is no whole number',
      { name: 'S1', kind: 'button', a: 'rail', b: 'ground', resistance: 100, bounce: { for: '5 ms', seed: 1.5 } },
      'S1: bounce.seed must be a whole number from 0 to 4294967295; got 1.5. Write for example 1.',
    ],
    [
      'a net left out',
      { name: 'X1', kind: 'capacitor', a: 'rail', capacitance: '1 nF' },
      'X1: b must name a net; got nothing. Write the name of the net it is joined to.',
    ],
    [
      'a net that is a number',
      { name: 'X1', kind: 'probe', a: 5 },
      `X1: a ${nameRule}; got 5. Write for example "rail".`,
    ],
    [
      'a net with a bad name',
      { name: 'X1', kind: 'probe', a: 'the rail' },
      `X1: a ${nameRule}; got "the rail". Write for example "rail".`,
    ],
    [
      'a net with a reserved name',
      { name: 'X1', kind: 'probe', a: 'constructor' },
      'X1: a must not be a word that is reserved; got "constructor". Write for example "rail".',
    ],
    [
      'null where a net belongs',
      { name: 'X1', kind: 'probe', a: null },
      `X1: a ${nameRule}; got null. Write for example "rail".`,
    ],
    [
      'a required field left out',
      { name: 'X1', kind: 'resistor', a: 'rail', b: 'ground' },
      'X1: resistance must be given; got nothing. Add the resistance.',
    ],
  ])('refuses %s', (_, part, message) => {
    expect(messagesOf(besideLoad(part))).toEqual([message]);
  });

  test('lists at most 20 unknown fields of one part', () => {
    const junk = Object.fromEntries(Array.from({ length: 1000 }, (_, index) => [`junk${index}`, 1]));
    expect(messagesOf(besideLoad({ name: 'X1', kind: 'probe', a: 'rail', ...junk }))).toHaveLength(20);
  });

  test('keeps a message short however long the text it quotes', () => {
    const [message = ''] = messagesOf(besideLoad({ name: 'x y'.repeat(100_000), kind: 'probe', a: 'rail' }));
    expect(message.length).toBeLessThan(250);
  });
});

describe('checkCircuit on a timer', () => {
  const pins = { supply: 'rail', ground: 'ground', trigger: 'rail', threshold: 'rail', output: 'out' };
  const pinList = 'supply, ground, trigger, output, threshold, control, reset, discharge';

  test.each<[string, object, string[]]>([
    [
      'pins missing',
      {},
      [
        `U1: pins must be an object with the nets of ${pinList}; got nothing. Write for example { "supply": "rail", ... }.`,
      ],
    ],
    [
      'pins that are a list',
      { pins: ['rail'] },
      [
        `U1: pins must be an object with the nets of ${pinList}; got a list or an object. Write for example { "supply": "rail", ... }.`,
      ],
    ],
    [
      'a mistyped pin',
      { pins: { ...pins, threshold: undefined, treshold: 'rail' } },
      [
        `U1: pins must have no other pins than ${pinList}; got "treshold". Did you mean threshold?`,
        'U1: pins.threshold must name a net; got nothing. Write the name of the net it is joined to.',
      ],
    ],
    [
      'an unknown pin',
      { pins: { ...pins, gate: 'rail' } },
      [`U1: pins must have no other pins than ${pinList}; got "gate". Take it out.`],
    ],
    [
      'a pin beside pins',
      { pins, reset: 'rail' },
      ['U1 must have no other fields than name, kind, pins, family, start, with; got "reset". Put it under pins.'],
    ],
    [
      'supply and ground on one net',
      { pins: { ...pins, ground: 'rail' } },
      ['U1: pins.ground must be on another net than supply; got rail for both. Join them to different nets.'],
    ],
    [
      'an unknown family',
      { pins, family: 'bipola' },
      ['U1: family must be one of ideal, bipolar, cmos; got "bipola". Did you mean bipolar?'],
    ],
    [
      'an unknown start',
      { pins, start: 'either' },
      ['U1: start must be one of cleared, set, both; got "either". Choose one of these.'],
    ],
    [
      'two bad parameters',
      { pins, with: { delay: '5 V', thresholdCurrent: -1 } },
      [
        'U1: with.thresholdCurrent must be at least 0 A; got −1 A. Choose a value in that range.',
        'U1: with.delay must be a time; got "5 V", a voltage. Write for example 2 s or 150 ms.',
      ],
    ],
    [
      'limits of the supply that exclude each other',
      { pins, with: { supplyMinimum: '20 V' } },
      ['U1: with.supplyMinimum must not be above supplyMaximum, 16 V; got 20 V. Change one of the two.'],
    ],
  ])('refuses %s', (_, fields, messages) => {
    expect(messagesOf(besideLoad({ name: 'U1', kind: 'timer', ...fields }))).toEqual(messages);
  });

  test('names a mistyped parameter, lists those there are and suggests the nearest', () => {
    const [message = ''] = messagesOf(besideLoad({ name: 'U1', kind: 'timer', pins, with: { dela: 1 } }));
    expect(message).toMatch(
      /^U1: with must have no other fields than dividerResistance, .*, outputOneWay; got "dela"\./,
    );
    expect(message).toMatch(/Did you mean delay\?$/);
  });

  test('takes control, reset and discharge left out', () => {
    expect(messagesOf(besideLoad({ name: 'U1', kind: 'timer', pins }))).toEqual([]);
    expect(circuitOf(besideLoad({ name: 'U1', kind: 'timer', pins })).parts[2]?.nets).toEqual(pins);
  });
});
