import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { RATES } from '#notebook/runtime/live-rate.ts';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { openExample, untilComputed } from './open-page.ts';

/** What a running trace looked like in one frame of the page. */
interface Frame {
  /** Page time (s). */
  readonly now: number;
  /** Every bar that ends before the columns that are being drawn, as text. */
  readonly bars: readonly string[];
  /** The axis of time, as text. */
  readonly axis: string;
  /** Everything that is drawn, as text. */
  readonly all: string;
}

const button = (page: Page, name: string) => page.locator('tt-hands-on').getByRole('button', { name, exact: true });
const trace = (page: Page) => page.locator('tt-running-trace svg');

async function choose(page: Page, rate: number): Promise<void> {
  await page.getByRole('slider', { name: 'how fast time passes' }).fill(String(RATES.indexOf(rate)));
}

/** Looks at the running trace frame by frame for some seconds of the page. */
async function watch(page: Page, seconds: number): Promise<Frame[]> {
  return trace(page).evaluate(async (svg, length) => {
    const frames: Frame[] = [];
    const start = performance.now();
    while (performance.now() - start < length * 1000) {
      const now = await new Promise<number>(requestAnimationFrame);
      // Bars that look the same are one path. The column that is being filled may turn from plain to crowded, and so join
      // the bar before it: columns are two pixels wide.
      const drawn = Number(svg.querySelector('.now')?.getAttribute('x1') ?? 0) - 4;
      const bars = [...svg.querySelectorAll('.bar')].flatMap((row) =>
        (row.getAttribute('d') ?? '').split('z').flatMap((d) => {
          const [, x, width] = /^M(\S+) \S+h(\S+)v/.exec(d) ?? [];
          const isDrawn = x !== undefined && Number(x) + Number(width) < drawn;
          return isDrawn ? [`${x} ${width} ${row.getAttribute('class')}`] : [];
        }),
      );
      frames.push({
        now: now / 1000,
        bars,
        axis: svg.querySelector('.axis')?.textContent?.replace(/\s+/g, ' ') ?? '',
        all: svg.innerHTML,
      });
    }
    return frames;
  }, seconds);
}

/** How often what had been drawn became something else, other than by the page going on. */
function changesOfThePast(frames: readonly Frame[]): number {
  return frames.filter((frame, index) => {
    const before = frames[index - 1];
    if (before === undefined || before.axis !== frame.axis) return false;
    return before.bars.some((bar) => !frame.bars.includes(bar));
  }).length;
}

journey(
  'the last stretch of a run by hand is drawn while time passes, and stands while it is held',
  async ({ page }) => {
    await openExample(page, 'Crossing flasher');
    await untilComputed(page);
    await expect.poll(() => trace(page).count()).toBe(0);
    await button(page, 'let time pass').click();
    await trace(page).locator('path.trace').first().waitFor();
    const now = async (): Promise<number> => Number(await trace(page).locator('.now').getAttribute('x1'));
    const early = await now();
    await expect.poll(now).toBeGreaterThan(early + 10);
    await trace(page).getByText('threshold limit', { exact: false }).first().waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    await button(page, 'hold').click();
    // A slice that was under way may still come in; then nothing moves.
    await expect.poll(async () => new Set((await watch(page, 0.5)).map(({ all }) => all)).size).toBe(1);
    await button(page, 'leave').click();
    await expect.poll(() => trace(page).count()).toBe(0);
  },
);

journey('what is drawn of a fast output never flickers: no bar changes once it is drawn', async ({ page }) => {
  await openExample(page, 'Crossing flasher');
  await untilComputed(page);
  await button(page, 'let time pass').click();
  for (const rate of [10, 1000]) {
    await choose(page, rate);
    await trace(page).locator('.bar').first().waitFor();
    const frames = await watch(page, 3);
    expect(new Set(frames.map(({ all }) => all)).size, `something is drawn at rate ${rate}`).toBeGreaterThan(3);
    expect(changesOfThePast(frames), `rate ${rate}`).toBe(0);
    // The page goes on by half now and then, three times a second at most.
    const turns = frames.filter(({ axis }, index) => index > 0 && frames[index - 1]?.axis !== axis);
    expect(turns.length, `rate ${rate}`).toBeLessThanOrEqual(3);
  }
});

journey('where motion is not wanted the trace goes on three times a second at most', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await openExample(page, 'Crossing flasher');
  await untilComputed(page);
  await button(page, 'let time pass').click();
  await trace(page).waitFor();
  const frames = await watch(page, 4);
  const changes = frames.filter(({ all }, index) => index > 0 && frames[index - 1]?.all !== all).map(({ now }) => now);
  expect(changes.length).toBeGreaterThan(1);
  for (const from of changes) {
    expect(changes.filter((time) => time >= from && time < from + 1).length).toBeLessThanOrEqual(3);
  }
});

journey(
  'a contact has a lane of its own while a board runs by hand: closed for as long as the button is held',
  async ({ page }) => {
    await openExample(page, 'Points motor');
    await untilComputed(page);
    await button(page, 'let time pass').click();
    await trace(page).getByText('contact of S1').waitFor();
    await trace(page).getByText('contact of K1').waitFor();
    const bands = () => trace(page).locator('.contact .bar').count();
    const before = await bands();
    const press = button(page, 'press S1');
    await press.focus();
    await page.keyboard.down('Space');
    await expect.poll(bands).toBeGreaterThan(before);
    await page.keyboard.up('Space');
    expect(await accessibilityFaults(page)).toEqual([]);
  },
);
