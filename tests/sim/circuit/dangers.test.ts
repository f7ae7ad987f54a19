import { cautions } from '#sim/circuit/cautions.ts';
import { dangers } from '#sim/circuit/dangers.ts';
import { describe, expect, test } from 'vitest';
import { circuitOf, plain } from '../../support/circuit-issues.ts';
import { battery, resistor, load, electrolytic, led, timer, signal, dangersOf } from '../../support/danger-boards.ts';

/*
 * Expected values: Ohm's law on the parts in each comment, with the resistances and drops of shared/timer-families.json
 * and the defaults of an LED (1.7 V and 10 Ω).
 */

describe('dangers(circuit)', () => {
  test('are none on a sound board', () => {
    const parts = [battery(), load, resistor('R1', 'rail', 'x', '680 Ω'), led('x', 'ground'), timer('bipolar')];
    expect(dangersOf(...parts, electrolytic('x', 'ground'))).toEqual([]);
  });

  test('are all among the cautions, whole sentences, none twice', () => {
    const circuit = circuitOf([
      battery('-70 V', { origin: 'unknown' }),
      load,
      timer('cmos', { discharge: 'rail' }),
      electrolytic('rail', 'ground'),
      led('rail', 'ground'),
      { name: 'F1', kind: 'finger', a: 'rail' },
    ]);
    const found = dangers(circuit);
    expect(found.length).toBeGreaterThan(5);
    expect(new Set(found).size).toBe(found.length);
    for (const sentence of found) expect(sentence).toMatch(/^[A-Z].*\.$/s);
    expect(cautions(circuit)).toEqual(expect.arrayContaining(found));
  });
});

describe('an electrolytic capacitor', () => {
  test.each<[string, unknown[], string]>([
    ['across the supply', [electrolytic('ground', 'rail')], '12 V'],
    ['behind a timing resistor', [resistor('R1', 'rail', 't', '100 kΩ'), electrolytic('ground', 't')], '12 V'],
    ['between the rail and a net pulled low', [electrolytic('t', 'rail'), resistor('R1', 't', 'ground', 1e5)], '12 V'],
    // bipolar output high, 1.3 V below the rail
    ['at an output', [timer('bipolar'), electrolytic('x', 'out'), resistor('R1', 'x', 'ground', 100)], '10.7 V'],
    // coupling: at rest both ends at 12 V, during a pulse the minus end is 12 V above the plus end
    [
      'that couples pulses to a pulled-up net',
      [signal('in', '12 V', '0 V'), electrolytic('in', 'trigger'), resistor('R1', 'rail', 'trigger', 1e4)],
      '12 V',
    ],
    ['on a supply that is reversed', [battery('-9 V'), electrolytic('rail', 'ground')], '9 V'],
  ])('the wrong way round %s is named', (_, parts, volts) => {
    const all = parts.some((part) => (part as { name: string }).name === 'BT1') ? parts : [battery(), ...parts];
    expect(dangersOf(load, ...all)).toEqual([
      `C1 is the wrong way round: its plus end can only be lower than its minus end, by up to ${volts}. A reversed electrolytic capacitor heats up and may burst; turn it round.`,
    ]);
  });

  test.each<[string, unknown[]]>([
    ['the right way round', [resistor('R1', 'rail', 't', 1e5), electrolytic('t', 'ground')]],
    ['from the rail down to a net', [resistor('R1', 't', 'ground', 1e5), electrolytic('rail', 't')]],
    ['whose polarity is not stated', [electrolytic('ground', 'rail', { polarised: undefined })]],
    ['that has none', [electrolytic('ground', 'rail', { polarised: false })]],
    // the plus end at a divider's 8 V, the minus end at another's 4 V: every path leads both ways, the levels do not
    [
      'between two dividers',
      [
        resistor('R1', 'rail', 'p', 1e3),
        resistor('R2', 'p', 'ground', 2e3),
        resistor('R3', 'rail', 'm', 2e3),
        resistor('R4', 'm', 'ground', 1e3),
        electrolytic('p', 'm'),
      ],
    ],
    [
      'coupling an output to a load below it',
      [timer('bipolar'), electrolytic('out', 'x'), resistor('R1', 'x', 'ground', 100)],
    ],
    ['that nothing charges', [electrolytic('ground', 'x'), resistor('R1', 'x', 'ground', 1e3)]],
  ])('%s is no danger', (_, parts) => {
    expect(dangersOf(battery(), load, ...parts)).toEqual([]);
  });

  test('that starts the wrong way round, by more than the 0.5 V that a run counts from, is named', () => {
    const c = (initial: unknown) => electrolytic('t', 'ground', { initial });
    const charge = resistor('R1', 'rail', 't', 1e5);
    expect(dangersOf(battery(), load, charge, c('-3 V'))).toEqual([
      'C1 starts the wrong way round, at −3 V. A reversed electrolytic capacitor heats up and may burst; turn it round.',
    ]);
    expect(dangersOf(battery(), load, charge, c('-0.4 V'))).toEqual([]);
  });

  test('above its rating behind a power switch is named', () => {
    const supply = { ...battery('30 V'), plus: 'battery' };
    const power = { name: 'S1', kind: 'switch', a: 'battery', b: 'rail' };
    expect(dangersOf(supply, power, load, electrolytic('rail', 'ground'))).toContain(
      'C1: the rating of 25 V is below the 30 V of the supply.',
    );
  });
});

describe('an LED', () => {
  test('the wrong way round carries nothing and is named for that alone', () => {
    expect(dangersOf(battery('4.5 V'), load, led('ground', 'rail'))).toEqual([
      'D1 is the wrong way round: no supply or signal can drive a current from its anode to its cathode, so it will not light.',
    ]);
  });

  test('the wrong way round above 5 V may be damaged', () => {
    const told =
      'D1 is the wrong way round: no supply or signal can drive a current from its anode to its cathode, so it will not light. Up to 12 V may stand against it; LEDs bear little that way, typically 5 V (common practice, no source; the data sheet of the LED counts).';
    expect(dangersOf(battery(), load, led('ground', 'rail'))).toEqual([told]);
    expect(dangersOf(battery(), load, led('ground', 'x'), resistor('R1', 'x', 'rail', 680))).toEqual([told]);
  });

  test('behind a diode the wrong way round carries nothing', () => {
    // The diode blocks both ways round: nothing stands against the LED, and no current is said to flow.
    const blocked = { name: 'D2', kind: 'diode', a: 'x', b: 'rail' };
    expect(dangersOf(battery(), load, blocked, led('x', 'ground'))).toEqual([]);
  });

  test('beside one the other way round, on a signal of both signs, lights and is clamped', () => {
    const both = [signal('in', '9 V', '-9 V'), resistor('R1', 'in', 'x', 1e3)];
    expect(dangersOf(battery(), load, ...both, led('x', 'ground'), { ...led('ground', 'x'), name: 'D2' })).toEqual([]);
  });

  test('alone on a signal of both signs is told what stands against it', () => {
    expect(
      dangersOf(battery(), load, signal('in', '9 V', '-9 V'), resistor('R1', 'in', 'x', 1e3), led('x', 'ground')),
    ).toEqual([
      'D1: up to 9 V may stand against it while it is dark; LEDs bear little that way, typically 5 V (common practice, no source; the data sheet of the LED counts).',
    ]);
  });

  test('is fed by the sources on its own way only', () => {
    // (6 V - 1.7 V) / (50 + 270 + 10) ohm = 13 mA, whatever the 12 V of the rail would do.
    expect(
      dangersOf(battery(), load, signal('in', '6 V', '0 V'), resistor('R1', 'in', 'x', 270), led('x', 'ground')),
    ).toEqual([]);
  });

  test('on a battery that only a switch in its minus lead joins to ground is looked at as well', () => {
    // (9 V - 1.7 V) / 10 ohm
    const floating = { ...battery('9 V'), minus: 'low' };
    const power = { name: 'S1', kind: 'switch', a: 'low', b: 'ground' };
    expect(dangersOf(floating, power, load, led('rail', 'ground'))).toEqual([
      'D1: an LED always needs a current-limiting path; as joined here about 730 mA may flow, above the limit of 20 mA (20 mA unless stated).',
    ]);
  });

  test('behind two resistors side by side carries the current of both', () => {
    // 10.3 V / (340 + 10) ohm; each alone would be 15 mA
    const both = [resistor('R1', 'rail', 'x', 680), resistor('R2', 'rail', 'x', 680)];
    expect(dangersOf(battery(), load, ...both, led('x', 'ground'))).toEqual([
      'D1: an LED always needs a current-limiting path; as joined here about 29 mA may flow, above the limit of 20 mA (20 mA unless stated).',
    ]);
  });

  test('on a current source is judged by its current', () => {
    const fed = (current: string) => [{ name: 'I1', kind: 'source', a: 'rail', b: 'x', current }, led('x', 'ground')];
    expect(dangersOf(battery(), load, ...fed('15 mA'))).toEqual([]);
    // 10 mA and 10.3 V / (4.7 + 0.01) kohm
    expect(dangersOf(battery(), load, ...fed('10 mA'), resistor('R1', 'rail', 'x', 4700))).toEqual([]);
    expect(dangersOf(battery(), load, ...fed('30 mA'))).toEqual([
      'D1: an LED always needs a current-limiting path; as joined here about 30 mA may flow, above the limit of 20 mA (20 mA unless stated).',
    ]);
  });
});

describe('a resistor', () => {
  test('straight across the supply that takes too much is a danger; one that only might is a caution', () => {
    // 144 V^2 / 100 ohm = 1.44 W, above 1 W
    expect(dangersOf(battery(), resistor('R1', 'rail', 'ground', 100, '1 W'))).toEqual([
      'R1 may turn about 1.44 W into heat (rated 1 W).',
    ]);
    const behind = [battery(), resistor('R1', 'rail', 'x', 100, '1 W'), resistor('R2', 'x', 'ground', 1e4)];
    expect(dangersOf(...behind)).toEqual([]);
    expect(cautions(circuitOf(behind)).map(plain).join(' ')).toContain('R1: with the whole 12 V across it');
  });
});

describe('a resistor in series with others', () => {
  test('is judged by the current that these let through', () => {
    // 12 V / (330 + 100) ohm = 27.9 mA: 257 mW in 330 ohm, 77.9 mW in 100 ohm
    const unrated = (name: string, a: string, b: string, resistance: number) => {
      return { name, kind: 'resistor', a, b, resistance };
    };
    expect(dangersOf(battery(), unrated('R1', 'rail', 'x', 330), unrated('R2', 'x', 'ground', 100))).toEqual([
      'R1 may turn about 257 mW into heat (rating not stated, 0.25 W used).',
    ]);
    // behind an LED (12 - 1.7) V / (470 + 10) ohm = 21.5 mA: 216 mW
    const lamp = [unrated('R1', 'rail', 'x', 470), led('x', 'ground', { limit: '30 mA' })];
    expect(dangersOf(battery(), load, ...lamp)).toEqual([]);
  });
});

describe('a contact', () => {
  test('across the supply is a short circuit, alone or with another', () => {
    const button = (name: string, a: string, b: string) => ({ name, kind: 'button', a, b, resistance: '10 mΩ' });
    expect(dangersOf(battery(), load, button('S1', 'rail', 'ground'))).toEqual([
      'S1 joins both ends of a supply or signal when it closes: a short circuit.',
    ]);
    expect(dangersOf(battery(), load, button('S1', 'rail', 'x'), button('S2', 'x', 'ground'))).toEqual([
      'S1 joins both ends of a supply or signal when it closes: a short circuit.',
      'S2 joins both ends of a supply or signal when it closes: a short circuit.',
    ]);
  });

  test('that pulls an input down, or feeds a board, is none', () => {
    const pulled = [resistor('R1', 'rail', 'x', 1e4), { name: 'S1', kind: 'button', a: 'x', b: 'ground' }];
    expect(dangersOf(battery(), load, ...pulled)).toEqual([]);
  });
});

describe('a touch plate', () => {
  const touched = (...parts: unknown[]) => {
    return dangersOf(battery(), load, { name: 'F1', kind: 'finger', a: 'plate' }, ...parts);
  };
  const told = (resistance: string, names: string) => [
    `F1: only ${resistance} stands between the plate plate and the circuit, by way of ${names}; make it 1 MΩ or more.`,
  ];

  test('behind resistors one after the other has them all', () => {
    const chain = [resistor('R1', 'plate', 'x', 470e3), resistor('R2', 'x', 'rail', 560e3)];
    expect(touched(...chain)).toEqual([]);
    expect(touched(resistor('R1', 'plate', 'x', 470e3), resistor('R2', 'x', 'rail', 470e3))).toEqual(
      told('940 kΩ', 'R1'),
    );
  });

  test('behind resistors side by side has less than each', () => {
    const both = [resistor('R1', 'plate', 'rail', 1e6), resistor('R2', 'plate', 'ground', 1e6)];
    expect(touched(...both)).toEqual(told('500 kΩ', 'R1, R2'));
  });

  test('behind a resistor that something goes round has only what is before that', () => {
    // x is the circuit's as soon as a capacitor is on it
    const parts = [resistor('R1', 'plate', 'x', 470e3), resistor('R2', 'x', 'rail', 1e6)];
    expect(touched(...parts)).toEqual([]);
    expect(touched(...parts, { ...electrolytic('x', 'ground'), polarised: false })).toEqual(told('470 kΩ', 'R1'));
  });

  test('with anything else on it has nothing in between', () => {
    expect(touched(resistor('R1', 'plate', 'rail', 1e6), { name: 'P1', kind: 'probe', a: 'plate' })).toEqual([
      'F1: nothing stands between the plate plate and P1; put a resistor of 1 MΩ or more between them.',
    ]);
  });
});

describe('dangers(circuit, names)', () => {
  test('are those of the named parts only, with all others joined to them', () => {
    // R1 of another board feeds the LED: (12 - 1.7) V / (100 + 10) ohm = 94 mA
    const circuit = circuitOf([
      battery(),
      load,
      resistor('R1', 'rail', 'x', 100),
      led('x', 'ground'),
      { ...electrolytic('ground', 'rail'), name: 'C9' },
    ]);
    const found = dangers(circuit, new Set(['D1'])).map(plain);
    expect(found).toEqual([expect.stringMatching(/^D1: an LED always needs .* about 94 mA/)]);
  });
});
