import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { focusName, openDocument, textOf, untilComputed } from './open-page.ts';

/** The platform lamp, whose button is pressed twice, and a transistor of a stated gain. */
const lamp = {
  format: 'two-thirds',
  version: 1,
  title: 'Platform lamp',
  boards: {
    lamp: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '100 kΩ' },
        { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '10 µF' },
        { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: '10 kΩ' },
        {
          name: 'S1',
          kind: 'button',
          a: 'in',
          b: 'ground',
          presses: [
            { at: '1 s', for: '200 ms' },
            { at: '6 s', for: '200 ms' },
          ],
        },
        {
          name: 'U1',
          kind: 'timer',
          family: 'ideal',
          pins: {
            supply: 'rail',
            ground: 'ground',
            trigger: 'in',
            output: 'out',
            threshold: 'timing',
            discharge: 'timing',
          },
        },
        { name: 'R3', kind: 'resistor', a: 'out', b: 'base', resistance: '47 kΩ' },
        { name: 'Q1', kind: 'transistor', base: 'base', collector: 'load', emitter: 'ground', gain: 100 },
        { name: 'R4', kind: 'resistor', a: 'rail', b: 'load', resistance: '1 kΩ' },
      ],
    },
  },
  page: [
    { id: 'board', kind: 'board', board: 'lamp', knobs: ['R1'] },
    {
      id: 'numbers',
      kind: 'reading',
      board: 'lamp',
      until: '12 s',
      take: { first: 'first(out, fall)', drawn: 'peak_current(R4)' },
    },
  ],
};

async function openLamp(page: Page): Promise<void> {
  await openDocument(page, lamp);
}

const giveKnob = (page: Page, name: string) =>
  page.getByRole('button', { name: `knob for ${name}`, exact: true }).click();
const knobOf = (page: Page, name: string) =>
  page.getByRole('region', { name: 'Knobs' }).getByRole('slider', { name, exact: true });

journey('how long a button is pressed is turned by a knob, which goes with its press', async ({ page }) => {
  await openLamp(page);
  const numbers = page.locator('tt-cell#numbers');
  // T = ln 3 R C = 1.099 s after the press at 1 s.
  await expect.poll(() => textOf(numbers)).toMatch(/2\.10.s first \(/u);
  await giveKnob(page, 'S1 press 1 for');
  await giveKnob(page, 'S1 press 2 at');
  const knob = knobOf(page, 'S1 press 1 for');
  await knob.focus();
  // 200 ms, 250, 300, 400, 500, 600, 800 ms, 1 s, 1.2, 1.5 s: held longer than the interval, the output follows the hand.
  for (let turn = 0; turn < 9; turn += 1) await page.keyboard.press('ArrowRight');
  await untilComputed(page);
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toMatch(/^1\.5.s$/u);
  await expect.poll(() => textOf(numbers)).toMatch(/2\.50.s first \(/u);
  expect(await accessibilityFaults(page)).toEqual([]);
  // The press is taken out: its knob goes, that of the second press is now one of the first.
  await page.getByRole('button', { name: 'take out press 1 of S1' }).click();
  await untilComputed(page);
  await expect.poll(() => knobOf(page, 'S1 press 1 for').count()).toBe(0);
  await expect.poll(() => knobOf(page, 'S1 press 1 at').getAttribute('aria-valuetext')).toMatch(/^6.s$/u);
  await expect.poll(() => focusName(page)).not.toBe('');
  await page.getByRole('button', { name: 'undo: take out press 1 of S1' }).click();
  await expect.poll(() => knobOf(page, 'S1 press 1 for').count()).toBe(1);
});

journey('the gain of a transistor is turned by a knob, in numbers without a unit', async ({ page }) => {
  await openLamp(page);
  await giveKnob(page, 'Q1 current gain from base to collector; without it a switch');
  const knob = page.locator('tt-tray [data-knob="Q1.gain"]').getByRole('slider');
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toBe('100');
  const drawn = async () =>
    Number(/([\d.]+).mA peak_current/u.exec(await textOf(page.locator('tt-cell#numbers')))?.[1]);
  await expect.poll(drawn).toBeGreaterThan(5);
  await knob.focus();
  // 100, 80, 60, 50, 40, 30, 25, 20: the base takes (6 V - 0.65 V) / 47 kohm = 0.11 mA, so 20 of it is 2.3 mA.
  for (let turn = 0; turn < 7; turn += 1) await page.keyboard.press('ArrowLeft');
  await untilComputed(page);
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toBe('20');
  await expect.poll(drawn).toBeLessThan(2.4);
  // Preferred or not, it is undone as one turn.
  await page.getByRole('button', { name: 'undo: Q1 gain to 20' }).click();
  await untilComputed(page);
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toBe('100');
});

journey('what a timer has from its family, and what was left out, is listed, stated and turned', async ({ page }) => {
  await openLamp(page);
  await page.getByText('what U1 has from its family, and where that is from').click();
  await giveKnob(page, 'U1 from a comparator to the output');
  const delay = knobOf(page, 'U1 from a comparator to the output');
  await expect.poll(() => delay.getAttribute('aria-valuetext')).toMatch(/^0.s$/u);
  await delay.focus();
  await page.keyboard.press('End');
  await untilComputed(page);
  await expect.poll(() => delay.getAttribute('aria-valuetext')).toMatch(/^1000.s$/u);
  // Stated, it stands among the values of the part.
  const stated = page.getByRole('textbox', { name: 'U1 from a comparator to the output', exact: true });
  await expect.poll(() => stated.inputValue()).toBe('1000 s');
  await page.getByRole('button', { name: /^undo: U1 delay/ }).click();

  await page.getByText('values that were not given, and where they come from').click();
  await giveKnob(page, 'C1 leakage, as a resistance across it');
  const leakage = knobOf(page, 'C1 leakage, as a resistance across it');
  await expect.poll(() => leakage.getAttribute('aria-valuetext')).toBe('none');
  await leakage.focus();
  await page.keyboard.press('Home');
  await untilComputed(page);
  // 1 kohm beside a charging resistor of 100 kohm: 6 V / 101 is never two thirds of the supply.
  await expect.poll(() => leakage.getAttribute('aria-valuetext')).toMatch(/^1.kΩ$/u);
  await expect.poll(() => textOf(page.locator('tt-cell#numbers'))).toContain('out never fell');
  await page.keyboard.press('End');
  await untilComputed(page);
  await expect.poll(() => leakage.getAttribute('aria-valuetext')).toBe('none');
  await expect.poll(() => textOf(page.locator('tt-cell#numbers'))).toMatch(/2\.10.s first \(/u);
  expect(await accessibilityFaults(page)).toEqual([]);
});
