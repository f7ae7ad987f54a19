import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { openExample, untilComputed, untilKept } from './open-page.ts';

journey(
  'a result that was shown is held back again, with undo and redo by name, also after a reload',
  async ({ page }) => {
    await openExample(page, 'Axle counter');
    const look = page.locator('tt-cell#look');
    const prediction = look.getByRole('textbox', { name: 'What do you expect, and why? Then look.' });
    await prediction.fill('four, because the interval is long');
    await look.getByRole('button', { name: 'look what happens' }).click();
    await look.locator('tt-trace').waitFor();
    await untilComputed(page);

    const again = page.getByRole('button', { name: 'hold it back again: look' });
    await again.focus();
    await page.keyboard.press('Enter');
    await look.locator('tt-trace').waitFor({ state: 'detached' });
    // What was written is still there, to be thought over, and has the focus.
    await expect.poll(() => prediction.inputValue()).toBe('four, because the interval is long');
    await expect.poll(() => prediction.evaluate((field) => field.matches(':focus'))).toBe(true);

    await page.getByRole('button', { name: 'undo: hold look back again' }).click();
    await look.locator('tt-trace').waitFor();
    await page.getByRole('button', { name: 'redo: hold look back again' }).click();
    await look.locator('tt-trace').waitFor({ state: 'detached' });
    await untilKept(page);
    await page.reload();
    await prediction.waitFor();
    await page.getByRole('button', { name: 'undo: hold look back again' }).click();
    await look.locator('tt-trace').waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
  },
);
