import { expect } from 'vitest';
import { journey } from '../support/journey.ts';

journey('the start page answers, has its title and a heading to begin at', async ({ page }) => {
  await expect.poll(() => page.title()).toContain('Two Thirds');
  await page.getByRole('heading', { level: 1 }).waitFor();
  await expect.poll(() => page.getByRole('heading', { level: 1 }).innerText()).not.toBe('');
});
