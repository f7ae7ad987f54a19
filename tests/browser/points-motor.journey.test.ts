import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { lookAtEverything, openExample, textOf, untilComputed } from './open-page.ts';

journey(
  'contacts of a button and a relay stand in the trace, at the cursor, in the table and in the files',
  async ({ page }) => {
    await openExample(page, 'Points motor');
    await lookAtEverything(page);
    await untilComputed(page);
    const look = page.locator('tt-cell#look');
    const lanes = look.getByRole('slider');
    await expect.poll(() => lanes.textContent()).toContain('contact of K1');
    await expect.poll(() => lanes.textContent()).toContain('contact of S1');

    await lanes.focus();
    await page.keyboard.press('Home');
    await expect.poll(() => lanes.getAttribute('aria-valuetext')).toContain('contact of K1 open');
    const state = page.locator('tt-circuit');
    await expect.poll(() => textOf(state)).toContain('contact of K1 open');

    await look.getByText('the same as a table').click();
    const table = look.getByRole('group', { name: 'Events of the trace' });
    await expect.poll(() => table.innerText()).toContain('contact of K1 closes');
    await expect.poll(() => table.innerText()).toContain('contact of S1 opens');
    expect(await accessibilityFaults(page)).toEqual([]);
  },
);

journey('a larger C1 keeps the winding on for too long, and the page says so at once', async ({ page }) => {
  await openExample(page, 'Points motor');
  await lookAtEverything(page);
  await untilComputed(page);
  const capacitor = page.locator('tt-tray').getByRole('textbox', { name: /C1/ }).first();
  await capacitor.fill('22 µF');
  await capacitor.press('Enter');
  await untilComputed(page);
  await expect.poll(() => textOf(page.locator('tt-cell#look'))).toContain('Y1 was on for longer than the 500 ms');
});

journey('a study says what it was before the last change, until the next', async ({ page }) => {
  await openExample(page, 'Points motor');
  await lookAtEverything(page);
  await untilComputed(page);
  const kits = page.locator('tt-cell#kits');
  await kits.scrollIntoViewIfNeeded();
  await expect.poll(() => textOf(kits)).toContain('Worst case');
  await expect.poll(() => textOf(kits)).not.toContain('Since the last change');
  const capacitor = page.locator('tt-tray').getByRole('textbox', { name: /C1/ }).first();
  await capacitor.fill('4.7 µF');
  await capacitor.press('Enter');
  await untilComputed(page);
  // R1 C1 ln 3 and 7 ms of the relay: 146 ms after 303 ms, and what the tolerances make of it.
  await expect.poll(() => textOf(kits)).toMatch(/Since the last change: mean on 14\d.ms, was 30\d.ms/);
  await expect.poll(() => textOf(page.locator('tt-cell#swaps'))).not.toContain('Since the last change');
  await page.getByRole('button', { name: /^undo: / }).click();
  await untilComputed(page);
  await expect.poll(() => textOf(kits)).toMatch(/Since the last change: mean on 30\d.ms, was 14\d.ms/);
});

journey('a trace shows in dashes what it was before the last change', async ({ page }) => {
  await openExample(page, 'Points motor');
  await lookAtEverything(page);
  await untilComputed(page);
  const chart = page.locator('tt-cell#look').getByRole('slider');
  await chart.scrollIntoViewIfNeeded();
  await expect.poll(() => chart.locator('path.former').count()).toBe(0);
  const capacitor = page.locator('tt-tray').getByRole('textbox', { name: /C1/ }).first();
  await capacitor.fill('4.7 µF');
  await capacitor.press('Enter');
  await untilComputed(page);
  await expect.poll(() => chart.locator('path.former').count()).toBeGreaterThan(0);
  await expect.poll(() => chart.locator('#former').textContent()).toBe('Dashed: before the last change.');
  // A change that leaves the run as it is takes them away.
  await page.getByRole('textbox', { name: 'title of this page' }).fill('Points');
  await page.keyboard.press('Enter');
  await expect.poll(() => chart.locator('path.former').count()).toBe(0);
  expect(await accessibilityFaults(page)).toEqual([]);
});
