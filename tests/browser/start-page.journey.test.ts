import { expect } from 'vitest';
import { journey } from '../support/journey.ts';

journey('the start page answers, has its title and a heading to begin at', async ({ page }) => {
  await expect.poll(() => page.title()).toContain('Two Thirds');
  await page.getByRole('heading', { level: 1 }).waitFor();
  await expect.poll(() => page.getByRole('heading', { level: 1 }).innerText()).not.toBe('');
});

journey('an empty page on a phone has no place for a circuit or knobs until there is one', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await page.getByRole('button', { name: 'Begin an empty page' }).click();
  await page.getByRole('button', { name: 'a circuit', exact: true }).click();
  const fold = page.getByRole('button', { name: 'show the circuit in hand' });
  const knobs = page.getByRole('region', { name: 'Knobs' });
  await expect.poll(() => fold.isVisible()).toBe(false);
  await expect.poll(() => knobs.isVisible()).toBe(false);
  await page.getByRole('button', { name: 'monostable', exact: true }).click();
  await fold.waitFor();
  await knobs.waitFor();
});
