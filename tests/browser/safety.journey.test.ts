import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { openDocument, openExample, textOf, untilComputed, widthBeyond } from './open-page.ts';

const pictures = join(import.meta.dirname, '../../test-results/pictures');

/** Two boards of the flasher with a lamp resistor that is too small; the first flashes at about 10 Hz. */
const document = {
  format: 'two-thirds',
  version: 1,
  title: 'Hasty flasher',
  boards: {
    hasty: { ready: 'astable', values: { C1: '1 µF', R3: '220 Ω' } },
    calm: { ready: 'astable', values: { R3: '220 Ω' } },
  },
  page: [
    { id: 'board', kind: 'board', section: 'ask', board: 'hasty', knobs: ['R3', 'C1'] },
    { id: 'look', kind: 'trace', section: 'observe', board: 'hasty', until: '1 s', show: ['timing', 'out'] },
    {
      id: 'numbers',
      kind: 'reading',
      section: 'observe',
      board: 'hasty',
      until: '1 s',
      take: { period: 'period(out)' },
      hold_back: true,
    },
    { id: 'calm_board', kind: 'board', section: 'check', board: 'calm', knobs: ['R3', 'C1'] },
  ],
};

const OVERLOADED = /^D1: an LED always needs a current-limiting path/;
const SWITCH_OFF = /^Hot or smelling: switch off first\./;

async function open(page: Page): Promise<void> {
  await openDocument(page, document);
}

journey(
  'every board shows its own dangers in full, before its parts; what holds for all is said once',
  async ({ page }) => {
    await open(page);
    for (const id of ['board', 'calm_board']) {
      const cell = page.locator(`tt-cell#${id}`);
      const danger = cell.getByRole('note', { name: /^Danger/ });
      await expect.poll(() => danger.getByText(OVERLOADED).isVisible()).toBe(true);
      // Above everything else of the board, and not to be folded away.
      await expect.poll(() => textOf(cell)).toMatch(/Danger.*capacitor/);
      await expect.poll(() => textOf(cell)).not.toMatch(/capacitor.*Danger/);
      await expect.poll(() => danger.locator('details').count()).toBe(0);
      // A shape and a word, not a colour alone.
      await expect.poll(() => danger.locator('svg').isVisible()).toBe(true);
    }
    await expect.poll(() => page.getByText(SWITCH_OFF).count()).toBe(1);
  },
);

journey('a run shows what went beyond its limits, and its board shows it too', async ({ page }) => {
  await open(page);
  const limit = /^D1 carried more than its limit of 20\.0\smA, \d+ times, first at /;
  const flashes = /^D1 flashes [\d.]+ to 9\.85 times a second/;
  for (const id of ['look', 'board']) {
    const cell = page.locator(`tt-cell#${id}`);
    await cell
      .getByRole('note', { name: /^Beyond its limits/ })
      .getByText(limit)
      .waitFor();
    await cell
      .getByRole('note', { name: /^Flashing light/ })
      .getByText(flashes)
      .waitFor();
  }
  // A result that is held back does not tell; its board does.
  await expect.poll(() => page.locator('tt-cell#numbers').getByRole('note').count()).toBe(0);
  const calm = page.locator('tt-cell#calm_board').getByRole('note', { name: /^Beyond/ });
  await expect.poll(() => calm.count()).toBe(0);
});

journey('a danger comes and goes as a value is turned', async ({ page }) => {
  await open(page);
  const cell = page.locator('tt-cell#calm_board');
  const value = cell.getByLabel('R3 resistance', { exact: true }).first();
  await value.fill('680');
  await value.press('Enter');
  await untilComputed(page);
  await expect.poll(() => cell.getByRole('note', { name: /^Danger/ }).count()).toBe(0);
  await value.fill('100');
  await value.press('Enter');
  await cell
    .getByRole('note', { name: /^Danger/ })
    .getByText(OVERLOADED)
    .waitFor();
});

journey.for(['Axle counter', 'Crossing flasher', 'Platform lamp', 'Touch bell'])(
  '%s raises no alarm',
  async (title, { page }) => {
    await openExample(page, title);
    await untilComputed(page);
    await page.getByText(SWITCH_OFF).waitFor();
    await expect.poll(() => page.getByRole('note', { name: /^(Danger|Beyond|Flashing)/ }).count()).toBe(0);
  },
);

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  journey.for([1440, 390])('alarms have no fault that axe can find at %i px', async (width, { browser, address }) => {
    mkdirSync(pictures, { recursive: true });
    const context = await browser.newContext({ viewport: { width, height: 1000 }, colorScheme, locale: 'en-US' });
    const page = await context.newPage();
    await page.goto(address);
    await open(page);
    expect(await accessibilityFaults(page)).toEqual([]);
    await expect.poll(() => widthBeyond(page)).toBe(0);
    await page.screenshot({ path: join(pictures, `safety-${width}-${colorScheme}.png`), fullPage: true });
    await context.close();
  });
});
