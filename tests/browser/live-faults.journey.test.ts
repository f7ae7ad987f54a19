import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { accessibilityFaults } from './accessible.ts';
import { textOf, untilComputed, withoutFileDialogues } from './open-page.ts';

/** A platform lamp whose button bounces and whose capacitor is rated too low for its supply. */
const page24 = {
  format: 'two-thirds',
  version: 1,
  title: 'Lamp on a higher supply',
  boards: {
    lamp: {
      ready: 'monostable',
      values: {
        BT1: '24 V',
        R1: '100 kΩ',
        C1: '10 µF',
        R3: '2.2 kΩ',
        'C1.rating': '10 V',
        'U1.family': 'ideal',
        'S1.bounce': { for: '5 ms' },
      },
    },
  },
  page: [{ id: 'circuit', kind: 'board', board: 'lamp' }],
};

const strip = (page: Page) => page.locator('tt-hands-on');
const button = (page: Page, name: string) => strip(page).getByRole('button', { name, exact: true });

async function openPage(page: Page, document: object = page24): Promise<void> {
  await withoutFileDialogues(page);
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a page of your own' }).click(),
  ]);
  const buffer = Buffer.from(JSON.stringify(document));
  await chooser.setFiles({ name: 'lamp.tt.json', mimeType: 'application/json', buffer });
  await untilComputed(page);
}

journey(
  'a run by hand says which part goes beyond its limit, from when on, and that a button bounces',
  async ({ page }) => {
    await openPage(page);
    await button(page, 'next event').click();
    await expect.poll(() => textOf(strip(page).getByRole('status'))).toMatch(/nothing happens by itself/);
    await strip(page).locator('tt-press').getByRole('button').focus();
    await page.keyboard.down('Space');
    await expect.poll(() => textOf(strip(page).getByRole('status'))).toMatch(/S1 is pressed/);
    await button(page, 'next event').click();
    await expect.poll(() => textOf(strip(page).getByRole('status'))).toMatch(/S1 bounces/);
    // Each return pulls TRIGGER low once more; after them the capacitor is next.
    const safety = strip(page).locator('tt-safety');
    const time = () => textOf(strip(page).locator('.time'));
    for (let step = 0; step < 20 && (await textOf(safety)) === ''; step++) {
      const before = await time();
      await button(page, 'next event').click();
      // What is beyond its limits then is drawn with the time.
      await expect.poll(time).not.toBe(before);
    }
    // 24 V (1 - exp(-t / 1 s)) passes 10 V after ln(24 / 14) s, and is back at the end of the interval, after ln 3 s.
    await expect
      .poll(() => textOf(safety))
      .toMatch(/^Beyond its limits C1 was above its rating of 10\.0.V, from 539.ms on\.$/);
    await expect.poll(() => textOf(strip(page).getByRole('status'))).toMatch(/C1 goes beyond a limit/);
    expect(await accessibilityFaults(page)).toEqual([]);
    await button(page, 'let time pass').click();
    await expect.poll(() => textOf(safety), { timeout: 10_000 * patience }).toMatch(/, once, at 539.ms for 560.ms\.$/);
  },
);

/** C1 leaks so that it tends to hardly more than the limit of THRESHOLD. */
const grazing = {
  ...page24,
  boards: {
    lamp: {
      ready: 'monostable',
      values: { BT1: '9 V', R1: '10 kΩ', C1: '1 µF', 'C1.leakage': 20e3 * (1 + 1e-9), 'U1.family': 'ideal' },
    },
  },
};

journey('a run by hand tells of a limit that is only just reached', async ({ page }) => {
  await openPage(page, grazing);
  await button(page, 'next event').click();
  await expect.poll(() => textOf(strip(page).getByRole('status'))).toMatch(/nothing happens by itself/);
  const note = strip(page).getByRole('note', { name: 'A limit that is only grazed' });
  await expect.poll(() => note.count()).toBe(0);
  await strip(page).locator('tt-press').getByRole('button').focus();
  await page.keyboard.down('Space');
  await expect.poll(() => textOf(strip(page).getByRole('status'))).toMatch(/S1 is pressed/);
  await button(page, 'let time pass').click();
  await expect
    .poll(() => textOf(note), { timeout: 15_000 * patience })
    .toMatch(/U1: THRESHOLD only just reaches its limit at/);
  await page.keyboard.up('Space');
});
