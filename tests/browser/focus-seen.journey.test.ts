import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { lookAtEverything, openExample, untilComputed, widthBeyond } from './open-page.ts';

/** What has the focus after a step, and how much of the window it shares with the tray. */
interface Step {
  readonly name: string;
  /** Whether some of it lies under the tray, or outside of the window. */
  readonly covered: string;
}

/** Goes through the page with Tab or Shift+Tab and reports where the focus went, until it leaves the page. */
async function walk(page: Page, key: 'Tab' | 'Shift+Tab', most: number): Promise<Step[]> {
  const steps: Step[] = [];
  for (let step = 0; step < most; step += 1) {
    await page.keyboard.press(key);
    const seen = await page.evaluate(async () => {
      // What is seen is the next picture.
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
      let element = document.activeElement;
      while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
      if (element === null || element === document.body) return undefined;
      const name = element.getAttribute('aria-label') ?? element.textContent?.trim().slice(0, 60) ?? '';
      const notebook = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook')?.shadowRoot;
      const tray = notebook?.querySelector('tt-tray');
      const aside = notebook?.querySelector('aside');
      const box = element.getBoundingClientRect();
      const isInside = (holder: Element | null | undefined): boolean => {
        for (let at: Node | null = element; at !== null; at = at.parentNode ?? (at as ShadowRoot).host ?? null) {
          if (at === holder) return true;
        }
        return false;
      };
      // A region that scrolls, or a chart larger than the window, cannot be seen whole.
      const isLarge = element === aside || box.height > window.innerHeight / 2;
      if (isLarge || isInside(tray)) return { name, covered: '' };
      const top = tray?.getBoundingClientRect().top ?? window.innerHeight;
      const covered =
        box.bottom > top + 1
          ? `its end at ${Math.round(box.bottom)}, the tray from ${Math.round(top)}`
          : box.top < -1
            ? `its top at ${Math.round(box.top)}`
            : '';
      return { name, covered };
    });
    if (seen === undefined) break;
    steps.push(seen);
  }
  return steps;
}

// 640 x 400 with two device pixels for one of the page is a window of 1280 x 800 at 200 % zoom (WCAG 2.2, 1.4.4).
const windows = [
  { width: 1280, height: 800, deviceScaleFactor: 1 },
  { width: 640, height: 400, deviceScaleFactor: 2 },
  { width: 390, height: 844, deviceScaleFactor: 1 },
  { width: 360, height: 640, deviceScaleFactor: 1 },
];

describe.each(windows)('in a window of $width x $height', ({ width, height, deviceScaleFactor }) => {
  // WCAG 2.2, 2.4.11 asks that what has the focus is not hidden entirely; here no part of it is.
  journey(
    'whatever gets the focus comes clear of the tray, forwards and back',
    async ({ browser, address }) => {
      const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor, locale: 'en-US' });
      const page = await context.newPage();
      await page.goto(address);
      await openExample(page, 'Platform lamp');
      await lookAtEverything(page);
      await untilComputed(page);
      const forwards = await walk(page, 'Tab', 130);
      expect(forwards.length).toBeGreaterThan(30);
      const back = await walk(page, 'Shift+Tab', 100);
      const covered = [...forwards, ...back].filter((step) => step.covered !== '');
      expect(covered).toEqual([]);
      await context.close();
    },
    90_000 * patience,
  );

  journey('the tray leaves most of the window to the page', async ({ browser, address }) => {
    const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor, locale: 'en-US' });
    const page = await context.newPage();
    await page.goto(address);
    await openExample(page, 'Platform lamp');
    await untilComputed(page);
    const trayHeight = async () => (await page.locator('tt-tray').boundingBox())?.height;
    await expect.poll(trayHeight).toBeLessThan(height / 3);
    await expect.poll(() => widthBeyond(page)).toBeLessThanOrEqual(0);
    await context.close();
  });
});
