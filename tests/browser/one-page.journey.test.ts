import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { Browser, Download, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { accessibilityFaults } from './accessible.ts';
import { dropFile, lookAtEverything, openExample, textOf, untilComputed, withoutFileDialogues } from './open-page.ts';

/** Text of a note that tries to become part of the page that holds it. */
const HOSTILE = '</script><script>window.broken = 1</script><img src=x onerror="window.broken = 2"><!--<script>';

const TITLE = 'Lamp </title> to <b>pass</b> on';

/** The platform lamp with a title and a note that try to become more than text. */
function hostilePage(): string {
  const file = join(import.meta.dirname, '../../worked-examples/03-platform-lamp/platform-lamp.tt.json');
  const page = JSON.parse(readFileSync(file, 'utf8'));
  page.title = TITLE;
  page.page.unshift({ id: 'hostile', kind: 'note', text: HOSTILE });
  return JSON.stringify(page);
}

/** Presses a command of the head and waits for the file that it makes. */
async function downloadBy(page: Page, name: string): Promise<Download> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name, exact: true }).click(),
  ]);
  return download;
}

/** Opens a file from disk in a browser without a network; what the page complains of comes with it. */
async function openFromDisk(browser: Browser, path: string, width = 1280) {
  const context = await browser.newContext({ locale: 'en-US', viewport: { width, height: 800 } });
  await context.setOffline(true);
  const page = await context.newPage();
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => complaints.push(`uncaught: ${error.message}`));
  page.on('request', (request) => requests.push(request.url()));
  await page.goto(pathToFileURL(path).href);
  return { context, page, complaints, requests };
}

journey(
  'a page shared as one file opens from disk without a network, computes, edits, and saves as the document it is',
  async ({ page, browser }) => {
    const folder = await mkdtemp(join(tmpdir(), 'two-thirds-one-page-'));
    await dropFile(page, 'dropped.tt.json', hostilePage());
    await page.getByRole('heading', { level: 1, name: TITLE }).waitFor();
    await untilComputed(page);
    const download = await downloadBy(page, 'share as web page');
    expect(download.suggestedFilename()).toBe('lamp-title-to-b-pass-b-on.html');
    await page.getByRole('status').getByText('opens it from disk').waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    const path = join(folder, 'lamp.html');
    await download.saveAs(path);
    // What mail programs take: 3 MB are an eighth of the usual limit of 25 MB (common practice, no source).
    expect(readFileSync(path).length).toBeLessThan(3_000_000);

    const opened = await openFromDisk(browser, path);
    const { page: other } = opened;
    await other.getByRole('heading', { level: 1, name: TITLE }).waitFor();
    await untilComputed(other);
    await expect.poll(() => textOf(other.locator('tt-cell#hostile'))).toContain('window.broken = 1');
    await expect.poll(() => other.evaluate(() => 'broken' in window)).toBe(false);
    await expect.poll(() => other.locator('tt-cell#board .complaint').count()).toBe(0);

    // It edits like the app: another resistor gives another time. 1.1 x 470 kohm x 47 uF = 24.3 s (TI SLFS022I, p. 10).
    const resistance = other.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true });
    await resistance.fill('470k');
    await resistance.press('Enter');
    await untilComputed(other);
    await lookAtEverything(other);
    const width = other.locator('tt-cell#numbers').getByRole('row', { name: /^burns/ });
    await expect.poll(() => textOf(width)).toMatch(/24\.\d.s/u);
    // A run by hand has a worker of its own.
    await other.getByRole('button', { name: 'let time pass' }).click();
    await other.getByRole('button', { name: 'hold', exact: true }).waitFor();
    await other.waitForTimeout(400);
    await other.getByRole('button', { name: 'leave' }).click();
    expect(await accessibilityFaults(other)).toEqual([]);

    await withoutFileDialogues(other);
    const saved = await downloadBy(other, 'save as file');
    expect(saved.suggestedFilename()).toMatch(/\.tt\.json$/);
    const document = JSON.parse(readFileSync(await saved.path(), 'utf8'));
    expect(document.title).toBe(TITLE);
    expect(JSON.stringify(document)).toContain('470k');

    // And it is passed on again, as it is now.
    const again = join(folder, 'again.html');
    await (await downloadBy(other, 'share as web page')).saveAs(again);
    const third = await openFromDisk(browser, again, 390);
    await untilComputed(third.page);
    await expect
      .poll(() => third.page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).inputValue())
      .toMatch(/^470/);
    for (const { complaints, requests, context } of [opened, third]) {
      expect(complaints).toEqual([]);
      // The file itself, and programs and downloads from memory; nothing else.
      expect(requests.filter((url) => !/^(file:.*\.html|blob:|data:)/.test(url))).toEqual([]);
      await context.close();
    }
    await rm(folder, { recursive: true });
  },
  90_000 * patience,
);

journey('the policy of a shared page stops every script but its own', async ({ page, browser }) => {
  const folder = await mkdtemp(join(tmpdir(), 'two-thirds-one-page-'));
  await openExample(page, 'Platform lamp');
  const path = join(folder, 'lamp.html');
  await (await downloadBy(page, 'share as web page')).saveAs(path);
  const { page: other, context } = await openFromDisk(browser, path);
  await untilComputed(other);
  const outcome = await other.evaluate(async () => {
    // Code that runs at once escapes the policy; after a timer it is held to it.
    await new Promise((resolve) => setTimeout(resolve, 10));
    const script = document.createElement('script');
    script.textContent = 'window.broken = true';
    document.body.append(script);
    const attempt = (act: () => unknown): string => {
      try {
        act();
        return 'ran';
      } catch {
        return 'stopped';
      }
    };
    return {
      inline: 'broken' in window ? 'ran' : 'stopped',
      evaluated: attempt(() => (window as unknown as { eval: (code: string) => unknown }).eval('1')),
      fetched: await fetch('https://example.org/').then(
        () => 'ran',
        () => 'stopped',
      ),
    };
  });
  expect(outcome).toEqual({ inline: 'stopped', evaluated: 'stopped', fetched: 'stopped' });
  await context.close();
  await rm(folder, { recursive: true });
});

journey('a shared page whose document was damaged says so and still is a notebook', async ({ page, browser }) => {
  const folder = await mkdtemp(join(tmpdir(), 'two-thirds-one-page-'));
  await openExample(page, 'Platform lamp');
  const whole = readFileSync(await (await downloadBy(page, 'share as web page')).path(), 'utf8');
  const path = join(folder, 'lamp.html');
  await writeFile(path, whole.replace('{"format":"two-thirds"', '{"format":"two-thirds",'));
  const { page: other, context } = await openFromDisk(browser, path);
  await other.getByRole('alert').getByText('The page in this file').waitFor();
  await other.getByRole('button', { name: 'Begin an empty page' }).click();
  await other.getByLabel('title of this page').waitFor();
  await context.close();
  await rm(folder, { recursive: true });
});
