import type { BrowserContext, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { dropFile, focusName, openExample, textOf, untilComputed, untilKept } from './open-page.ts';

/** Begins an empty page and gives it this title. */
async function begin(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: 'Begin an empty page' }).click();
  await entitle(page, title);
}

async function entitle(page: Page, title: string): Promise<void> {
  const field = page.getByLabel('title of this page');
  await field.fill(title);
  await field.press('Enter');
  await page.getByRole('heading', { level: 1, name: title, exact: true }).waitFor();
}

async function newPage(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(address);
  await page.getByRole('button', { name: 'Begin an empty page' }).waitFor();
  return page;
}

/** Ends the process of a page without giving it a chance to do anything. */
async function kill(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  void session.send('Page.crash').catch(() => undefined);
  await crashed;
}

journey(
  'after a crash the start page says which page it was and when, and it goes on with its undo',
  async ({ browser, address }) => {
    const context = await browser.newContext({ locale: 'en-US', viewport: { width: 1280, height: 800 } });
    const page = await newPage(context, address);
    await begin(page, 'Platform lamp, my own');
    await page.getByRole('button', { name: 'a note' }).click();
    await page.getByLabel(/^text of note/).fill('Lit for a while.');
    // What is typed becomes part of the page a moment later.
    await page.getByRole('button', { name: /^undo: text of note/ }).waitFor();
    await untilKept(page);
    await kill(page);

    const again = await newPage(context, address);
    const notice = again.getByRole('status').getByText('Platform lamp, my own');
    await notice.waitFor();
    await expect.poll(() => textOf(notice)).toMatch(/ended without being closed.*kept as it was at \d+:\d\d:\d\d/);
    expect(await accessibilityFaults(again)).toEqual([]);
    await again.getByRole('button', { name: 'go on with it' }).click();
    await again.locator('tt-note').getByText('Lit for a while.').waitFor();
    await again.getByRole('button', { name: /^undo: text of note/ }).click();
    await again.getByRole('button', { name: /^undo: add note/ }).click();
    await expect.poll(() => again.locator('tt-cell').count()).toBe(0);
    await context.close();
  },
);

journey(
  'a window that was closed in the usual way is not spoken of, but its page is there',
  async ({ browser, address }) => {
    const context = await browser.newContext({ locale: 'en-US' });
    const page = await newPage(context, address);
    await begin(page, 'Signal box buzzer');
    await untilKept(page);
    await page.goto('about:blank');
    const again = await newPage(context, address);
    await again.getByRole('link', { name: 'Signal box buzzer' }).waitFor();
    await expect.poll(() => again.getByText('ended without being closed').count()).toBe(0);
    await context.close();
  },
);

journey('a file that was opened comes back when the window is reloaded, changes included', async ({ page }) => {
  const fan = '{"format":"two-thirds","version":1,"title":"Tunnel fan","boards":{},"page":[]}';
  await dropFile(page, 'fan.tt.json', fan);
  await page.getByRole('heading', { level: 1, name: 'Tunnel fan' }).waitFor();
  await entitle(page, 'Tunnel fan, dimmed');
  await untilKept(page);
  await page.reload();
  await page.getByRole('heading', { level: 1, name: 'Tunnel fan, dimmed' }).waitFor();
  await expect.poll(() => textOf(page.getByRole('button', { name: /^undo/ }))).toContain('title');
});

journey('an undo where there is nothing to undo makes no page of one’s own', async ({ page }) => {
  await openExample(page, 'Crossing flasher');
  await page.getByRole('button', { name: 'undo', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.waitForTimeout(500);
  await page.getByRole('link', { name: /to the start page/ }).click();
  await page.getByRole('link', { name: 'Crossing flasher', exact: true }).waitFor();
  await expect.poll(() => page.getByRole('button', { name: /back to the original/ }).count()).toBe(0);
});

journey('an address of no page says so', async ({ page }) => {
  await page.evaluate(() => {
    location.hash = 'page-nobody';
  });
  await page.getByRole('alert').getByText('No page is kept here').waitFor();
});

journey('pages are listed, deleted, and brought back; an example goes back to its original', async ({ page }) => {
  await begin(page, 'Bell code');
  await untilKept(page);
  await page.getByRole('link', { name: /to the start page/ }).click();
  await page.getByRole('button', { name: 'delete: Bell code' }).click();
  await page.getByText('“Bell code” was deleted.').waitFor();
  await expect.poll(() => focusName(page)).toBe('bring it back');
  await expect.poll(() => page.getByRole('link', { name: 'Bell code' }).count()).toBe(0);
  await page.getByRole('button', { name: 'bring it back' }).click();
  await page.getByRole('link', { name: 'Bell code' }).waitFor();
  await openExample(page, 'Touch bell');
  await entitle(page, 'Touch bell, changed');
  await untilKept(page);
  await page.getByRole('link', { name: /to the start page/ }).click();
  await page.getByRole('button', { name: 'back to the original: Touch bell, changed' }).click();
  await page.getByRole('link', { name: 'Touch bell, changed' }).waitFor({ state: 'detached' });
  await openExample(page, 'Touch bell');
});

journey('two windows with the same page follow each other', async ({ browser, address }) => {
  const context = await browser.newContext({ locale: 'en-US' });
  const one = await newPage(context, address);
  await begin(one, 'Sequence');
  await untilKept(one);
  const two = await newPage(context, address);
  await two.getByRole('link', { name: 'Sequence' }).click();
  await two.getByRole('heading', { level: 1, name: 'Sequence' }).waitFor();
  await entitle(two, 'Sequence of the crossing');
  await one.getByRole('heading', { level: 1, name: 'Sequence of the crossing' }).waitFor();
  await one.getByText('Brought up to date').waitFor();
  await context.close();
});

journey('two windows that do not hear of each other keep both states, and say so', async ({ browser, address }) => {
  const context = await browser.newContext({ locale: 'en-US' });
  await context.addInitScript(() => Reflect.deleteProperty(window, 'BroadcastChannel'));
  const one = await newPage(context, address);
  await begin(one, 'Turntable lock');
  await untilKept(one);
  const two = await newPage(context, address);
  await two.getByRole('link', { name: 'Turntable lock' }).click();
  await entitle(two, 'Turntable lock, in the second window');
  await untilKept(two);
  await one.getByLabel('title of this page').fill('Turntable lock, in the first window');
  await one.getByLabel('title of this page').press('Enter');
  await one.getByRole('alert').getByText('is kept as well').waitFor();
  await untilKept(one);
  // What is written from here on is kept as well.
  await one.getByRole('button', { name: 'a note' }).click();
  await untilKept(one);
  const three = await newPage(context, address);
  await three.getByRole('link', { name: 'Turntable lock, in the second window' }).waitFor();
  await three.getByRole('link', { name: 'Turntable lock, in the first window (second version)' }).waitFor();
  await context.close();
});

journey(
  'where the browser keeps nothing, everything works and the page says that it is not kept',
  async ({ browser, address }) => {
    const context = await browser.newContext({ locale: 'en-US' });
    await context.addInitScript(() => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('not here', 'SecurityError');
      };
    });
    const page = await newPage(context, address);
    await page.getByRole('status').getByText('lasts as long as this window').waitFor();
    await openExample(page, 'Platform lamp');
    await untilComputed(page);
    await entitle(page, 'Lamp, not kept');
    await expect.poll(() => page.getByText(/^kept /).count()).toBe(0);
    expect(await accessibilityFaults(page)).toEqual([]);
    await context.close();
  },
);

journey('what a later version keeps, or what is damaged, is refused and stays untouched', async ({ page }) => {
  await begin(page, 'Night light');
  await untilKept(page);
  await page.getByRole('link', { name: /to the start page/ }).click();
  await page.getByRole('link', { name: 'Night light' }).waitFor();
  const change = (wanted: object): Promise<string> =>
    page.evaluate(
      (fields) =>
        new Promise((resolve) => {
          const opening = indexedDB.open('two-thirds');
          opening.onsuccess = () => {
            const store = opening.result.transaction('notebooks', 'readwrite').objectStore('notebooks');
            const reading = store.openCursor();
            reading.onsuccess = () => {
              const cursor = reading.result;
              if (cursor === null) return;
              const value = { ...cursor.value, ...fields };
              cursor.update(value).onsuccess = () => {
                opening.result.close();
                resolve(JSON.stringify(value));
              };
            };
          };
        }),
      wanted,
    );
  for (const [fields, words] of [
    [{ form: 99 }, 'later version'],
    [{ form: 1, history: 'gone' }, 'kept whole'],
  ] as const) {
    const stored = await change(fields);
    await page.reload();
    await page.getByRole('link', { name: 'Night light' }).click();
    await page.getByRole('alert').getByText(words).waitFor();
    await expect.poll(() => change({})).toBe(stored);
  }
});
