import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { lookAtEverything, openExample, textOf, untilComputed } from './open-page.ts';

journey('a reading is renamed, and a name that another has is refused where it was typed', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  const numbers = page.locator('tt-cell#numbers');
  const name = numbers.getByRole('textbox', { name: 'name of width', exact: true });
  await name.fill('ratio');
  await page.keyboard.press('Enter');
  await numbers.getByText('“ratio” is taken').waitFor();
  await expect.poll(() => name.getAttribute('aria-invalid')).toBe('true');
  await expect.poll(() => page.getByRole('button', { name: /^undo/ }).getAttribute('aria-disabled')).toBe('true');

  await name.fill('burns');
  await page.keyboard.press('Enter');
  await numbers.getByRole('textbox', { name: 'name of burns', exact: true }).waitFor();
  await expect.poll(() => textOf(numbers)).not.toContain('is taken');
});
