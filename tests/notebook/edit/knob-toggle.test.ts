import { hasKnob, knobComplaint, toggleKnob } from '#notebook/edit/knob-toggle.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { expect, test } from 'vitest';

const document: Json = {
  boards: { lamp: { ready: 'monostable' }, counter: { ready: 'frequency divider' } },
  page: [
    { id: 'lamp', kind: 'board', board: 'lamp', knobs: ['R1.resistance'] },
    { id: 'counter', kind: 'board', board: 'counter' },
  ],
};

test('a value gets a knob under its shortest name, and loses it however it was written', () => {
  const c1 = { part: 'C1', steps: ['capacitance'] };
  const on = toggleKnob(document, 0, c1);
  expect(on).toEqual({ path: ['page', 0, 'knobs'], value: ['R1.resistance', 'C1'], label: 'knob for C1' });
  const after = withValue(document, on.path, on.value);
  expect(hasKnob(after, 0, c1)).toBe(true);
  const r1 = { part: 'R1', steps: ['resistance'] };
  expect(hasKnob(after, 0, r1)).toBe(true);
  expect(toggleKnob(after, 0, r1)).toMatchObject({ value: ['C1'], label: 'no knob for R1' });
  const period = toggleKnob(document, 1, { part: 'G1', steps: ['wave', 'period'] });
  expect(valueAt(withValue(document, period.path, period.value), ['page', 1, 'knobs'])).toEqual(['G1.wave.period']);
});

test('an entry of a list, and what a timer has from its family, get knobs under names that the document check takes', () => {
  const press = toggleKnob(document, 0, { part: 'S1', steps: ['presses', 1, 'for'] });
  expect(press).toMatchObject({
    label: 'knob for S1 press 2 for',
    value: expect.arrayContaining(['S1.presses[1].for']),
  });
  const delay = toggleKnob(document, 0, { part: 'U1', steps: ['with', 'delay'] });
  expect(delay).toMatchObject({ label: 'knob for U1 delay', value: expect.arrayContaining(['U1.with.delay']) });
});

test('a knob that names no quantity is told of', () => {
  expect(knobComplaint(document, 'lamp', ['R1', 'U1.family'])).toContain('got U1.family');
  expect(knobComplaint(document, 'counter', ['G1.wave'])).toContain('got G1.wave,');
  expect(knobComplaint(document, 'counter', ['G1.wave.period', 'C1.leakage', 'BT1'])).toBeUndefined();
  const q1 = { name: 'Q1', kind: 'transistor', base: 'b', collector: 'c', emitter: 'ground', gain: 150 };
  const amplifier: Json = { boards: { bell: { parts: [q1] } } };
  expect(knobComplaint(amplifier, 'bell', ['Q1.gain', 'Q1.forward'])).toBeUndefined();
  expect(knobComplaint(amplifier, 'bell', ['Q1.polarity'])).toContain('got Q1.polarity,');
  const asSwitch = withValue(amplifier, ['boards', 'bell', 'parts', 0, 'gain'], undefined);
  expect(knobComplaint(asSwitch, 'bell', ['Q1.gain'])).toContain('got Q1.gain,');
});
