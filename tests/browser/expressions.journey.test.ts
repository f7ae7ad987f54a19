import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import {
  fieldText,
  focusName,
  lookAtEverything,
  openExample,
  textOf,
  untilComputed,
  untilEditors,
} from './open-page.ts';

/** Opens the axle counter, whose formulas stand there with their editors. */
async function openFormulas(page: Page): Promise<Locator> {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  await untilEditors(page);
  return page.getByLabel('expression of rule', { exact: true });
}

journey('names are offered in a formula, with what they are, and no key is held back', async ({ page }) => {
  const rule = await openFormulas(page);
  await rule.fill('');
  await page.keyboard.type('1.1 * numb');
  const offered = page.getByRole('listbox');
  await offered.getByRole('option', { name: /^numbers\.spacing/ }).waitFor();
  await expect.poll(() => textOf(offered.getByRole('option').first())).toMatch(/numbers\.\w+ ?reading/);
  expect(await accessibilityFaults(page)).toEqual([]);
  // Escape closes what is offered and leaves the text alone; the next one brings back what stood there.
  await page.keyboard.press('Escape');
  await offered.waitFor({ state: 'detached' });
  await expect.poll(() => fieldText(rule)).toBe('1.1 * numb');
  await page.keyboard.press('Escape');
  await expect.poll(() => fieldText(rule)).toBe('1.1 * coaches.R1 * coaches.C1');
  // Where no word is, names are asked for.
  await rule.fill('');
  await page.keyboard.press('Control+Space');
  await offered.waitFor();
  // Tab goes on, with names on offer or without.
  await page.keyboard.press('Tab');
  await expect.poll(() => focusName(page)).not.toBe('expression of rule');
  await offered.waitFor({ state: 'detached' });
  await page.keyboard.press('Shift+Tab');
  await expect.poll(() => focusName(page)).toBe('expression of rule');
});

journey('no name is offered for a unit, and none stays on offer once the text is handed over', async ({ page }) => {
  const rule = await openFormulas(page);
  await rule.fill('');
  await page.keyboard.type('2 * 4.7 mF');
  await page.waitForTimeout(300);
  await expect.poll(() => page.getByRole('listbox').count()).toBe(0);
  await page.keyboard.type(' * floo');
  await page.getByRole('listbox').waitFor();
  await page.keyboard.press('Enter');
  await page.getByRole('listbox').waitFor({ state: 'detached' });
});

journey('known names and numbers with units are told apart from the rest', async ({ page }) => {
  const rule = await openFormulas(page);
  await rule.fill('1.1 * coaches.R1 * 4.7 µF + nobody.R1');
  const marks = (kind: string): Promise<string[]> => rule.locator(`.tt-${kind}`).allTextContents();
  await expect.poll(() => marks('name')).toEqual(['coaches.R1']);
  await expect.poll(() => marks('number')).toEqual(['1.1', '4.7 µF']);
});

journey('a fault is underlined where it is, said below, and tied to the field', async ({ page }) => {
  const rule = await openFormulas(page);
  await rule.fill('1.1 * coaches.R7');
  await rule.press('Enter');
  const formula = page.locator('tt-cell#rule tt-formula');
  await formula.getByText(/must name a part of the board/).waitFor();
  await expect.poll(() => rule.locator('.tt-fault').allTextContents()).toEqual(['R7']);
  await expect.poll(() => rule.getAttribute('aria-invalid')).toBe('true');
  const described = await rule.getAttribute('aria-describedby');
  await expect.poll(() => textOf(formula.locator(`#${described}`))).toContain('got "R7"');
  // Correcting it takes the underline away at once, and the complaint with the next result.
  await rule.press('Backspace');
  await expect.poll(() => rule.locator('.tt-fault').count()).toBe(0);
  await page.keyboard.type('1 * (2');
  await rule.press('Enter');
  await formula.getByText(/close every bracket/).waitFor();
  await expect.poll(() => rule.locator('.tt-fault').allTextContents()).toEqual(['2']);
  await page.keyboard.type(')');
  await rule.press('Enter');
  await untilComputed(page);
  await expect.poll(() => formula.locator('.complaint').count()).toBe(0);
  await expect.poll(() => rule.getAttribute('aria-invalid')).toBe('false');
});

journey('a text that is pasted in lines becomes one line, and undo in a text is that of the text', async ({ page }) => {
  const rule = await openFormulas(page);
  await rule.fill('');
  await page.keyboard.insertText('1.1\n  * coaches.R1\n  * coaches.C1');
  await expect.poll(() => fieldText(rule)).toBe('1.1 * coaches.R1 * coaches.C1');
  await page.keyboard.press('End');
  await page.keyboard.type(' / 2');
  await page.keyboard.press('Control+Z');
  await expect.poll(() => fieldText(rule)).toBe('1.1 * coaches.R1 * coaches.C1');
  // Nothing of the page was undone.
  await expect.poll(() => page.getByRole('button', { name: /^redo: / }).count()).toBe(0);
});

journey('what a claim says is edited where it stands, and is tried again', async ({ page }) => {
  await openExample(page, 'What people believe');
  const says = page.getByLabel('claim of interval', { exact: true });
  await untilEditors(page);
  await says.fill('width(out) = 1.1 * R1 * C9 within 1 %');
  await says.press('Enter');
  await page
    .locator('tt-cell#interval')
    .getByText(/must name a part of the board/)
    .waitFor();
  await expect.poll(() => says.getAttribute('aria-invalid')).toBe('true');
  await expect.poll(() => says.locator('.tt-fault').allTextContents()).toEqual(['C9']);
});

journey('in a note the targets of links are offered', async ({ page }) => {
  await openFormulas(page);
  const note = page.locator('tt-cell#guess');
  await note.getByRole('button', { name: /edit text/ }).focus();
  await page.keyboard.press('Enter');
  await expect.poll(() => focusName(page)).toMatch(/^text of guess/);
  await page.keyboard.press('Control+End');
  await page.keyboard.insertText(' An axle comes every [so often](#');
  await page.keyboard.type('numbers.sp');
  const option = page.getByRole('option', { name: /^numbers\.spacing/ });
  await option.waitFor();
  await page.keyboard.press('ArrowDown');
  await note.getByRole('option', { selected: true }).waitFor();
  await page.keyboard.press('Enter');
  await page.keyboard.type(').');
  await page.keyboard.press('Escape');
  await expect.poll(() => textOf(note.locator('a.quoted').last())).toMatch(/^150.ms$/u);
  await expect.poll(() => focusName(page)).toMatch(/^edit text of guess/);
});

journey('a plain text field does the work where the editor cannot be fetched', async ({ browser, address }) => {
  const context = await browser.newContext({
    locale: 'en-US',
    viewport: { width: 360, height: 780 },
    // What works without a network would have it kept.
    serviceWorkers: 'block',
  });
  const page = await context.newPage();
  await page.route(/expression-editor/, (route) => route.abort());
  await page.goto(address);
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  const rule = page.getByLabel('expression of rule', { exact: true });
  await rule.fill('2 * coaches.R1');
  await rule.press('Enter');
  await page.locator('tt-cell#rule tt-formula').getByText('200 kΩ').waitFor();
  await expect.poll(() => rule.evaluate((element) => element.localName)).toBe('textarea');
  await context.close();
});

journey('expressions fit a page of 360 px, however long', async ({ browser, address }) => {
  const context = await browser.newContext({ locale: 'en-US', viewport: { width: 360, height: 780 } });
  const page = await context.newPage();
  await page.goto(address);
  const rule = await openFormulas(page);
  await rule.fill(`${'1.1 * coaches.R1 * coaches.C1 / (2 s) + '.repeat(6)}averyveryverylongnamethatgoesonandonandon`);
  await rule.press('Enter');
  await untilComputed(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  await rule.fill('numb');
  const end = async (): Promise<number> => {
    const list = await page.getByRole('listbox').boundingBox();
    return (list?.x ?? 0) + (list?.width ?? 999);
  };
  await expect.poll(end).toBeLessThanOrEqual(360);
  expect(await accessibilityFaults(page)).toEqual([]);
  await context.close();
});
