import { describe, expect, test } from 'vitest';
import { battery, resistor, load, electrolytic, led, timer, signal, dangersOf } from '../../support/danger-boards.ts';

/*
 * Expected values: Ohm's law on the parts in each comment, with the resistances and drops of shared/timer-families.json
 * and the defaults of an LED (1.7 V and 10 Ω).
 */

describe('DISCHARGE of a timer', () => {
  const board = (family: string, ...parts: unknown[]) =>
    dangersOf(battery(), timer(family, { discharge: 'd' }), ...parts);

  test.each<[string, string, unknown, string, string]>([
    // (12 - 0.037) V / (68 + 9.5) ohm
    ['bipolar', '68 Ω', 68, '154 mA', '150 mA'],
    // 12 V / (100 + 14) ohm
    ['cmos', '100 Ω', 100, '105 mA', '100 mA'],
  ])('%s, behind %s is overloaded', (family, _, resistance, current, limit) => {
    expect(board(family, resistor('R1', 'rail', 'd', resistance))).toEqual([
      `U1: DISCHARGE would have to take about ${current} through R1, above the ${limit} of a timer of the family ${family}. Put more resistance between DISCHARGE and the supply; 1 kΩ or more is common practice, no source.`,
    ]);
  });

  test('tied straight to the supply is overloaded', () => {
    expect(dangersOf(battery(), load, timer('cmos', { discharge: 'rail' }))).toEqual([
      // 12 V / 14 ohm
      'U1: DISCHARGE would have to take about 857 mA with nothing in the way, above the 100 mA of a timer of the family cmos. Put more resistance between DISCHARGE and the supply; 1 kΩ or more is common practice, no source.',
    ]);
  });

  test('behind a pot is judged with the pot at its end', () => {
    const pot = { name: 'P1', kind: 'pot', a: 'rail', wiper: 'd', b: 'd', resistance: '100 kΩ' };
    expect(board('cmos', pot)[0]).toContain('about 857 mA through P1 (a pot at its end)');
  });

  test.each<[string, string, unknown[]]>([
    ['bipolar', 'behind 82 Ω', [resistor('R1', 'rail', 'd', 82)]],
    ['cmos', 'behind 1 kΩ', [resistor('R1', 'rail', 'd', 1e3)]],
    ['ideal', 'tied to the supply', [resistor('R1', 'rail', 'd', 0.1)]],
    ['bipolar', 'that empties a large capacitor', [electrolytic('d', 'ground'), resistor('R1', 'rail', 'd', 1e4)]],
    // its own output is low whenever DISCHARGE conducts
    ['cmos', 'fed by its own output', [resistor('R1', 'out', 'd', 10)]],
  ])('%s, %s is no danger', (family, _, parts) => {
    expect(board(family, ...parts)).toEqual([]);
  });
});

describe('the output of a timer', () => {
  const board = (family: string, ...parts: unknown[]) => dangersOf(battery(), load, timer(family), ...parts);
  const given = (current: string, way: string, limit: string, family: string) =>
    `U1: the output would have to give about ${current} ${way}, above the ${limit} of a timer of the family ${family}. Put more resistance into what it feeds.`;
  const taken = (current: string, way: string, limit: string, family: string) =>
    `U1: the output would have to take about ${current} ${way}, above the ${limit} of a timer of the family ${family}. Put more resistance into what it feeds.`;

  test('with a load to ground below what it gives', () => {
    // (12 - 1.3) V / (8 + 4) ohm
    const speaker = { name: 'LS1', kind: 'speaker', a: 'out', b: 'ground' };
    expect(board('bipolar', speaker)).toEqual([given('892 mA', 'through LS1', '200 mA', 'bipolar')]);
    // (12 - 1.7) V / (200 + 680 + 10) ohm
    expect(board('cmos', resistor('R1', 'out', 'x', 680), led('x', 'ground'))).toEqual([
      given('11.6 mA', 'through R1 and D1', '10 mA', 'cmos'),
    ]);
  });

  test('with a load to the supply below what it takes', () => {
    // 12 V / (47 + 26) ohm
    expect(board('cmos', resistor('R1', 'rail', 'out', 47))).toEqual([taken('164 mA', 'through R1', '100 mA', 'cmos')]);
  });

  test('tied to ground', () => {
    // (12.1 - 1.3) V / 4 ohm
    expect(dangersOf(battery('12.1 V'), load, timer('bipolar', { output: 'ground' }))).toEqual([
      given('2.7 A', 'with nothing in the way', '200 mA', 'bipolar'),
    ]);
  });

  test('with several loads that only together are too much', () => {
    // Each alone 10.3 V / (200 + 1000 + 10) ohm = 8.5 mA; together 10.3 V / (505 + 200) ohm.
    const two = ['1', '2'].flatMap((n) => [
      resistor(`R${n}`, 'out', `x${n}`, 1e3),
      { ...led(`x${n}`, 'ground'), name: `D${n}` },
    ]);
    expect(board('cmos', ...two)).toEqual([
      given('14.6 mA', 'through R1 and D1, and through R2 and D2', '10 mA', 'cmos'),
    ]);
  });

  test.each<[string, string, unknown[]]>([
    ['bipolar', 'a lamp', [resistor('R1', 'out', 'x', 680), led('x', 'ground')]],
    ['cmos', 'a lamp from the supply', [resistor('R1', 'rail', 'x', 680), led('x', 'out')]],
    ['ideal', 'a short', [resistor('R1', 'out', 'ground', 0.1)]],
    [
      'cmos',
      'a loudspeaker behind a capacitor',
      [electrolytic('out', 'x'), { name: 'LS1', kind: 'speaker', a: 'x', b: 'ground' }],
    ],
    ['cmos', 'a reversed diode', [{ name: 'D2', kind: 'diode', a: 'ground', b: 'out' }]],
  ])('%s, with %s is no danger', (family, _, parts) => {
    expect(board(family, ...parts)).toEqual([]);
  });
});

describe('the supply of a timer', () => {
  test('reversed comes first of all', () => {
    const found = dangersOf(
      battery('-12 V'),
      load,
      led('ground', 'rail'),
      electrolytic('rail', 'ground'),
      timer('bipolar'),
    );
    expect(found[0]).toBe('U1: the supply is reversed, which destroys a timer.');
    expect(found.length).toBeGreaterThan(2);
  });

  test('reversed at its pins is seen', () => {
    expect(dangersOf(battery(), load, timer('bipolar', { supply: 'ground', ground: 'rail' }))[0]).toBe(
      'U1: the supply is reversed, which destroys a timer.',
    );
  });

  test('behind a power switch is judged all the same', () => {
    const through = (voltage: string) => [
      { ...battery(voltage), plus: 'battery' },
      { name: 'S1', kind: 'switch', a: 'battery', b: 'rail' },
    ];
    expect(dangersOf(...through('18 V'), load, timer('bipolar'))).toEqual([
      'U1: the supply can reach 18 V, above the 16 V that a timer of the family bipolar bears.',
    ]);
    expect(dangersOf(...through('3 V'), load, timer('bipolar'))).toEqual([
      'U1: the supply can reach 3 V at most, below the 4.5 V that a timer of the family bipolar needs.',
    ]);
    expect(dangersOf(...through('-9 V'), load, timer('bipolar'))[0]).toBe(
      'U1: the supply is reversed, which destroys a timer.',
    );
    expect(dangersOf(...through('9 V'), load, timer('bipolar'))).toEqual([]);
  });

  test('from a battery with resistance inside is judged by the voltage of the battery', () => {
    const found = dangersOf(battery('18 V', { resistance: '5 Ω' }), load, timer('bipolar'));
    expect(found).toEqual(['U1: the supply reaches 18 V, above the 16 V that a timer of the family bipolar bears.']);
    expect(dangersOf(battery('-9 V', { resistance: '5 Ω' }), load, timer('bipolar'))[0]).toContain('reversed');
  });

  test('behind a diode against reversal is not reversed', () => {
    const guarded = (voltage: string) => [
      { ...battery(voltage), plus: 'battery' },
      { name: 'D2', kind: 'diode', a: 'battery', b: 'rail' },
    ];
    expect(dangersOf(...guarded('-12 V'), load, timer('bipolar')).join(' ')).not.toContain('reversed');
    expect(dangersOf(...guarded('12 V'), load, timer('bipolar'))).toEqual([]);
  });

  test('that comes up from 0 V is not too low, one that sags is', () => {
    const ramp = (to: string) => battery('0 V', { changes: [{ at: 0, voltage: to, over: '10 ms' }] });
    expect(dangersOf(ramp('9 V'), load, timer('bipolar'))).toEqual([]);
    expect(dangersOf(ramp('4 V'), load, timer('bipolar'))).toEqual([
      'U1: the supply is as low as 4 V, below the 4.5 V that a timer of the family bipolar needs.',
    ]);
  });
});

describe('an input of a timer', () => {
  test.each<[string, object, unknown[], string]>([
    ['trigger', { trigger: 'in' }, [signal('in', '15 V', '0 V')], 'TRIGGER is driven up to 3 V above the supply'],
    ['trigger', { trigger: 'in' }, [signal('in', '12 V', '-2 V')], 'TRIGGER is driven up to 2 V below ground'],
    ['threshold', { threshold: 'in' }, [signal('in', '15 V', '0 V')], 'THRESHOLD is driven up to 3 V above the supply'],
    [
      'reset, behind a resistor',
      { reset: 'x' },
      [signal('in', '15 V', '0 V'), resistor('R1', 'in', 'x', 1e4)],
      'RESET is driven up to 3 V above the supply',
    ],
    [
      'control',
      { control: 'c' },
      [{ name: 'VC', kind: 'supply', plus: 'c', minus: 'ground', voltage: '20 V' }],
      'CONTROL is driven up to 8 V above the supply',
    ],
  ])('%s beyond the supply is named', (_, pins, parts, told) => {
    expect(dangersOf(battery(), load, timer('bipolar', pins), ...parts)).toEqual([
      `U1: ${told}; a timer of the family bipolar bears 500 mV there.`,
    ]);
  });

  test('may go as far as its family bears', () => {
    const at = (family: string, level: string) =>
      dangersOf(battery(), load, timer(family, { trigger: 'in' }), signal('in', level, '0 V')).length;
    expect([at('bipolar', '12.4 V'), at('bipolar', '12.6 V')]).toEqual([0, 1]);
    expect([at('cmos', '12.2 V'), at('cmos', '12.4 V')]).toEqual([0, 1]);
    expect(at('ideal', '20 V')).toBe(0);
  });

  test('that a diode clamps to the supply is left to the run', () => {
    const clamp = { name: 'D2', kind: 'diode', a: 'in', b: 'rail' };
    const driven = [signal('in', '20 V', '0 V'), timer('bipolar', { trigger: 'in' })];
    expect(dangersOf(battery(), load, ...driven)).toHaveLength(1);
    expect(dangersOf(battery(), load, ...driven, clamp)).toEqual([]);
  });

  test('behind a divider is left to the run', () => {
    const divided = [resistor('R1', 'in', 'x', 1e4), resistor('R2', 'x', 'ground', 1e4)];
    expect(
      dangersOf(battery(), load, timer('bipolar', { trigger: 'x' }), signal('in', '20 V', '0 V'), ...divided),
    ).toEqual([]);
  });
});
