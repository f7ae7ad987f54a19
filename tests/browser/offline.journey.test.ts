import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { openExample, textOf, untilComputed, untilKept } from './open-page.ts';

journey('once opened, the notebook opens and works without a network', async ({ page }) => {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  // The worker answers for this window too, not only for those to come.
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await page.context().setOffline(true);
  await page.reload();
  await openExample(page, 'Platform lamp');
  await untilComputed(page);
  // The note's program comes as a file of its own, and so does the formulas': neither was asked for before.
  await page.locator('tt-cell tt-note').getByText('A visitor').first().waitFor();
  const resistance = page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true });
  await resistance.fill('470k');
  await resistance.press('Enter');
  await untilComputed(page);
  await expect.poll(() => page.locator('.complaint').count()).toBe(0);
  // A page of one file is put together without a network too.
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'share as web page' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('platform-lamp.html');
  await untilKept(page);
  await page.reload();
  await expect.poll(() => textOf(page.getByRole('heading', { level: 1 }).first())).toBe('Platform lamp');
  await expect
    .poll(() => page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).inputValue())
    .toMatch(/^470/);
});

journey(
  'the notebook can be installed: a manifest with a name, icons of its own and a page to begin with',
  async ({ page, address }) => {
    const session = await page.context().newCDPSession(page);
    const { data, errors } = await session.send('Page.getAppManifest');
    expect(errors).toEqual([]);
    const manifest = JSON.parse(data ?? '{}');
    expect(manifest.name).toBe('Two Thirds');
    expect(new URL(manifest.start_url, address).href).toBe(address);
    // What Chromium asks for before it offers to install (its own documentation): icons of 192 and 512 pixels.
    const sizes = await page.evaluate(
      async (icons: { src: string; sizes: string }[]) =>
        Promise.all(
          icons.map(async ({ src, sizes: stated }) => {
            const picture = new Image();
            picture.src = src;
            await picture.decode();
            return [stated, `${picture.naturalWidth}x${picture.naturalHeight}`] as const;
          }),
        ),
      manifest.icons,
    );
    for (const [stated, found] of sizes) if (stated !== 'any') expect(found).toBe(stated);
    expect(sizes.map(([stated]) => stated)).toEqual(expect.arrayContaining(['192x192', '512x512']));
  },
);
