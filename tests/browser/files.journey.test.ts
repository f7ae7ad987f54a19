import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { dropFile, textOf, untilComputed, withoutFileDialogues } from './open-page.ts';

const flasher = join(import.meta.dirname, '../../worked-examples/02-crossing-flasher/crossing-flasher.tt.json');

/** Chooses a file as somebody does who presses the button of the start page. */
async function choose(page: Page, name: string, text: string): Promise<void> {
  await withoutFileDialogues(page);
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a page of your own' }).click(),
  ]);
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

journey('a file of one’s own is opened, changed and saved as the same kind of file', async ({ page }) => {
  await choose(page, 'mine.tt.json', readFileSync(flasher, 'utf8').replace('Crossing flasher', 'My flasher'));
  await page.getByRole('heading', { level: 1, name: 'My flasher' }).waitFor();
  await untilComputed(page);
  await page.getByLabel('title of this page').fill('Our flasher');
  await page.getByLabel('title of this page').press('Enter');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'save as file' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('our-flasher.tt.json');
  const saved = JSON.parse(readFileSync(await download.path(), 'utf8'));
  expect(saved).toEqual({ ...JSON.parse(readFileSync(flasher, 'utf8')), title: 'Our flasher' });
});

journey('a file that is dropped on the page is opened', async ({ page }) => {
  await dropFile(page, 'dropped.tt.json', readFileSync(flasher, 'utf8'));
  await page.getByRole('heading', { level: 1, name: 'Crossing flasher', exact: true }).waitFor();
});

journey('a file that cannot be used says why, by line where it is no JSON', async ({ page }) => {
  await choose(page, 'broken.tt.json', '{\n  "format": "two-thirds",\n  oops\n}');
  await page.getByRole('alert').waitFor();
  await expect.poll(() => textOf(page.getByRole('alert'))).toContain('line 3');
  await choose(page, 'other.json', '{ "format": "something else" }');
  await page.getByRole('alert').getByText('two-thirds').waitFor();
});

journey('a file of a later version is refused and the page that is open stays open', async ({ page }) => {
  await page.getByRole('link', { name: 'Platform lamp', exact: true }).click();
  await page.getByRole('heading', { level: 1, name: 'Platform lamp', exact: true }).waitFor();
  await dropFile(page, 'next-year.tt.json', '{"format":"two-thirds","version":7,"boards":{},"page":[]}');
  await page.getByRole('alert').getByText('next-year.tt.json').waitFor();
  await expect.poll(() => textOf(page.getByRole('alert'))).toContain('later');
  await page.getByRole('heading', { level: 1, name: 'Platform lamp', exact: true }).waitFor();
});

journey('where the browser lets a page write to a file, saving goes to the same file again', async ({ page }) => {
  // A file of the browser's own, in place of one that somebody picks: the dialogue itself cannot be driven.
  await page.evaluate(async () => {
    const folder = await navigator.storage.getDirectory();
    const handle = await folder.getFileHandle('lamp.tt.json', { create: true });
    Object.assign(window, { showSaveFilePicker: () => Promise.resolve(handle) });
  });
  const stored = (): Promise<string> =>
    page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      return (await (await folder.getFileHandle('lamp.tt.json')).getFile()).text();
    });
  await page.getByRole('link', { name: 'Platform lamp', exact: true }).click();
  const title = page.getByLabel('title of this page');
  await title.fill('Lamp of platform 2');
  await title.press('Enter');
  await page.getByRole('button', { name: 'save as file' }).click();
  await page.getByText('Saved to lamp.tt.json').waitFor();
  await expect.poll(async () => JSON.parse(await stored()).title).toBe('Lamp of platform 2');
  await title.fill('Lamp of platform 3');
  await title.press('Enter');
  await page.getByRole('button', { name: 'save to lamp.tt.json' }).click();
  await expect.poll(async () => JSON.parse(await stored()).title).toBe('Lamp of platform 3');
});

journey('a page whose cells are faulty opens all the same and shows each fault in its cell', async ({ page }) => {
  const document = {
    format: 'two-thirds',
    version: 1,
    title: 'Faulty',
    boards: { lamp: { ready: 'monostable' } },
    page: [
      { id: 'words', kind: 'note', text: 'These words are fine.' },
      { id: 'later', kind: 'sweep' },
      { id: 'wrong', kind: 'trace', board: 'lamb', until: '6 s', show: ['out'] },
      { id: 'right', kind: 'reading', board: 'lamp', until: '20 s', take: { times: 'count(out)' } },
    ],
  };
  await choose(page, 'faulty.tt.json', JSON.stringify(document));
  await untilComputed(page);
  await expect.poll(() => textOf(page.locator('tt-cell#words'))).toContain('These words are fine.');
  await expect.poll(() => textOf(page.locator('tt-cell#later'))).toContain('sweep');
  await expect.poll(() => textOf(page.locator('tt-cell#wrong'))).toContain('lamb');
  await expect.poll(() => textOf(page.locator('tt-cell#right').getByRole('row', { name: /^times/ }))).toContain('1');
});
