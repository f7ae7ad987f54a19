import { describe, expect, test } from 'vitest';
import { besideLoad, messagesOf } from '../../support/circuit-issues.ts';

const resistor = (name: string, a: string, b: string, resistance: unknown = 1000) => {
  return { name, kind: 'resistor', a, b, resistance };
};
const capacitor = (name: string, a: string, b: string) => ({ name, kind: 'capacitor', a, b, capacitance: '1 µF' });
const supply = (name: string, plus: string, minus: string, resistance: unknown = 0) => {
  return { name, kind: 'supply', plus, minus, voltage: 6, resistance };
};
const timer = (name: string, pins: object) => {
  const usual = { supply: 'rail', ground: 'ground', trigger: 'rail', threshold: 'rail', output: 'out' };
  return { name, kind: 'timer', pins: { ...usual, ...pins } };
};

const loop = (part: string, parts: string) =>
  `${part} must not be in a loop of sources without resistance; got the loop of ${parts}. Give one of them a resistance, such as 0.5 Ω, or open the loop.`;
const floats = (end: string, nets: string) =>
  `${end} must be on a net that some part can hold; got ${nets}, from which no part leads to ground. Join it to ground or to a supply, through a resistor for example.`;
const alone = (end: string, net: string, advice = 'Join something to it if that is not meant.') =>
  `warning: ${end} must be joined to some other part; got net ${net}, on which there is nothing else. ${advice}`;
const cutOff = (end: string, nets: string) =>
  `warning: ${end} must be on a net that is held in every position of the switches; got ${nets}, which nothing holds while they are open. It keeps its last voltage then; add a resistor to ground or to a supply if that is not meant.`;

describe('checkCircuit on ground', () => {
  test('asks for a net named ground', () => {
    expect(messagesOf([supply('BT1', 'rail', 'common', 1), resistor('R1', 'rail', 'common')])).toEqual([
      'circuit must have a net named ground, from which voltages are counted; got rail, common. Name the net of the supply\'s minus "ground".',
    ]);
  });

  test('suggests a net that was probably meant', () => {
    expect(messagesOf([supply('BT1', 'rail', 'Ground', 1), resistor('R1', 'rail', 'Ground')])).toEqual([
      'circuit must have a net named ground, from which voltages are counted; got rail, Ground. Did you mean it where you wrote Ground?',
    ]);
  });

  test('counts the nets beyond eight instead of listing them', () => {
    const chain = Array.from({ length: 11 }, (_, index) => resistor(`R${index}`, `n${index}`, `n${index + 1}`));
    expect(messagesOf(chain)[0]).toContain('got n0, n1, n2, n3, n4, n5, n6, n7 and 4 more.');
  });
});

describe('checkCircuit on loops of sources', () => {
  test.each<[string, unknown[], string[]]>([
    [
      'two supplies side by side',
      [supply('BT1', 'rail', 'ground'), supply('BT2', 'rail', 'ground')],
      [loop('BT2', 'BT1, BT2')],
    ],
    [
      'a supply across two in series',
      [supply('BT1', 'rail', 'mid'), supply('BT2', 'mid', 'ground'), supply('BT3', 'rail', 'ground')],
      [loop('BT3', 'BT1, BT2, BT3')],
    ],
    [
      'a supply shorted by a resistor of 0 Ω',
      [supply('BT1', 'rail', 'ground'), resistor('R1', 'rail', 'ground', 0)],
      [loop('BT1', 'R1, BT1')],
    ],
    [
      'a supply shorted by a jumper that is always closed',
      [supply('BT1', 'rail', 'ground'), { name: 'J1', kind: 'jumper', a: 'rail', b: 'ground' }],
      [loop('BT1', 'J1, BT1')],
    ],
    [
      'a supply shorted by two links in series',
      [
        supply('BT1', 'rail', 'ground'),
        resistor('R1', 'rail', 'mid', 0),
        { name: 'S1', kind: 'switch', a: 'mid', b: 'ground', closed: true },
      ],
      [loop('BT1', 'R1, S1, BT1')],
    ],
    [
      'a supply shorted by a pot at its end',
      [
        supply('BT1', 'rail', 'ground'),
        { name: 'P1', kind: 'pot', a: 'rail', wiper: 'ground', b: 'ground', resistance: 1000, position: 0 },
      ],
      [loop('BT1', 'P1, BT1')],
    ],
    [
      'a signal of 0 Ω across a supply',
      [
        supply('BT1', 'rail', 'ground'),
        {
          name: 'G1',
          kind: 'signal',
          plus: 'rail',
          minus: 'ground',
          resistance: 0,
          wave: { shape: 'constant', level: 6 },
        },
      ],
      [loop('G1', 'BT1, G1')],
    ],
    [
      'a supply with both poles on one net',
      [supply('BT1', 'ground', 'ground')],
      [
        'BT1 must not be in a loop of sources without resistance; got BT1 with both ends on one net. Give one of them a resistance, such as 0.5 Ω, or open the loop.',
      ],
    ],
    [
      'every supply beside the first',
      [supply('BT1', 'rail', 'ground'), supply('BT2', 'rail', 'ground'), supply('BT3', 'ground', 'rail')],
      [loop('BT2', 'BT1, BT2'), loop('BT3', 'BT1, BT3')],
    ],
  ])('names the parts of %s', (_, parts, messages) => {
    expect(messagesOf(parts)).toEqual(messages);
  });

  test.each<[string, unknown[]]>([
    ['a supply that has a resistance', [supply('BT1', 'rail', 'ground', 1), supply('BT2', 'rail', 'ground')]],
    [
      'a signal with its usual 50 Ω',
      [
        supply('BT1', 'rail', 'ground'),
        { name: 'G1', kind: 'signal', plus: 'rail', minus: 'ground', wave: { shape: 'constant', level: 6 } },
      ],
    ],
    [
      'links in a ring',
      [
        supply('BT1', 'rail', 'ground'),
        resistor('R1', 'rail', 'x', 0),
        resistor('R2', 'x', 'rail', 0),
        resistor('R3', 'rail', 'ground', 10),
      ],
    ],
    [
      'a button across a supply, which shorts it only when pressed',
      [supply('BT1', 'rail', 'ground'), { name: 'S1', kind: 'button', a: 'rail', b: 'ground' }],
    ],
    [
      'a jumper across a supply that is pulled at times',
      [
        supply('BT1', 'rail', 'ground'),
        { name: 'J1', kind: 'jumper', a: 'rail', b: 'ground', presses: [{ at: 0, for: 1 }] },
      ],
    ],
    [
      'a jumper that has a resistance',
      [supply('BT1', 'rail', 'ground'), { name: 'J1', kind: 'jumper', a: 'rail', b: 'ground', resistance: '20 mΩ' }],
    ],
    [
      'a pot at its end that keeps an end resistance',
      [
        supply('BT1', 'rail', 'ground'),
        { name: 'P1', kind: 'pot', a: 'rail', wiper: 'ground', b: 'ground', resistance: 1000, position: 0, end: 2 },
      ],
    ],
    ['capacitors across a supply', [supply('BT1', 'rail', 'ground'), capacitor('C1', 'rail', 'ground')]],
    [
      'two supplies in series',
      [supply('BT1', 'rail', 'mid'), supply('BT2', 'mid', 'ground'), resistor('R1', 'rail', 'mid')],
    ],
  ])('takes %s', (_, parts) => {
    expect(messagesOf(parts)).toEqual([]);
  });
});

describe('checkCircuit on floating nets', () => {
  test.each<[string, unknown[], string[]]>([
    ['a capacitor between two nets of its own', [capacitor('C1', 'x', 'y')], [floats('C1: a', 'nets x, y')]],
    [
      'a circuit of its own beside the one with ground',
      [supply('BT2', 'p', 'q', 1), resistor('R1', 'p', 'q')],
      [floats('BT2: plus', 'nets p, q')],
    ],
    [
      'inputs of timers that nothing drives',
      [timer('U1', { trigger: 'in', threshold: 'in' }), timer('U2', { trigger: 'in', output: 'out2' })],
      [floats('U1: pins.trigger', 'net in')],
    ],
    ['a reset with nothing on it', [timer('U1', { reset: 'hold' })], [floats('U1: pins.reset', 'net hold')]],
    [
      'two groups as two faults',
      [capacitor('C1', 'x', 'y'), capacitor('C2', 'v', 'w')],
      [floats('C1: a', 'nets x, y'), floats('C2: a', 'nets v, w')],
    ],
  ])('refuses %s', (_, parts, messages) => {
    expect(messagesOf(besideLoad(...parts))).toEqual(messages);
  });

  test.each<[string, unknown[]]>([
    ['a net between two capacitors in series', [capacitor('C1', 'rail', 'x'), capacitor('C2', 'x', 'ground')]],
    [
      'a net between two LEDs',
      [
        { name: 'D1', kind: 'led', a: 'rail', b: 'x' },
        { name: 'D2', kind: 'led', a: 'x', b: 'y' },
        resistor('R1', 'y', 'ground'),
      ],
    ],
    ['an output and a control pin that are only looked at', [timer('U1', { control: 'control' })]],
    ['a net held by a timer output', [timer('U1', {}), resistor('R1', 'out', 'x'), capacitor('C1', 'x', 'ground')]],
    ['a net held by a probe', [capacitor('C1', 'rail', 'x'), { name: 'P1', kind: 'probe', a: 'x' }]],
  ])('takes %s', (_, parts) => {
    expect(messagesOf(besideLoad(...parts))).toEqual([]);
  });

  test('says nothing about nets that a part with faults may hold', () => {
    const broken = resistor('R1', 'rail', 'x', -1);
    expect(messagesOf(besideLoad(broken, capacitor('C1', 'x', 'y'), capacitor('C2', 'x', 'y')))).toEqual([
      'R1: resistance must be at least 0 Ω; got −1 Ω. Choose a value in that range.',
    ]);
  });

  test('still finds nets that no part with faults touches', () => {
    const broken = resistor('R1', 'rail', 'ground', -1);
    expect(messagesOf(besideLoad(broken, capacitor('C1', 'x', 'y')))).toEqual([
      'R1: resistance must be at least 0 Ω; got −1 Ω. Choose a value in that range.',
      floats('C1: a', 'nets x, y'),
    ]);
  });

  test('waits with floating nets until every part says where it is joined', () => {
    const broken = { name: 'R1', kind: 'resistor', a: 'rail', resistance: 10 };
    expect(messagesOf(besideLoad(broken, capacitor('C1', 'x', 'y')))).toEqual([
      'R1: b must name a net; got nothing. Write the name of the net it is joined to.',
    ]);
  });
});

describe('checkCircuit on lone terminals and open switches', () => {
  test.each<[string, unknown[], string[]]>([
    ['a resistor that ends nowhere', [resistor('R1', 'rail', 'end')], [alone('R1: b', 'end')]],
    [
      'a net that was mistyped',
      [resistor('R1', 'timing', 'rail'), resistor('R2', 'timing', 'ground'), resistor('R3', 'timming', 'rail')],
      [alone('R3: a', 'timming', 'Did you mean timing?')],
    ],
    ['a discharge pin alone', [timer('U1', { discharge: 'd' })], [alone('U1: pins.discharge', 'd')]],
    [
      'a button that leads to a capacitor only',
      [{ name: 'S1', kind: 'button', a: 'rail', b: 'x' }, capacitor('C1', 'x', 'y'), capacitor('C2', 'x', 'y')],
      [cutOff('S1: b', 'nets x, y')],
    ],
    [
      'a trigger held by a button only',
      [{ name: 'S1', kind: 'button', a: 'in', b: 'ground' }, timer('U1', { trigger: 'in' })],
      [cutOff('S1: a', 'net in')],
    ],
    [
      'a trigger held by a finger only',
      [{ name: 'F1', kind: 'finger', a: 'plate' }, timer('U1', { trigger: 'plate' })],
      [cutOff('F1: a', 'net plate')],
    ],
    [
      'an input held by the discharge switch only',
      [timer('U1', { threshold: 'x', discharge: 'x' })],
      [cutOff('U1: pins.threshold', 'net x')],
    ],
    [
      'a jumper that is pulled at times',
      [
        { name: 'J1', kind: 'jumper', a: 'rail', b: 'in', presses: [{ at: 1, for: 1 }] },
        timer('U1', { trigger: 'in' }),
      ],
      [cutOff('J1: b', 'net in')],
    ],
  ])('warns of %s', (_, parts, messages) => {
    expect(messagesOf(besideLoad(...parts))).toEqual(messages);
  });

  test.each<[string, unknown[]]>([
    [
      'a jumper that stays closed',
      [{ name: 'J1', kind: 'jumper', a: 'rail', b: 'in' }, timer('U1', { trigger: 'in' })],
    ],
    [
      'a button with its pull-up',
      [
        { name: 'S1', kind: 'button', a: 'in', b: 'ground' },
        resistor('R1', 'rail', 'in'),
        timer('U1', { trigger: 'in' }),
      ],
    ],
    [
      'a capacitor that a button charges',
      [{ name: 'S1', kind: 'button', a: 'rail', b: 'x' }, capacitor('C1', 'x', 'ground')],
    ],
  ])('does not warn of %s', (_, parts) => {
    expect(messagesOf(besideLoad(...parts))).toEqual([]);
  });
});
