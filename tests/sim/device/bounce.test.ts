import fc from 'fast-check';
import { expect, test } from 'vitest';
import { contactChanges } from '#sim/device/bounce.ts';
import { simulate } from '#sim/run/run.ts';

const presses = [
  { at: 1, for: 0.2 },
  { at: 1.5, for: 0.003 },
];

test('contactChanges() without bounce goes to the other position and back at each press', () => {
  expect(contactChanges(presses)).toEqual([
    { at: 1, pressed: true },
    { at: 1.2, pressed: false },
    { at: 1.5, pressed: true },
    { at: 1.503, pressed: false },
  ]);
});

test('contactChanges() bounces at random times that end in the position meant, before the next change is due', () => {
  fc.assert(
    fc.property(fc.nat(), fc.double({ min: 1e-6, max: 0.1, noNaN: true }), (seed, length) => {
      const bounced = contactChanges(presses, { for: length, seed });
      expect(bounced).toEqual(contactChanges(presses, { for: length, seed }));
      bounced.forEach((change, i) => {
        const before = bounced[i - 1];
        if (before === undefined) return;
        expect(change.at).toBeGreaterThanOrEqual(before.at);
        expect(change.pressed).toBe(!before.pressed);
      });
      for (const [i, plain] of contactChanges(presses).entries()) {
        const next = contactChanges(presses)[i + 1]?.at ?? Infinity;
        const group = bounced.filter(({ at }) => at >= plain.at && at < next);
        expect(group.length).toBeGreaterThan(2);
        expect(group.at(-1)!.pressed).toBe(plain.pressed);
        expect(group.at(-1)!.at - plain.at).toBeLessThanOrEqual(length);
      }
    }),
  );
});

test('a bouncing button gives a short interval more than one pulse and a long one just one', () => {
  const platform = (resistance: number): object => ({
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-7 },
      { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: 10e3 },
      {
        name: 'S1',
        kind: 'button',
        a: 'in',
        b: 'ground',
        presses: [{ at: 0.1, for: 0.2 }],
        bounce: { for: '5 ms', seed: 4 },
      },
      {
        name: 'U1',
        kind: 'timer',
        family: 'ideal',
        pins: {
          supply: 'rail',
          ground: 'ground',
          trigger: 'in',
          threshold: 'timing',
          discharge: 'timing',
          output: 'out',
        },
      },
    ],
  });
  // needs page, row 7: the interval must outlast the bounce of press and release. 0.11 ms does not, 330 ms does.
  expect(simulate(platform(1e3), { until: 1 }).read('count(out)').value).toBeGreaterThan(1);
  expect(simulate(platform(3e6), { until: 1 }).read('count(out)').value).toBe(1);
});

test('a source charges a capacitor in a straight line, down to its headroom', () => {
  const run = simulate(
    {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 },
        { name: 'I1', kind: 'source', a: 'rail', b: 'top', current: '1 mA', headroom: '1 V' },
        { name: 'C1', kind: 'capacitor', a: 'top', b: 'ground', capacitance: '1 µF' },
      ],
    },
    { until: '20 ms' },
  );
  // v = I t / C up to 8 V, then an exponential of 1 V headroom / 1 mA times 1 uF: closed form.
  expect(run.trace('top').at(0.005)).toBeCloseTo(5, 12);
  expect(run.trace('top').at(0.009)).toBeCloseTo(9 - Math.exp(-1), 12);
  expect(run.trace('current(I1)').at(0.005)).toBeCloseTo(1e-3, 15);
});

test('a speaker draws what its resistance lets it', () => {
  const run = simulate(
    {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 6 },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'out', resistance: 56 },
        { name: 'LS1', kind: 'speaker', a: 'out', b: 'ground' },
      ],
    },
    { until: 1 },
  );
  expect(run.read('current(LS1)').value).toBeCloseTo(6 / 64, 12);
});
