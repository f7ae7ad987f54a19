import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { focusName, openDocument, textOf, untilComputed, widthBeyond } from './open-page.ts';

/** A bell that a contact rings, and a board that it could be linked to. */
const bell = {
  format: 'two-thirds',
  version: 1,
  title: 'Station bell',
  boards: {
    bell: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' },
        { name: 'S1', kind: 'button', a: 'rail', b: 'push', presses: [{ at: '1 s', for: '200 ms' }] },
        { name: 'R1', kind: 'resistor', a: 'push', b: 'ground', resistance: '10 kΩ' },
        {
          name: 'G1',
          kind: 'signal',
          plus: 'wheel',
          minus: 'ground',
          wave: {
            shape: 'points',
            between: 'lines',
            points: [
              [0, 0],
              ['2 s', '6 V'],
            ],
          },
        },
        { name: 'R2', kind: 'resistor', a: 'wheel', b: 'ground', resistance: '10 kΩ', tolerance: '5 %' },
      ],
    },
    gate: { ready: 'monostable' },
  },
  links: [{ a: 'bell.push', b: 'gate.out', closed: false }],
  page: [
    { id: 'board', kind: 'board', board: 'bell', knobs: ['R2', 'R1'] },
    { id: 'rung', kind: 'reading', board: 'bell', until: '10 s', take: { pushes: 'count(push, 3 V)' } },
  ],
};

async function openBell(page: Page): Promise<void> {
  await openDocument(page, bell);
}

/** Goes on with Tab until something of this name has the focus, as somebody without a pointer does. */
async function tabTo(page: Page, name: RegExp, key = 'Tab'): Promise<void> {
  for (let step = 0; step < 150; step += 1) {
    if (name.test(await focusName(page))) return;
    await page.keyboard.press(key);
  }
  throw new Error(`Tab must reach ${name.source}`);
}

async function type(page: Page, text: string): Promise<void> {
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
}

const undo = (page: Page) => page.getByRole('button', { name: /^undo/ });

journey('presses are added, set and taken out by keyboard alone, each with its fault beside it', async ({ page }) => {
  await openBell(page);
  const board = page.locator('tt-cell#board');
  const pushes = page.locator('tt-cell#rung').getByRole('row', { name: /^pushes/ });
  await expect.poll(() => textOf(pushes)).toMatch(/^1 /);

  await tabTo(page, /^add a press to S1$/);
  await page.keyboard.press('Enter');
  await expect.poll(() => focusName(page)).toBe('S1 press 2 at');
  await expect.poll(() => textOf(undo(page))).toBe('undo : add a press to S1');
  await untilComputed(page);
  await expect.poll(() => textOf(pushes)).toMatch(/^2 /);

  // Before the one ahead of it has ended: the fault stands at the time that is wrong, the last good number stays.
  await type(page, '1.1 s');
  await untilComputed(page);
  const second = board.getByLabel('S1 press 2 at', { exact: true });
  await expect.poll(() => second.getAttribute('aria-invalid')).toBe('true');
  await expect.poll(() => textOf(board)).toContain('must begin after the one before it has ended');
  await type(page, '4 V');
  await untilComputed(page);
  await expect.poll(() => second.getAttribute('aria-invalid')).toBe('true');
  await type(page, '4 s');
  await untilComputed(page);
  await expect.poll(() => second.getAttribute('aria-invalid')).toBe('false');
  await tabTo(page, /^S1 press 2 for$/);
  await type(page, '1.5 s');

  await tabTo(page, /^take out press 1 of S1$/, 'Shift+Tab');
  await page.keyboard.press('Enter');
  await expect.poll(() => focusName(page)).toBe('S1 press 1 at');
  await expect.poll(() => board.getByLabel('S1 press 1 at', { exact: true }).inputValue()).toBe('4 s');
  await tabTo(page, /^take out press 1 of S1$/);
  await page.keyboard.press('Enter');
  await expect.poll(() => focusName(page)).toBe('add a press to S1');
  await untilComputed(page);
  await expect.poll(() => textOf(pushes)).toMatch(/^0 /);
  await expect.poll(() => page.locator('.complaint').count()).toBe(0);
  await undo(page).click();
  await expect.poll(() => board.getByLabel('S1 press 1 at', { exact: true }).inputValue()).toBe('4 s');
});

journey(
  'changes of a supply, points of a wave, bouncing and presses of a jumper are edited as rows',
  async ({ page }) => {
    await openBell(page);
    const board = page.locator('tt-cell#board');
    await board.getByRole('button', { name: 'add a change to BT1' }).press('Enter');
    await expect.poll(() => focusName(page)).toBe('BT1 change 1 at');
    const over = board.getByLabel('BT1 change 1 over', { exact: true });
    await expect.poll(() => over.getAttribute('placeholder')).toBe('no time');
    await over.fill('2 s');
    await over.press('Enter');
    await over.fill('');
    await over.press('Enter');
    await expect.poll(() => over.inputValue()).toBe('');

    await board.getByRole('button', { name: 'add a point to G1' }).press('Enter');
    await expect.poll(() => focusName(page)).toBe('G1 point 3 time');
    await expect.poll(() => board.getByLabel('G1 point 3 time', { exact: true }).inputValue()).toBe('4 s');

    await board.getByRole('button', { name: 'let it bounce: S1' }).press('Enter');
    await expect.poll(() => board.getByLabel('S1 bounces for', { exact: true }).inputValue()).toBe('5 ms');
    await board.getByRole('button', { name: 'no bounce: S1' }).press('Enter');
    await expect.poll(() => board.getByLabel('S1 bounces for', { exact: true }).count()).toBe(0);

    await board.getByRole('button', { name: 'add a press to link1' }).press('Enter');
    await expect.poll(() => focusName(page)).toBe('link1 press 1 at');
    await untilComputed(page);
    await expect.poll(() => page.locator('.complaint').count()).toBe(0);
    const held = board.getByLabel('link1 press 1 for', { exact: true });
    await held.fill('0 s');
    await held.press('Enter');
    await untilComputed(page);
    await expect.poll(() => held.getAttribute('aria-invalid')).toBe('true');
    await expect.poll(() => textOf(undo(page))).toBe('undo : link1 to 0 s');
  },
);

journey(
  'a part becomes one of another kind by keyboard, in one step of undo, with nothing lost on the way',
  async ({ page }) => {
    await openBell(page);
    const board = page.locator('tt-cell#board');
    await tabTo(page, /^kind of R2$/);
    // Every arrow key chooses: resistor, capacitor, timer, and back again.
    for (const key of ['ArrowDown', 'ArrowDown', 'ArrowUp', 'ArrowUp', 'ArrowDown']) await page.keyboard.press(key);
    const kind = board.getByLabel('kind of R2', { exact: true });
    await expect.poll(() => kind.inputValue()).toBe('capacitor');
    await expect.poll(() => focusName(page)).toBe('kind of R2');
    await expect.poll(() => textOf(undo(page))).toBe('undo : R2 to a capacitor');
    await untilComputed(page);
    await expect.poll(() => board.getByLabel('net of R2 a', { exact: true }).inputValue()).toBe('wheel');
    await expect.poll(() => board.getByLabel('R2 tolerance', { exact: true }).inputValue()).toBe('5 %');
    await expect.poll(() => board.getByLabel('R2 capacitance', { exact: true }).inputValue()).toBe('100 nF');
    await expect.poll(() => page.locator('.complaint').count()).toBe(0);
    await page.keyboard.press('Tab');
    await undo(page).click();
    await expect.poll(() => kind.inputValue()).toBe('resistor');
    await expect.poll(() => board.getByLabel('R2 resistance', { exact: true }).inputValue()).toBe('10 kΩ');
    await expect.poll(() => undo(page).getAttribute('aria-disabled')).toBe('true');

    // What no longer fits is said where it stands: a loudspeaker beside a reading that asks of it.
    await kind.selectOption('led');
    await untilComputed(page);
    await expect.poll(() => board.getByLabel('R2 colour', { exact: true }).inputValue()).toBe('red');
  },
);

for (const colorScheme of ['light', 'dark'] as const) {
  for (const width of [1440, 390]) {
    journey(
      `rows and kinds have no accessibility fault, ${colorScheme} at ${width} px`,
      async ({ browser, address }) => {
        const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme, locale: 'en-US' });
        const page = await context.newPage();
        await page.goto(address);
        await openBell(page);
        const board = page.locator('tt-cell#board');
        await board.getByRole('button', { name: 'add a press to S1' }).click();
        await board.getByLabel('S1 press 2 at', { exact: true }).fill('0 V');
        await board.getByLabel('S1 press 2 at', { exact: true }).press('Enter');
        await board.getByRole('button', { name: 'add a change to BT1' }).click();
        await untilComputed(page);
        expect(await accessibilityFaults(page)).toEqual([]);
        await expect.poll(() => widthBeyond(page)).toBeLessThanOrEqual(0);
        await context.close();
      },
    );
  }
}

journey('a field that takes one of a few words offers them, at a click and by keyboard', async ({ page }) => {
  await openBell(page);
  const board = page.locator('tt-cell#board');
  const origin = board.getByLabel('BT1 where the power comes from', { exact: true });
  await origin.click();
  const words = board.getByRole('listbox', { name: /where the power comes from/ }).getByRole('option');
  await expect.poll(() => words.allInnerTexts()).toEqual(['unknown', 'battery', 'isolated']);
  await expect.poll(() => words.nth(1).getAttribute('aria-selected')).toBe('true');
  await words.nth(2).click();
  await expect.poll(() => origin.inputValue()).toBe('isolated');
  await expect.poll(() => words.count()).toBe(0);
  await undo(page).click();
  await expect.poll(() => origin.inputValue()).toBe('battery');

  await origin.focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await expect.poll(() => origin.inputValue()).toBe('unknown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Escape');
  await expect.poll(() => words.count()).toBe(0);
  // Typing goes on working, and a word that is none is refused where it stands.
  await type(page, 'mains');
  await expect.poll(() => origin.getAttribute('aria-invalid')).toBe('true');
  await type(page, 'battery');
  await expect.poll(() => origin.getAttribute('aria-invalid')).toBe('false');
  expect(await accessibilityFaults(page)).toEqual([]);
});

journey('a transistor is added, given a gain in the list of values, and drawn with it', async ({ page }) => {
  await openBell(page);
  const cell = page.locator('tt-cell#board');
  const parts = cell.getByText('all parts of bell');
  if ((await parts.count()) > 0) await parts.first().click();
  await cell.getByRole('button', { name: 'a transistor', exact: true }).click();
  await untilComputed(page);
  await cell.getByText('values that were not given').click();
  await cell.getByRole('textbox', { name: /^Q1\b.*gain/ }).fill('150');
  await page.keyboard.press('Enter');
  await untilComputed(page);
  await expect.poll(() => textOf(page.locator('tt-circuit'))).toContain('npn, gain 150');
  expect(await accessibilityFaults(page)).toEqual([]);
});
