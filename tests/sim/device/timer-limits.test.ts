import { describe, expect, test } from 'vitest';
import { type TimerFamily, type TimerParameters, timerParameters } from '#sim/device/families.ts';
import { watchTimerLimits } from '#sim/device/timer-limits.ts';
import { NotingHost } from '../../support/noting-host.ts';

const pins = { ground: 0, supply: 1, trigger: 2, threshold: 3, control: 4, reset: 5 };
const limited: Partial<TimerParameters> = {
  supplyMinimum: 4.5,
  supplyMaximum: 16,
  outputMaximum: 0.2,
  outputSinkMaximum: 0.1,
};

type Limits = NotingHost['limits'];

function limitsOf(
  parameters: Partial<TimerParameters>,
  change: Partial<typeof pins> | { reset: undefined } = {},
  family: TimerFamily = 'bipolar',
): Limits {
  const host = new NotingHost();
  const given = timerParameters(family, parameters);
  watchTimerLimits('U1', host, family, given, { ...pins, ...change }, { high: 7, low: 8 });
  return host.limits;
}

function namesOf(limits: Limits): string[] {
  return limits.map(({ what, pin }) => (pin === undefined ? what! : `${what} ${pin}`));
}

const ofSupplyAndOutput = ['supply-low', 'supply-high', 'output-gives', 'output-takes'];

describe('watchTimerLimits', () => {
  test('watches the supply from both sides, and what either half of the output carries', () => {
    const [low, high, gives, takes] = limitsOf(limited);
    const fed = { plus: 1, minus: 0, seen: 'plus above minus' };
    const sagging = { plus: 0, minus: 1, seen: 'minus above plus' };
    // A guard fires when what it watches, less its offset, is above zero: the supply below 4.5 V is -v + 4.5 above zero.
    expect(low).toMatchObject({ what: 'supply-low', guards: [{ watch: sagging, offset: -4.5 }] });
    expect(high).toMatchObject({ what: 'supply-high', guards: [{ watch: fed, offset: 16 }] });
    expect(gives).toMatchObject({ what: 'output-gives', guards: [{ watch: { branch: 7, sign: 1 }, offset: 0.2 }] });
    expect(takes).toMatchObject({ what: 'output-takes', guards: [{ watch: { branch: 8, sign: 1 }, offset: 0.1 }] });
  });

  test('watches every input beyond both rails, by the margin of the family', () => {
    // Margins (V): bipolar from memory, a junction below ground; CMOS: ICM FN2867 p. 8-172, note 1.
    for (const [family, margin] of [
      ['bipolar', 0.5],
      ['cmos', 0.3],
    ] as const) {
      const limits = limitsOf(limited, {}, family).slice(4);
      expect(namesOf(limits)).toEqual(
        ['trigger', 'threshold', 'control', 'reset'].flatMap((pin) => [`pin-high ${pin}`, `pin-low ${pin}`]),
      );
      limits.forEach(({ guards }, i) => {
        const node = 2 + Math.floor(i / 2);
        const above = { watch: { plus: node, minus: 1, seen: 'plus above minus' }, offset: margin };
        const below = { watch: { plus: 0, minus: node, seen: 'minus above plus' }, offset: margin };
        expect(guards).toMatchObject([i % 2 === 0 ? above : below]);
      });
    }
  });

  test('leaves out inputs that are tied to a rail, and a RESET that is left out', () => {
    const without = (name: string): string[] =>
      ['trigger', 'threshold', 'control', 'reset']
        .filter((pin) => pin !== name)
        .flatMap((pin) => [`pin-high ${pin}`, `pin-low ${pin}`]);
    for (const name of ['trigger', 'threshold', 'control', 'reset']) {
      for (const rail of [pins.supply, pins.ground]) {
        expect(namesOf(limitsOf(limited, { [name]: rail }))).toEqual([...ofSupplyAndOutput, ...without(name)]);
      }
    }
    expect(namesOf(limitsOf(limited, { reset: undefined }))).toEqual([...ofSupplyAndOutput, ...without('reset')]);
  });

  test('watches nothing that has no limit', () => {
    const free = {
      supplyMinimum: 0,
      supplyMaximum: Infinity,
      outputMaximum: Infinity,
      outputSinkMaximum: Infinity,
    };
    const tied = { trigger: 1, threshold: 1, control: 1, reset: 1 };
    expect(limitsOf(free, tied)).toEqual([]);
    expect(namesOf(limitsOf({ ...free, supplyMinimum: 2 }, tied))).toEqual(['supply-low']);
    expect(namesOf(limitsOf({ ...free, outputSinkMaximum: 1 }, tied))).toEqual(['output-takes']);
  });
});
