import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { lookAtEverything, openExample, untilComputed } from './open-page.ts';

/*
 * Pictures of the notebook in test-results/pictures, to be looked at by people: the start page, the head of the axle
 * counter and its first trace, in both themes, on a wide page and on a phone.
 */

const folder = join(import.meta.dirname, '../../test-results/pictures');
const widths = [
  ['wide', 1440, 1000],
  ['phone', 390, 844],
] as const;

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  journey.for(widths)('pictures are taken on a %s page', async ([name, width, height], { browser, address }) => {
    mkdirSync(folder, { recursive: true });
    const context = await browser.newContext({ viewport: { width, height }, colorScheme, locale: 'en-US' });
    const page = await context.newPage();
    const picture = async (what: string): Promise<void> => {
      const image = await page.screenshot({ path: join(folder, `${what}-${name}-${colorScheme}.png`) });
      // An empty page of these sizes compresses to less.
      expect(image.length).toBeGreaterThan(15_000);
    };
    await page.goto(address);
    await page.getByRole('link', { name: 'Axle counter', exact: true }).waitFor();
    await picture('start');
    await openExample(page, 'Axle counter');
    await untilComputed(page);
    await picture('axle-counter');
    await lookAtEverything(page);
    await page.locator('tt-cell#board').click({ position: { x: 2, y: 2 } });
    await page.locator('tt-cell#guess').scrollIntoViewIfNeeded();
    await page.evaluate(() => {
      const notebook = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook');
      const note = notebook?.shadowRoot?.querySelector('tt-cell#guess');
      window.scrollBy(0, (note?.getBoundingClientRect().top ?? 0) - 40);
    });
    await untilComputed(page);
    await picture('trace');
    await context.close();
  });
});
