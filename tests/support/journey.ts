import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { test as base, expect, inject } from 'vitest';
import { launchChromium } from './chromium.ts';
import { prepareContexts } from './slow-browser.ts';

/** What a journey gets to work with. */
export interface Journey {
  /** One browser for all journeys of a file. */
  browser: Browser;
  /** Address of the built notebook, ending in a slash. */
  address: string;
  /** Window and context options; override with `journey.override` or open pages of your own from `browser`. */
  context: BrowserContextOptions;
  /** A fresh page in a fresh context, already on the start page. */
  page: Page;
  /** Console errors, uncaught errors and policy violations of `page` so far. */
  complaints: string[];
}

/**
 * A test that drives the built notebook in a real Chromium. After the test the page must not have complained: a
 * console error, an uncaught error or a violation of the content security policy fails it.
 */
export const journey = base.extend<Journey>({
  browser: [
    async ({}, use) => {
      const browser = await launchChromium();
      prepareContexts(browser);
      await use(browser);
      await browser.close();
    },
    { scope: 'file' },
  ],
  address: async ({}, use) => use(inject('notebookAddress')),
  context: { viewport: { width: 1280, height: 800 }, locale: 'en-US' },
  complaints: async ({}, use) => use([]),
  page: async ({ browser, address, context, complaints }, use) => {
    const surroundings = await browser.newContext(context);
    const page = await surroundings.newPage();
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
    });
    page.on('pageerror', (error) => complaints.push(`uncaught: ${error.message}`));
    page.on('requestfailed', (request) => {
      // A page that is left or loaded again ends what it was still fetching: nothing failed there.
      if (request.failure()?.errorText !== 'net::ERR_ABORTED') complaints.push(`request: ${request.url()}`);
    });
    await page.goto(address);
    // The run of the start page would take time from what a journey measures.
    await page.locator('tt-opening-run').locator('.told, [role="alert"]').first().waitFor();
    await use(page);
    await surroundings.close();
    expect(complaints, 'the page must not complain').toEqual([]);
  },
});
