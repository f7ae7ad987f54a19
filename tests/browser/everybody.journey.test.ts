import type { Browser } from 'playwright-core';
import { describe, expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { lookAtEverything, openExample, untilComputed, widthBeyond } from './open-page.ts';

const themes = ['light', 'dark'] as const;
const examples = ['Axle counter', 'Crossing flasher', 'Platform lamp', 'Touch bell'];

/** A page of a given width and theme, on the start page. */
async function pageOf(browser: Browser, address: string, width: number, colorScheme: 'light' | 'dark') {
  const context = await browser.newContext({ viewport: { width, height: 844 }, colorScheme, locale: 'en-US' });
  const page = await context.newPage();
  await page.goto(address);
  return page;
}

describe.each(themes)('in the %s theme', (theme) => {
  journey('the start page has no fault that axe can find', async ({ browser, address }) => {
    const page = await pageOf(browser, address, 1280, theme);
    await page.getByRole('link', { name: 'Axle counter', exact: true }).waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.context().close();
  });

  journey.for([1280, 390])(
    'a page of experiments has no fault that axe can find at %i px',
    async (width, { browser, address }) => {
      const page = await pageOf(browser, address, width, theme);
      await openExample(page, 'Axle counter');
      await untilComputed(page);
      expect(await accessibilityFaults(page)).toEqual([]);
      await lookAtEverything(page);
      // What is folded away counts too.
      await page.evaluate(() => {
        const open = (root: Document | ShadowRoot): void => {
          for (const each of root.querySelectorAll('*')) {
            if (each instanceof HTMLDetailsElement) each.open = true;
            if (each.shadowRoot !== null) open(each.shadowRoot);
          }
        };
        open(document);
      });
      await untilComputed(page);
      // In a window as people have it, scrolled into the page.
      await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight / 3));
      expect(await accessibilityFaults(page)).toEqual([]);
      await page.context().close();
    },
  );
});

// A window of 1280 px has 640 px at 200 % zoom and 320 px at 400 % (WCAG 2.2, 1.4.4 and 1.4.10).
describe.each([320, 360, 390, 640, 768, 1440])('at %i px', (width) => {
  journey('no page scrolls sideways, and no example has a fault', async ({ browser, address }) => {
    const page = await pageOf(browser, address, width, 'light');
    await expect.poll(() => widthBeyond(page)).toBe(0);
    for (const title of examples) {
      await openExample(page, title);
      if (title !== 'Crossing flasher') await lookAtEverything(page);
      await untilComputed(page);
      await expect.poll(() => widthBeyond(page), { message: title }).toBe(0);
      // The worked examples are whole: nothing in them is complained of.
      await expect.poll(() => page.locator('.complaint').count(), { message: title }).toBe(0);
      await page.getByRole('link', { name: /to the start page/ }).click();
    }
    await page.context().close();
  });
});

journey(
  'on a phone the circuit is folded above the page and the tray turns one knob at a time',
  async ({ browser, address }) => {
    const page = await pageOf(browser, address, 390, 'light');
    await openExample(page, 'Axle counter');
    await untilComputed(page);
    const drawing = page.getByRole('img', { name: /^Circuit of/ });
    await expect.poll(() => drawing.isVisible()).toBe(false);
    await page.getByRole('button', { name: 'show the circuit in hand' }).click();
    await expect.poll(() => drawing.isVisible()).toBe(true);
    await expect.poll(() => page.getByRole('slider', { name: 'C1 capacitance' }).isVisible()).toBe(false);
    await page.getByRole('button', { name: 'C1', exact: true }).click();
    await expect.poll(() => page.getByRole('slider', { name: 'C1 capacitance' }).isVisible()).toBe(true);
    await page.context().close();
  },
);

journey('names and units are never put in capitals, where ms would become MS', async ({ page }) => {
  const inCapitals = () =>
    page.evaluate(() => {
      const found: string[] = [];
      const read = (node: Node): void => {
        if (node instanceof Text && node.parentElement !== null) {
          const text = node.data.trim();
          if (text !== '' && getComputedStyle(node.parentElement).textTransform !== 'none') found.push(text);
        }
        const root = node instanceof Element ? (node.shadowRoot ?? node) : node;
        if (!(node instanceof HTMLStyleElement)) root.childNodes.forEach(read);
      };
      read(document.body);
      return found;
    });
  // Digits, capitals and the names of this page's board.
  const written = /\d|[A-Z]|coaches|timing|fernhollow/;
  const wrong = async (): Promise<string[]> => (await inCapitals()).filter((text) => written.test(text));
  await expect.poll(wrong).toEqual([]);
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  await expect.poll(async () => (await inCapitals()).length).toBeGreaterThan(3);
  await expect.poll(wrong).toEqual([]);
});

journey('the theme is chosen by hand and kept for the next visit', async ({ page }) => {
  const ground = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const light = await ground();
  await page.getByRole('button', { name: 'theme: system' }).click();
  await page.getByRole('button', { name: 'theme: light' }).click();
  await expect.poll(() => ground()).not.toBe(light);
  await page.reload();
  await page.getByRole('button', { name: 'theme: dark' }).waitFor();
  await expect.poll(() => ground()).not.toBe(light);
  await page.locator('tt-opening-run .told').waitFor();
});

journey('everything is reached by keyboard, and the focus is always seen', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  await untilComputed(page);
  await page.getByRole('link', { name: /to the start page/ }).focus();
  const reached = new Set<string>();
  for (let step = 0; step < 80; step += 1) {
    await page.keyboard.press('Tab');
    const focus = await page.evaluate(() => {
      let element = document.activeElement;
      while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
      if (element === null || element === document.body) return undefined;
      const box = element.getBoundingClientRect();
      const style = getComputedStyle(element);
      const frame = element.closest('.frame');
      const ring = [style, ...(frame === null ? [] : [getComputedStyle(frame)])].some(
        (each) => each.outlineStyle !== 'none',
      );
      return { name: element.getAttribute('aria-label') ?? element.textContent ?? '', ring, visible: box.width > 0 };
    });
    if (focus === undefined) break;
    expect(focus.visible, focus.name).toBe(true);
    expect(focus.ring, focus.name).toBe(true);
    reached.add(focus.name.trim());
  }
  for (const name of ['save as file', 'title of this page', 'R1 resistance', 'C1 capacitance']) {
    expect([...reached]).toContain(name);
  }
});
