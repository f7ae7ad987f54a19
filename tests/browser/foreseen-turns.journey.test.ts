import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { openThousandPulses } from './knob-turn.ts';
import { untilComputed, untilKept } from './open-page.ts';

/** What the trace of `look` shows, as text. */
async function shownTrace(page: Page): Promise<string> {
  return page
    .locator('tt-cell#look tt-trace')
    .evaluate((element) => JSON.stringify((element as HTMLElement & { trace: unknown }).trace));
}

/**
 * Turns the knob in the focus by keys such as `Shift+ArrowRight`, one right after the other; tells whether the trace of `look` is another one then,
 * before anything else could happen.
 */
async function followsAtOnce(page: Page, ...keys: string[]): Promise<boolean> {
  return page.locator('tt-cell#look tt-trace').evaluate(async (element, pressed) => {
    const trace = element as HTMLElement & { readonly trace: unknown };
    let knob = document.activeElement;
    while (knob?.shadowRoot?.activeElement) knob = knob.shadowRoot.activeElement;
    const before = trace.trace;
    for (const key of pressed) {
      const [last = '', shiftKey] = [key.split('+').at(-1), key.startsWith('Shift+')];
      const event = { key: last, shiftKey, bubbles: true, composed: true, cancelable: true };
      knob?.dispatchEvent(new KeyboardEvent('keydown', event));
      // The elements that a turn goes through are drawn one after the other; no worker is heard meanwhile.
      for (let step = 0; step < 100; step += 1) await Promise.resolve();
    }
    return trace.trace !== before;
  }, keys);
}

/**
 * Lets the clock of the page go slowly: whether anything is foreseen depends on how soon results come (ms), which is for
 * the journeys of speed to judge; here the page is quick on every machine.
 */
async function slowClock(page: Page): Promise<void> {
  await page.evaluate(() => {
    const now = performance.now.bind(performance);
    const start = now();
    performance.now = () => start + (now() - start) / 50;
  });
}

/** Turns until one is followed at once: what comes next is foreseen as soon as a worker has time for it. */
async function turnUntilForeseen(page: Page, key: string): Promise<void> {
  await expect
    .poll(
      async () => {
        await untilComputed(page);
        await page.waitForTimeout(300);
        return followsAtOnce(page, key);
      },
      { timeout: 60_000 * patience },
    )
    .toBe(true);
  await untilComputed(page);
}

journey(
  'a knob that is turned on finds its trace ready, and it is the one that the new value gives',
  { timeout: 120_000 * patience },
  async ({ page }) => {
    await slowClock(page);
    await openThousandPulses(page);
    // Nobody has turned yet: nothing is foreseen.
    const isForeseenUnturned = await followsAtOnce(page, 'ArrowRight');
    expect(isForeseenUnturned).toBe(false);
    await turnUntilForeseen(page, 'ArrowRight');
    const foreseen = await shownTrace(page);
    await page.waitForTimeout(300);
    const isBackKnown = await followsAtOnce(page, 'ArrowLeft');
    expect(isBackKnown, 'the way back is known').toBe(true);
    await untilComputed(page);
    const back = await shownTrace(page);
    expect(back).not.toBe(foreseen);
    const isOnKnown = await followsAtOnce(page, 'ArrowRight');
    expect(isOnKnown).toBe(true);
    await untilComputed(page);
    await expect.poll(() => shownTrace(page)).toBe(foreseen);
    // Opened anew, all of the page is computed from what is kept of it.
    await untilKept(page);
    await page.reload();
    await page.locator('tt-cell#look tt-trace').waitFor();
    await untilComputed(page);
    await expect.poll(() => shownTrace(page)).toBe(foreseen);
  },
);

journey(
  'a knob that is turned on freely finds its trace ready as well',
  { timeout: 120_000 * patience },
  async ({ page }) => {
    await slowClock(page);
    await openThousandPulses(page);
    const isForeseenUnturned = await followsAtOnce(page, 'Shift+ArrowRight');
    expect(isForeseenUnturned).toBe(false);
    await turnUntilForeseen(page, 'Shift+ArrowRight');
    // One hundredth less than one hundredth more is not where the knob was.
    await turnUntilForeseen(page, 'Shift+ArrowLeft');
  },
);

journey(
  'a turn back to what is known is not overtaken by what was asked in between',
  { timeout: 120_000 * patience },
  async ({ page }) => {
    await openThousandPulses(page);
    const known = await shownTrace(page);
    for (let round = 0; round < 5; round += 1) {
      // Ten values up, which is not foreseen, and back before its trace can have come.
      const isAnother = await followsAtOnce(page, 'PageUp', 'PageDown');
      expect(isAnother).toBe(false);
      await untilComputed(page);
      await expect.poll(() => shownTrace(page)).toBe(known);
    }
  },
);
