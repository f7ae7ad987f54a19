import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { holdWorkers, tellWorkers } from './held-workers.ts';
import { openExample, restingBox, standing, untilComputed } from './open-page.ts';

/** The middle of something that stands still. */
async function middleOf(locator: Locator): Promise<{ x: number; y: number }> {
  const { x, y, width, height } = await restingBox(locator);
  return { x: x + width / 2, y: y + height / 2 };
}

/** Goes down on a button of a page at rest, and moves the page down, as a result does that comes in above it. */
async function goDownAndMove(page: Page): Promise<{ cell: Locator; look: Locator; x: number; y: number }> {
  await openExample(page, 'Axle counter');
  await untilComputed(page);
  const cell = page.locator('tt-cell#look');
  const look = cell.getByRole('button', { name: 'look without a prediction' });
  const { x, y } = await middleOf(look);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await cell.evaluate((element) => (element.style.translate = '0 200px'));
  return { cell, look, x, y };
}

journey('a button is pressed where it went down, though the page moves before the hand goes up', async ({ page }) => {
  const { cell, look } = await goDownAndMove(page);
  await page.mouse.up();
  await look.waitFor({ state: 'detached' });
  await cell.locator('tt-trace').waitFor();
});

journey('whoever takes the hand away before it goes up has not pressed, though the page moves', async ({ page }) => {
  const { look, x, y } = await goDownAndMove(page);
  await page.mouse.move(x, y - 60);
  await page.mouse.up();
  const left = await standing(() => look.count());
  expect(left).toBe(1);
});

journey('a finger presses what it went down on, not what has come under it meanwhile', async ({ browser, address }) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, locale: 'en-US' });
  const page = await context.newPage();
  await page.goto(address);
  await openExample(page, 'Axle counter');
  await untilComputed(page);
  const cell = page.locator('tt-cell#look');
  const look = cell.getByRole('button', { name: 'look without a prediction' });
  const point = await middleOf(look);
  const fingers = await context.newCDPSession(page);
  await fingers.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [point] });
  // The field in which the prediction is written comes to stand where the button was.
  const field = cell.getByRole('textbox');
  const { y = 0, height = 0 } = (await field.boundingBox()) ?? {};
  await cell.evaluate((element, room) => (element.style.translate = `0 ${room}px`), point.y - y - height / 2);
  await fingers.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await cell.locator('tt-trace').waitFor();
  await context.close();
});

journey.for(['Axle counter', 'Points motor'])(
  'the first results of %s come in under a hand that looks at another: it has pressed',
  async (title, { page }) => {
    await holdWorkers(page);
    await openExample(page, title);
    await page.getByText('waits until the engine has started').first().waitFor();
    const cell = page.locator('tt-cell#look');
    const { x, y } = await middleOf(cell.getByRole('button', { name: 'look without a prediction' }));
    await page.mouse.move(x, y);
    await page.mouse.down();
    await tellWorkers(page, 'release');
    await untilComputed(page);
    await page.mouse.up();
    await cell.locator('tt-trace').waitFor();
  },
);

journey.for([1280, 820])('the first results move nothing of a page that is read, at %i px', async (width, { page }) => {
  await page.setViewportSize({ width, height: 800 });
  await holdWorkers(page);
  await openExample(page, 'Platform lamp');
  const look = page.locator('tt-cell#look').getByRole('button', { name: 'look without a prediction' });
  /** Where it stands on the page, wherever that is scrolled to. */
  const place = () => look.evaluate((button) => Math.round(button.getBoundingClientRect().top + window.scrollY));
  await page.getByText('waits until the engine has started').first().waitFor();
  const before = await standing(place);
  await tellWorkers(page, 'release');
  await untilComputed(page);
  const after = await standing(place);
  expect(after - before).toBe(0);
});
