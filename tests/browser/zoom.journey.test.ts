import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import {
  lookAtEverything,
  openDocument,
  openExample,
  restingBox,
  textOf,
  untilComputed,
  widthBeyond,
} from './open-page.ts';

/** The first trace of the axle counter, with everything computed. */
async function openTrace(page: Page): Promise<{ cell: Locator; chart: Locator }> {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  const cell = page.locator('tt-cell#look');
  const chart = cell.getByRole('slider');
  await chart.scrollIntoViewIfNeeded();
  await chart.click({ position: { x: 300, y: 60 } });
  await untilExact(chart);
  return { cell, chart };
}

/** Waits until a trace has everything that it asked for. */
async function untilExact(chart: Locator): Promise<void> {
  await expect.poll(() => chart.getAttribute('aria-busy')).toBe('false');
}

/** The labels of the axis of time. */
async function axisLabels(chart: Locator): Promise<string[]> {
  return (await chart.locator('g.axis text').allTextContents()).slice(0, -1);
}

/** How many points the first trace is drawn with. */
async function pointCount(chart: Locator): Promise<number> {
  return ((await chart.locator('path.trace').first().getAttribute('d')) ?? '').split('L').length;
}

async function drag(page: Page, from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move((from.x + to.x) / 2, to.y, { steps: 4 });
  await page.mouse.move(to.x, to.y);
  await page.mouse.up();
}

journey('a trace is zoomed and moved by mouse alone, and the whole run is one press away', async ({ page }) => {
  const { cell, chart } = await openTrace(page);
  const whole = await axisLabels(chart);
  const box = await restingBox(chart);

  // With Shift, a drag marks out the stretch to look at.
  await page.keyboard.down('Shift');
  await drag(page, { x: box.x + 240, y: box.y + 80 }, { x: box.x + 300, y: box.y + 80 });
  await page.keyboard.up('Shift');
  await untilExact(chart);
  await expect.poll(() => axisLabels(chart)).not.toEqual(whole);
  const marked = await axisLabels(chart);
  // Drawn anew: a part of a tenth of the run would have about a hundred of the columns that the whole was drawn with.
  await expect.poll(() => pointCount(chart)).toBeGreaterThan(300);

  // A drag on the axis moves the view along.
  const ground = await restingBox(chart.locator('.axis-grip'));
  await drag(page, { x: ground.x + 200, y: ground.y + 12 }, { x: ground.x + 80, y: ground.y + 12 });
  await untilExact(chart);
  const begin = async (): Promise<number> => Number((await axisLabels(chart))[0]);
  await expect.poll(begin).toBeGreaterThan(Number(marked[0]));

  // The frame of the overview is pulled back to where the run begins.
  const frame = await restingBox(cell.locator('tt-overview rect.frame'));
  await drag(
    page,
    { x: frame.x + frame.width / 2, y: frame.y + 10 },
    { x: frame.x + frame.width / 2 - 900, y: frame.y + 10 },
  );
  await untilExact(chart);
  await expect.poll(begin).toBeLessThan(50);

  await cell.getByRole('button', { name: 'whole run' }).click();
  await untilExact(chart);
  await expect.poll(() => axisLabels(chart)).toEqual(whole);
});

journey('a wheel zooms with Ctrl about the pointer, and without it scrolls the page', async ({ page }) => {
  const { chart } = await openTrace(page);
  const whole = await axisLabels(chart);
  const box = await restingBox(chart);
  await page.mouse.move(box.x + 400, box.y + 80);
  const scrolled = () => page.evaluate(() => window.scrollY);
  const before = await scrolled();

  await page.keyboard.down('Control');
  await page.mouse.wheel(0, -300);
  await page.keyboard.up('Control');
  await expect.poll(() => axisLabels(chart)).not.toEqual(whole);
  await expect.poll(() => scrolled()).toBe(before);

  const zoomed = await axisLabels(chart);
  await page.keyboard.down('Shift');
  await page.mouse.wheel(0, 200);
  await page.keyboard.up('Shift');
  await expect.poll(() => axisLabels(chart)).not.toEqual(zoomed);
  await expect.poll(() => scrolled()).toBe(before);

  const moved = await axisLabels(chart);
  await page.mouse.wheel(0, 120);
  await expect.poll(scrolled).toBeGreaterThan(before);
  await expect.poll(() => axisLabels(chart)).toEqual(moved);
});

journey('a trace is zoomed, moved and read by keyboard alone', async ({ page }) => {
  const { cell, chart } = await openTrace(page);
  const whole = await axisLabels(chart);
  await page.mouse.move(0, 0);
  await chart.press('Home');
  await chart.press('PageDown');
  for (let step = 0; step < 24; step += 1) await chart.press('+');
  await untilExact(chart);
  // 1.6 ^ 24 is about 79 000: 2 s become some 25 µs around the first axle, at 100 ms.
  const begin = async (): Promise<number> => Number((await axisLabels(chart))[0]);
  const span = async (): Promise<number> => Number((await axisLabels(chart)).at(-1)) - (await begin());
  await expect.poll(span).toBeLessThan(0.03);
  await expect.poll(async () => Math.abs((await begin()) - 100)).toBeLessThan(0.03);
  const labels = await axisLabels(chart);
  const [first, narrow] = [await begin(), await span()];
  // The hint that names these keys is there for those who use them.
  await expect.poll(() => chart.locator('.hint').isVisible()).toBe(true);

  // The capacitor begins to charge at the pulse: seen as a ramp, though the whole 25 µs lie within a column of the run.
  for (let step = 0; step < 60; step += 1) await chart.press('ArrowRight');
  await untilExact(chart);
  await expect.poll(() => chart.getAttribute('aria-valuetext')).toMatch(/^100\.00\d+.ms: .*timing \d[\d.]+.[mµ]?V/u);

  await chart.press('.');
  await untilExact(chart);
  await expect.poll(begin).toBeGreaterThan(first);
  await chart.press(',');
  await untilExact(chart);
  await expect.poll(() => axisLabels(chart)).toEqual(labels);
  await chart.press('-');
  await untilExact(chart);
  await expect.poll(span).toBeGreaterThan(narrow);

  // Moving the cursor out of the view takes the view along.
  await chart.press('PageDown');
  await untilExact(chart);
  await expect.poll(() => chart.locator('line.cursor').count()).toBe(1);

  // The tools are one stop of the tab key, with arrow keys from one to the next.
  await page.keyboard.press('Tab');
  for (let step = 0; step < 4; step += 1) await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await untilExact(chart);
  await expect.poll(() => axisLabels(chart)).toEqual(whole);
  await page.keyboard.press('Tab');
  await expect.poll(() => cell.locator('tt-lane-tools button:focus').count()).toBe(0);
});

journey('two fingers pull a trace apart', async ({ browser, address }) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, locale: 'en-US' });
  const page = await context.newPage();
  await page.goto(address);
  const { chart } = await openTrace(page);
  const whole = await axisLabels(chart);
  const box = await restingBox(chart);
  const session = await context.newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', xs: readonly number[]) =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: xs.map((x, id) => ({ x: box.x + x, y: box.y + 90, id })),
    });
  await touch('touchStart', [140]);
  await touch('touchStart', [140, 180]);
  for (const apart of [10, 20, 30, 40, 50]) await touch('touchMove', [140 - apart, 180 + apart]);
  await touch('touchEnd', []);
  await untilExact(chart);
  await expect.poll(() => axisLabels(chart)).not.toEqual(whole);
  await context.close();
});

journey('lanes are copied as CSV and as an SVG that needs nothing else', async ({ browser, address }) => {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    locale: 'en-US',
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  const page = await context.newPage();
  await page.goto(address);
  const { cell, chart } = await openTrace(page);
  for (let step = 0; step < 4; step += 1) await chart.press('+');
  await untilExact(chart);
  const clipboard = () => page.evaluate(() => navigator.clipboard.readText());

  await cell.getByRole('button', { name: 'copy as CSV' }).click();
  await cell.getByText(/^copied/).waitFor();
  const lines = (await clipboard()).trim().split(/\r?\n/);
  expect(lines[0]).toMatch(/^from_s,until_s,in_first_V,.*timing_low_V/);
  // What is looked at, not the whole run of 2 s: 2 s / 1.6^4 is about 305 ms.
  const from = Number(lines[1]?.split(',')[0]);
  const until = Number(lines.at(-1)?.split(',')[1]);
  expect(until - from).toBeCloseTo(2 / 1.6 ** 4, 6);

  await cell.getByRole('button', { name: 'copy as SVG' }).click();
  await expect.poll(clipboard).toContain('<svg');
  const svg = await clipboard();
  expect(svg).not.toMatch(/var\(|class=|<!--|https?:\/\/(?!www\.w3\.org\/)/);
  const drawn = await page.evaluate((text) => {
    const parsed = new DOMParser().parseFromString(text, 'image/svg+xml');
    const trace = parsed.querySelector('path[stroke-width="1.8px"]');
    return {
      wrong: parsed.querySelector('parsererror')?.textContent ?? '',
      title: parsed.querySelector('title')?.textContent ?? '',
      stroke: trace?.getAttribute('stroke') ?? '',
      words: [...parsed.querySelectorAll('text')].map(({ textContent }) => textContent?.replace(/\s+/g, ' ').trim()),
    };
  }, svg);
  expect(drawn.wrong).toBe('');
  expect(drawn.title).toBe('in, timing, out of coaches over time');
  expect(drawn.stroke).toMatch(/^rgb/);
  // What the marks of pulses mean comes along.
  expect(drawn.words).toContain('started an interval');
  await context.close();
});

journey('where copying is refused, the text stands there to be copied by hand', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'clipboard', {
      value: { writeText: () => Promise.reject(new Error('not allowed')) },
    });
  });
  await page.reload();
  const { cell } = await openTrace(page);
  await cell.getByRole('button', { name: 'copy as CSV' }).click();
  const text = cell.getByRole('textbox', { name: 'text to copy' });
  await expect.poll(() => text.inputValue()).toContain('timing_high_V');
});

journey('in a run of a thousand swings the cursor still reads one exact value', async ({ page }) => {
  const document = {
    format: 'two-thirds',
    version: 1,
    title: 'Long run',
    boards: { lamp: { ready: 'astable', values: { 'U1.family': 'ideal' } } },
    page: [{ id: 'look', kind: 'trace', board: 'lamp', until: '2000 s', show: ['timing', 'out'] }],
  };
  await openDocument(page, document);
  const cell = page.locator('tt-cell#look');
  const chart = cell.getByRole('slider');
  await chart.focus();
  await chart.press('End');
  for (let step = 0; step < 7; step += 1) await chart.press('Shift+ArrowLeft');
  await untilExact(chart);
  const words = () => chart.getAttribute('aria-valuetext');
  // Seven steps of a fortieth of 2000 s before the end.
  await expect.poll(words).toMatch(/^1650.s: timing \d[\d.]*.m?V, out \d[\d.]*.m?V/u);
  await expect.poll(words).not.toContain('…');
  // A long run shows its overview at once.
  await expect.poll(() => cell.locator('tt-overview svg').count()).toBe(1);
});

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  journey.for([1280, 390])(
    'a trace that is looked at in part has no fault that axe can find at %i px',
    async (width, { browser, address }) => {
      const context = await browser.newContext({ viewport: { width, height: 844 }, colorScheme, locale: 'en-US' });
      const page = await context.newPage();
      await page.goto(address);
      const { cell, chart } = await openTrace(page);
      for (let step = 0; step < 3; step += 1) await chart.press('+');
      await untilExact(chart);
      expect(await accessibilityFaults(page)).toEqual([]);
      await expect.poll(() => widthBeyond(page)).toBe(0);
      await expect.poll(() => textOf(cell.locator('tt-lane-tools'))).toContain('whole run');
      await context.close();
    },
  );
});
