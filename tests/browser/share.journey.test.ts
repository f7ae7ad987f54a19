import { deflateRawSync } from 'node:zlib';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { openExample, textOf, untilComputed } from './open-page.ts';

journey(
  'a shared link brings the page to another browser, where it is a page of its own',
  async ({ page, browser }) => {
    await openExample(page, 'Platform lamp');
    await page.getByLabel('title of this page').fill('Lamp to pass on');
    await page.getByLabel('title of this page').press('Enter');
    await page.getByRole('button', { name: 'share as link' }).click();
    const shown = page.getByLabel('link to this page');
    await expect.poll(() => shown.inputValue()).toContain('#page=');
    const link = await shown.inputValue();
    expect(await accessibilityFaults(page)).toEqual([]);

    const elsewhere = await browser.newContext({ locale: 'en-US' });
    const other = await elsewhere.newPage();
    await other.goto(link);
    await other.getByRole('heading', { level: 1, name: 'Lamp to pass on' }).waitFor();
    await untilComputed(other);
    await expect.poll(() => textOf(other.locator('tt-cell#question'))).toContain('A visitor to the layout');
    // The address now names the page that is kept: a reload makes no second one.
    await expect.poll(() => new URL(other.url()).hash).toMatch(/^#page-/);
    await other.reload();
    await other.getByRole('link', { name: /to the start page/ }).click();
    await other.getByRole('link', { name: 'Lamp to pass on' }).first().waitFor();
    await expect.poll(() => other.getByRole('link', { name: 'Lamp to pass on' }).count()).toBe(1);
    await elsewhere.close();
  },
);

journey('a link with a damaged or hostile page is refused with a message', async ({ page, address }) => {
  const hostile = [
    ['AAAA%25%25', 'made of letters'],
    [deflateRawSync('{"format":"two-thirds","version":1').toString('base64url'), 'The page in this link'],
    [deflateRawSync(Buffer.alloc(50_000_000)).toString('base64url'), 'unfold to at most 1 MB'],
  ] as const;
  for (const [fragment, words] of hostile) {
    await page.goto(`${address}#page=${fragment}`);
    await page.getByRole('alert').getByText(words).waitFor();
    await page.getByRole('heading', { level: 1, name: /Turn a part/ }).waitFor();
  }
});
