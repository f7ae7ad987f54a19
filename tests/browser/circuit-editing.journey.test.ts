import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { accessibilityFaults } from './accessible.ts';
import { fieldText, focusName, openDocument, textOf, untilComputed, widthBeyond } from './open-page.ts';

/** Goes on with Tab until something of this name has the focus, as somebody without a pointer does. */
async function tabTo(page: Page, name: RegExp, key = 'Tab'): Promise<void> {
  for (let step = 0; step < 200; step += 1) {
    if (name.test(await focusName(page))) return;
    await page.keyboard.press(key);
  }
  throw new Error(`Tab must reach ${name.source}`);
}

/** Types over a field that Tab reaches. */
async function type(page: Page, name: RegExp, text: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
  // What is offered while one types is not wanted here; without an offer, Escape would bring back what stood there.
  if ((await page.getByRole('listbox').count()) > 0) await page.keyboard.press('Escape');
  await page.keyboard.press('Enter');
}

/** Adds a part by the sentence below the parts list; the focus goes to its name. */
async function add(page: Page, words: RegExp, name: string): Promise<void> {
  await tabTo(page, words);
  await page.keyboard.press('Enter');
  await expect.poll(() => focusName(page)).toBe(`name of ${name}`);
}

journey(
  'a platform lamp is built from a bare supply by keyboard alone',
  async ({ page }) => {
    await tabTo(page, /^Begin an empty page$/);
    await page.keyboard.press('Enter');
    await tabTo(page, /^a circuit$/);
    await page.keyboard.press('Enter');
    await tabTo(page, /^a supply and nothing else$/);
    await page.keyboard.press('Enter');
    await page.locator('tt-cell#board').waitFor();
    await untilComputed(page);
    await expect.poll(() => page.locator('.complaint').count()).toBe(0);

    await add(page, /^a timer$/, 'U1');
    await add(page, /^a resistor$/, 'R1');
    await type(page, /^R1 resistance$/, '390k');
    await type(page, /^net of R1 b$/, 'timing');
    await add(page, /^a capacitor$/, 'C1');
    await type(page, /^C1 capacitance$/, '10 µF');
    await type(page, /^net of C1 a$/, 'timing');
    await add(page, /^a resistor$/, 'R2');
    await type(page, /^net of R2 b$/, 'button');
    await add(page, /^a button$/, 'S1');
    await type(page, /^net of S1 a$/, 'button');
    await tabTo(page, /^net of U1 trigger$/, 'Shift+Tab');
    await type(page, /^net of U1 trigger$/, 'button');
    await add(page, /^a resistor$/, 'R3');
    await type(page, /^R3 resistance$/, '330 Ω');
    await type(page, /^net of R3 a$/, 'out');
    await type(page, /^net of R3 b$/, 'lamp');
    await add(page, /^an LED$/, 'D1');
    await type(page, /^net of D1 a$/, 'lamp');
    await untilComputed(page);
    await expect.poll(() => page.locator('.complaint').count()).toBe(0);

    await tabTo(page, /^readings$/);
    await page.keyboard.press('Enter');
    await type(page, /^end of the window, reading$/, '8 s');
    await untilComputed(page);
    // 1.1 x 390 kohm x 10 uF = 4.29 s (TI SLFS022I, p. 10) for the ideal 2/3 of the supply.
    const width = page.locator('tt-cell#reading').getByRole('row', { name: /^width/ });
    await expect.poll(() => textOf(width)).toMatch(/4\.2\d.s/u);
  },
  120_000 * patience,
);

/** Opens a page with two boards of the level crossing, as if its file had been dropped. */
async function openBoards(page: Page): Promise<void> {
  const document = {
    format: 'two-thirds',
    version: 1,
    title: 'Level crossing',
    boards: { gate: { ready: 'monostable' }, bell: { ready: 'monostable', values: { C1: '1 µF', 'S1.presses': [] } } },
    page: [
      { id: 'gate', kind: 'board', board: 'gate', knobs: ['R1'] },
      { id: 'bell', kind: 'board', board: 'bell' },
      { id: 'rung', kind: 'reading', board: 'bell', until: '8 s', take: { pulses: 'count(out)', loss: 'power(R3)' } },
    ],
  };
  await openDocument(page, document);
}

journey('two boards are linked, the jumper led to a net, opened and taken out', async ({ page }) => {
  await openBoards(page);
  const bell = page.locator('tt-cell#bell');
  const pulses = page.locator('tt-cell#rung').getByRole('row', { name: /^pulses/ });
  const undo = page.getByRole('button', { name: /^undo/ });
  await bell.getByRole('button', { name: 'gate', exact: true }).press('Enter');
  await expect.poll(() => textOf(undo)).toBe('undo : link bell to gate');
  await expect.poll(() => focusName(page)).toBe('net of bell at link1');
  const near = bell.getByLabel('net of bell at link1', { exact: true });
  await near.fill('nowhere');
  await near.press('Enter');
  await untilComputed(page);
  await expect.poll(() => near.getAttribute('aria-invalid')).toBe('true');
  await expect.poll(() => textOf(bell)).toContain('must name a net of bell');
  await near.fill('button');
  await near.press('Enter');
  await expect.poll(() => focusName(page)).toBe('net of bell at link1');
  await untilComputed(page);
  // A new jumper is open until its nets are right.
  await expect.poll(() => textOf(pulses)).toMatch(/^0 /);
  await bell.getByLabel('whether link1 is closed').selectOption('closed');
  await untilComputed(page);
  // One button for both: a press at the gate rings the bell.
  await expect.poll(() => textOf(pulses)).toMatch(/^1 /);
  await bell.getByLabel('whether link1 is closed').selectOption('open');
  await untilComputed(page);
  await expect.poll(() => textOf(undo)).toBe('undo : open link1');
  await expect.poll(() => textOf(pulses)).toMatch(/^0 /);
  await bell.getByRole('button', { name: 'take it out: link1' }).press('Enter');
  await untilComputed(page);
  await expect.poll(() => bell.getByLabel('net of bell at link1').count()).toBe(0);
  await expect.poll(() => focusName(page)).toBe('gate');
});

journey(
  'a ready circuit is taken in hand; a wrong net is said at its pin, a part that goes is said',
  async ({ page }) => {
    await openBoards(page);
    const bell = page.locator('tt-cell#bell');
    const undo = page.getByRole('button', { name: /^undo/ });
    await bell.getByRole('button', { name: 'take the parts into your own hands' }).press('Enter');
    await expect.poll(() => textOf(undo)).toBe('undo : parts of bell in own hands');
    await expect.poll(() => focusName(page)).toBe('name of BT1');
    await untilComputed(page);
    const trigger = bell.getByLabel('net of U1 trigger', { exact: true });
    await trigger.fill('nowhere');
    await trigger.press('Enter');
    await untilComputed(page);
    await expect.poll(() => trigger.getAttribute('aria-invalid')).toBe('true');
    await expect.poll(() => textOf(bell)).toContain('must be on a net that some part can hold');
    // The reading keeps its last good number.
    await expect.poll(() => textOf(page.locator('tt-cell#rung').getByRole('row', { name: /^pulses/ }))).toMatch(/^0 /);
    await trigger.fill('butt');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Enter');
    await expect.poll(() => trigger.inputValue()).toBe('button');
    await untilComputed(page);
    await expect.poll(() => page.locator('.complaint').count()).toBe(0);

    const name = bell.getByLabel('name of R3', { exact: true });
    await name.fill('R1');
    await name.press('Enter');
    await expect.poll(() => textOf(bell)).toContain('“R1” is taken');
    await bell.getByLabel('name of R3', { exact: true }).fill('R9');
    await bell.getByLabel('name of R3', { exact: true }).press('Enter');
    await untilComputed(page);
    await expect.poll(() => focusName(page)).toBe('name of R9');
    await expect.poll(() => fieldText(page.locator('tt-cell#rung').getByLabel('what loss reads'))).toBe('power(R9)');

    await bell.getByRole('button', { name: 'take out R9' }).press('Enter');
    await expect.poll(() => textOf(undo)).toBe('undo : take out R9');
    await expect.poll(() => textOf(bell)).toContain('R9 is taken out, and so are its knobs. rung still asks about it.');
    await expect.poll(() => focusName(page)).toBe('name of D1');
    await untilComputed(page);
    await expect.poll(() => textOf(page.locator('tt-cell#rung'))).toContain('R9');
    await bell.getByRole('button', { name: 'take out D1' }).press('Enter');
    await expect.poll(() => focusName(page)).toBe('name of S1');
    await bell.getByRole('button', { name: 'a probe' }).press('Enter');
    await expect.poll(() => focusName(page)).toBe('name of P1');
    await bell.getByRole('button', { name: 'take out P1' }).focus();
    await page.keyboard.press('Control+z');
    await expect.poll(() => focusName(page)).toBe('name of S1');
  },
);

journey('what the start decides stands at the cell that ran', async ({ page }) => {
  await openBoards(page);
  const rung = page.locator('tt-cell#rung');
  await expect.poll(() => rung.getByRole('note', { name: 'What the start decides' }).count()).toBe(0);
  const bell = page.locator('tt-cell#bell');
  await bell.getByText('values that were not given').click();
  const start = bell.getByLabel('U1 state at the start');
  await start.fill('both');
  await start.press('Enter');
  await untilComputed(page);
  await expect.poll(() => textOf(rung.getByRole('note', { name: 'What the start decides' }))).toContain('U1');
});

for (const colorScheme of ['light', 'dark'] as const) {
  for (const width of [1440, 390]) {
    journey(
      `the editing of circuits has no accessibility fault, ${colorScheme} at ${width} px`,
      async ({ browser, address }) => {
        const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme, locale: 'en-US' });
        const page = await context.newPage();
        await page.goto(address);
        await openBoards(page);
        const gate = page.locator('tt-cell#gate');
        await gate.getByRole('button', { name: 'take the parts into your own hands' }).click();
        await gate.getByRole('button', { name: 'bell', exact: true }).click();
        await gate.getByText('what changes with cmos').click();
        await gate.getByText('names of the nets').click();
        const trigger = gate.getByLabel('net of U1 reset', { exact: true });
        await trigger.fill('nowhere');
        await trigger.press('Enter');
        await untilComputed(page);
        await expect.poll(() => textOf(gate)).toContain('from a comparator to the output');
        expect(await accessibilityFaults(page)).toEqual([]);
        await expect.poll(() => widthBeyond(page)).toBeLessThanOrEqual(0);
        await context.close();
      },
    );
  }
}

journey(
  'what is wrong with a board is said by the name of the part, without its place in the file',
  async ({ page }) => {
    await page.getByRole('button', { name: 'Begin an empty page' }).click();
    await page.getByRole('button', { name: 'a circuit', exact: true }).click();
    await page.getByRole('button', { name: 'a supply and nothing else' }).click();
    await page.getByRole('button', { name: 'a resistor', exact: true }).click();
    await page.getByText(/^R1: b must be joined to some other part; got net node1/).waitFor();
    await expect.poll(() => page.getByText('boards.').filter({ visible: true }).count()).toBe(0);
  },
);
