import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { lookAtEverything, openExample, untilComputed } from './open-page.ts';

journey(
  'the shape of a wave is chosen by keys, its fields are filled in, and a wrong one complains at its place',
  async ({ page }) => {
    await openExample(page, 'Axle counter');
    await lookAtEverything(page);
    const board = page.locator('tt-cell#board');
    const field = (name: string) =>
      board.getByRole('combobox', { name, exact: true }).or(board.getByRole('textbox', { name, exact: true }));
    await field('G1 shape').focus();
    await page.keyboard.press('ArrowDown');
    const offered = page.getByRole('listbox', { name: 'names for G1 shape' });
    await expect.poll(() => offered.getByRole('option').allTextContents()).toHaveLength(5);
    await offered.getByRole('option', { name: 'square' }).click();
    await page.getByRole('button', { name: 'undo: wave of G1 to square' }).waitFor();
    await untilComputed(page);
    // 150 ms between axles are 6.67 Hz; what may be left out is empty and says what holds.
    await expect.poll(() => field('G1 frequency').inputValue()).toMatch(/^6\.66666667 Hz$/);
    await expect.poll(() => field('G1 delay').getAttribute('placeholder')).toBe('0 s');
    await expect.poll(() => board.locator('.complaint').count()).toBe(0);

    await field('G1 frequency').fill('5 V');
    await page.keyboard.press('Enter');
    await field('G1 frequency').and(page.locator('[aria-invalid=true]')).waitFor();
    await field('G1 frequency').fill('5 Hz');
    await page.keyboard.press('Enter');
    await field('G1 frequency').and(page.locator('[aria-invalid=false]')).waitFor();
    await field('G1 delay').fill('1 s');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'undo: G1 delay to 1 s' }).waitFor();
    await untilComputed(page);
    expect(await accessibilityFaults(page)).toEqual([]);
  },
);
