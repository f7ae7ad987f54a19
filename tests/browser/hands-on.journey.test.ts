import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { RATES, REAL_TIME } from '#notebook/runtime/live-rate.ts';
import { CEILING } from '#notebook/sound/listening.ts';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { accessibilityFaults } from './accessible.ts';
import { openExample, restingBox, standing, textOf, untilComputed } from './open-page.ts';

const strip = (page: Page) => page.locator('tt-hands-on');
const button = (page: Page, name: string) => strip(page).getByRole('button', { name, exact: true });
/** The sentence about what happened. */
const words = (page: Page) => strip(page).getByRole('status');

/** The seconds that a text such as `451 ms` begins with. */
function secondsIn(text: string): number {
  const [number = '', unit = ''] = text.split(/\s/u);
  return Number(number) * ({ s: 1, ms: 1e-3, µs: 1e-6, ns: 1e-9 }[unit] ?? NaN);
}

/** The time that has passed in the circuit (s). */
async function timeThere(page: Page): Promise<number> {
  return secondsIn(await textOf(strip(page).locator('.time')));
}

/** Chooses how many seconds pass in the circuit for one here. */
async function choose(page: Page, rate: number): Promise<void> {
  const slider = strip(page).getByRole('slider', { name: 'how fast time passes' });
  await slider.fill(String(RATES.indexOf(rate)));
}

/** How bright every lamp of the drawing is, frame by frame, for some seconds of the page. */
async function watchLamps(page: Page, seconds: number): Promise<{ now: number; light: number }[][]> {
  return page.evaluate(async (length) => {
    const deep = (root: ParentNode, selector: string): Element[] => [
      ...root.querySelectorAll(selector),
      ...[...root.querySelectorAll('*')].flatMap((each) => (each.shadowRoot ? deep(each.shadowRoot, selector) : [])),
    ];
    const drawing = deep(document, 'tt-drawing')[0]?.shadowRoot;
    const lamps = [...(drawing?.querySelectorAll('.symbol') ?? [])].filter((each) =>
      /^D/.test(each.getAttribute('data-part') ?? ''),
    );
    const seen: { now: number; light: number }[][] = lamps.map(() => []);
    const start = performance.now();
    while (performance.now() - start < length * 1000) {
      await new Promise(requestAnimationFrame);
      lamps.forEach((lamp, index) => {
        const light = Number(lamp.querySelector('.glow')?.getAttribute('opacity') ?? 0);
        seen[index]?.push({ now: performance.now() / 1000, light });
      });
    }
    return seen;
  }, seconds);
}

/** The most turns from brighter to darker or back within any second; two are a flash. */
function mostTurns(frames: readonly { now: number; light: number }[]): number {
  const turns: number[] = [];
  let direction = 0;
  frames.forEach(({ now, light }, index) => {
    const change = Math.sign(light - (frames[index - 1]?.light ?? light));
    if (change === 0 || change === direction) return;
    turns.push(now);
    direction = change;
  });
  return Math.max(0, ...turns.map((from) => turns.filter((time) => time >= from && time < from + 1).length));
}

async function openBoard(page: Page, title: string): Promise<void> {
  await openExample(page, title);
  await untilComputed(page);
}

/** Time of a run that was held, once it stands: on a busy machine it shows its last stretch a moment after the press. */
async function standingTime(page: Page): Promise<number> {
  return standing(() => timeThere(page));
}

journey(
  'time passes as fast as here, is held, and goes to the end of the interval that a press began',
  async ({ page }) => {
    await openBoard(page, 'Platform lamp');
    const begun = performance.now();
    await button(page, 'let time pass').click();
    await expect.poll(() => timeThere(page)).toBeGreaterThan(0.3);
    await button(page, 'hold').click();
    const here = (performance.now() - begun) / 1000;
    const held = await standingTime(page);
    // A busy machine may lose time, never gain it; a slice that was under way when it was held may still come in.
    expect(held).toBeLessThan(here + 0.2);
    await page.waitForTimeout(500);
    await expect.poll(() => timeThere(page)).toBe(held);

    await button(page, 'let time pass').click();
    const press = button(page, 'press S1');
    await press.hover();
    await page.mouse.down();
    let said = '';
    await expect
      .poll(async () => (said = await textOf(words(page))))
      .toMatch(/S1 is pressed; TRIGGER of U1 falls below its limit .* U1 starts an interval/);
    const started = secondsIn(/At (\d\S*\s[^\s,:;]+)/u.exec(said)?.[1] ?? '');
    await expect.poll(() => press.getAttribute('aria-pressed')).toBe('true');
    await page.mouse.up();
    await expect.poll(() => press.getAttribute('aria-pressed')).toBe('false');
    await expect.poll(() => textOf(words(page))).toMatch(/S1 is let go/);

    await button(page, 'next event').click();
    await expect
      .poll(() => textOf(words(page)))
      .toMatch(/THRESHOLD of U1 reaches its limit of 8.00 V; the interval of U1 ends/);
    // R C ln 3 with 390 kΩ and 47 µF, and a little more for what the bipolar timer itself takes.
    const width = async (): Promise<number> => (await timeThere(page)) - started;
    await expect.poll(async () => (await width()) / (390e3 * 47e-6 * Math.log(3))).toBeGreaterThan(0.995);
    await expect.poll(async () => (await width()) / (390e3 * 47e-6 * Math.log(3))).toBeLessThan(1.02);

    await button(page, 'leave').click();
    await expect.poll(() => strip(page).locator('.time').count()).toBe(0);
  },
);

journey('parts are pressed with a key, and in the drawing, while they are held', async ({ page }) => {
  await openBoard(page, 'Platform lamp');
  await button(page, 'let time pass').click();
  const press = button(page, 'press S1');
  await press.focus();
  await page.keyboard.down('Space');
  await expect.poll(() => press.getAttribute('aria-pressed')).toBe('true');
  await page.waitForTimeout(300);
  await expect.poll(() => press.getAttribute('aria-pressed')).toBe('true');
  await page.keyboard.up('Space');
  await expect.poll(() => press.getAttribute('aria-pressed')).toBe('false');
  // The lamp lights by its current.
  await expect.poll(() => page.locator('tt-drawing .glow').count()).toBe(1);

  // A click is over before the next frame; in the circuit it lasts a frame all the same.
  await button(page, 'from the start').click();
  await expect.poll(() => page.locator('tt-drawing .glow').count()).toBe(0);
  await button(page, 'let time pass').click();
  await press.click();
  await expect.poll(() => page.locator('tt-drawing .glow').count()).toBe(1);

  await button(page, 'from the start').click();
  await expect.poll(() => page.locator('tt-drawing .glow').count()).toBe(0);
  await button(page, 'let time pass').click();
  const symbol = page.locator('tt-drawing .symbol[data-part="S1"] .hit');
  await symbol.hover();
  await page.mouse.down();
  await expect.poll(() => press.getAttribute('aria-pressed')).toBe('true');
  await page.mouse.up();
  await expect.poll(() => press.getAttribute('aria-pressed')).toBe('false');
  await expect.poll(() => page.locator('tt-drawing .glow').count()).toBe(1);
});

journey('on a phone a finger on the drawing presses for as long as it stays', async ({ browser, address }) => {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, locale: 'en-US' });
  const page = await context.newPage();
  await page.goto(address);
  await openBoard(page, 'Platform lamp');
  await page.getByRole('button', { name: 'show the circuit in hand' }).tap();
  await button(page, 'let time pass').tap();
  await button(page, 'press S1').waitFor();
  const hit = page.locator('tt-drawing .symbol[data-part="S1"] .hit');
  const box = await restingBox(hit);
  const finger = await context.newCDPSession(page);
  const touchPoints = [{ x: box.x + box.width / 2, y: box.y + box.height / 2 }];
  await finger.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints });
  await expect.poll(() => button(page, 'press S1').getAttribute('aria-pressed')).toBe('true');
  await page.waitForTimeout(700);
  await expect.poll(() => button(page, 'press S1').getAttribute('aria-pressed')).toBe('true');
  await finger.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await expect.poll(() => button(page, 'press S1').getAttribute('aria-pressed')).toBe('false');
  await expect.poll(() => page.locator('tt-drawing .glow').count()).toBe(1);
  // Whatever has moved below the finger meanwhile is not clicked when it lifts.
  await expect.poll(() => page.getByRole('dialog').count()).toBe(0);
  await context.close();
});

journey(
  'where nothing happens by itself the next event says so, and a knob changes the run without ending it',
  async ({ page }) => {
    await openBoard(page, 'Platform lamp');
    await button(page, 'next event').click();
    await expect.poll(() => textOf(words(page))).toMatch(/nothing happens by itself for a year. Work S1/);
    await button(page, 'let time pass').click();
    const press = button(page, 'press S1');
    await press.focus();
    await page.keyboard.press('Enter', { delay: 100 });
    const timing = () => textOf(page.locator('tt-circuit dl').first());
    await expect.poll(timing).toMatch(/interval runs/);
    await button(page, 'hold').click();
    const time = await standingTime(page);
    await expect.poll(timing).toMatch(/interval runs/);
    const before = /threshold (\S+)/.exec(await standing(timing))?.[1];
    const knob = page.getByRole('slider', { name: 'R1 resistance' });
    await knob.focus();
    for (let turn = 0; turn < 6; turn += 1) await knob.press('ArrowRight');
    await untilComputed(page);
    await page.waitForTimeout(500);
    await expect.poll(() => timeThere(page)).toBe(time);
    // The capacitor keeps its voltage.
    await expect.poll(async () => /threshold (\S+)/.exec(await timing())?.[1]).toBe(before);
    await button(page, 'next event').click();
    // Six steps of E24 up from 390 kΩ: 680 kΩ, and the rest of the interval is longer by as much.
    await expect.poll(() => timeThere(page)).toBeGreaterThan(25);
  },
);

describe.each([1, 5, 20, 1000])('at %d seconds a second', (rate) => {
  // The flasher goes at about 1 Hz. WCAG 2.2, success criterion 2.3.1: no more than three flashes in any second.
  journey('no lamp flashes more than three times in any second', async ({ page }) => {
    await openBoard(page, 'Crossing flasher');
    await choose(page, rate);
    await button(page, 'let time pass').click();
    const lamps = await watchLamps(page, 5);
    expect(lamps).toHaveLength(2);
    for (const frames of lamps) {
      expect(frames.some(({ light }) => light > 0)).toBe(true);
      expect(mostTurns(frames)).toBeLessThan(7);
    }
    const drawing = () => textOf(page.locator('tt-drawing').first());
    if (rate === 1) {
      expect(Math.min(...lamps.map(mostTurns))).toBeGreaterThan(0);
      await expect.poll(drawing).not.toMatch(/Hz/);
    }
    if (rate === 1000) {
      await expect.poll(() => textOf(strip(page))).toMatch(/D1 \(.*Hz\), D2 \(.*Hz\) are shown in steady mean light/);
      // The frequency in the circuit, not that of the page: 1.44 / ((R1 + 2 R2) C1) is 0.99 Hz.
      await expect.poll(drawing).toMatch(/9\d\d mHz|1\.0\d Hz/u);
    }
  });
});

journey(
  'with reduced motion slow lamps stand steady too, until flashes are asked for',
  async ({ browser, address }) => {
    const context = await browser.newContext({ reducedMotion: 'reduce', locale: 'en-US' });
    const page = await context.newPage();
    await page.goto(address);
    await openBoard(page, 'Crossing flasher');
    // At 1 Hz each the two lamps together stay below three flashes a second.
    await choose(page, 1);
    await button(page, 'let time pass').click();
    const turns = async (): Promise<number> => Math.max(...(await watchLamps(page, 2)).map(mostTurns));
    await expect.poll(turns, { timeout: 20_000 * patience }).toBeLessThan(2);
    await strip(page).getByRole('checkbox', { name: 'show slow lamps flashing' }).check();
    await expect.poll(turns, { timeout: 20_000 * patience }).toBeGreaterThan(1);
    await context.close();
  },
);

journey('a circuit that is too fast for the rate falls behind, says so, and the page stays quick', async ({ page }) => {
  await openBoard(page, 'Crossing flasher');
  const value = page.locator('tt-cell#board').getByLabel('C1 capacitance', { exact: true });
  await value.fill('1 nF');
  await value.press('Enter');
  await untilComputed(page);
  await choose(page, 1000);
  await button(page, 'let time pass').click();
  await expect
    .poll(() => textOf(strip(page)), { timeout: 15_000 * patience })
    .toMatch(/Slower than asked: 1 s here is \S+ m?s there/u);
  // A click is answered at once, however much there was to compute.
  const start = Date.now();
  await button(page, 'hold').click();
  await button(page, 'let time pass').waitFor();
  expect(Date.now() - start).toBeLessThan(2000 * patience);
  // A slice that was under way may still come in; then time stands still.
  await standingTime(page);
});

journey('what happens is said at most once a second', async ({ page }) => {
  await openBoard(page, 'Crossing flasher');
  await choose(page, 5);
  await button(page, 'let time pass').click();
  const said = await words(page).evaluate(async (element) => {
    const times: number[] = [];
    // The time of the frame that it is said in: a busy machine may come to it late.
    const observer = new MutationObserver(() => times.push(Number(document.timeline.currentTime)));
    observer.observe(element, { childList: true, characterData: true, subtree: true });
    await new Promise((resolve) => setTimeout(resolve, 4500));
    observer.disconnect();
    return times;
  });
  expect(said.length).toBeGreaterThan(1);
  // A frame of tolerance.
  for (const [index, time] of said.entries()) expect(time - (said[index - 1] ?? -Infinity)).toBeGreaterThan(950);
});

journey('sound comes up softly, stays below its ceiling, and ends when the page is hidden', async ({ page }) => {
  await openBoard(page, 'Crossing flasher');
  // The page's sound goes into a context that renders it to samples instead of to a loudspeaker.
  await page.evaluate(() => {
    const sounds: OfflineAudioContext[] = [];
    class Rendered extends OfflineAudioContext {
      constructor() {
        super(1, 4 * 48_000, 48_000);
        sounds.push(this);
      }
      override resume = () => Promise.resolve();
      close = () => Promise.resolve();
    }
    Object.assign(window, { AudioContext: Rendered, sounds });
  });
  // 10 µF gives about 1 Hz, so 22 nF gives about 450 Hz.
  const value = page.locator('tt-cell#board').getByLabel('C1 capacitance', { exact: true });
  await value.fill('22 nF');
  await value.press('Enter');
  await untilComputed(page);
  await button(page, 'let time pass').click();
  const listen = strip(page).getByRole('button', { name: 'listen to U1' });
  await listen.click();
  await page.waitForTimeout(3000);
  await expect.poll(() => textOf(strip(page))).toMatch(/\d{3} Hz/u);
  await expect.poll(() => textOf(strip(page))).toMatch(/Headphones/);
  const heard = await page.evaluate(async () => {
    const { sounds } = window as unknown as { sounds: OfflineAudioContext[] };
    const buffer = await sounds[0]?.startRendering();
    const samples = buffer?.getChannelData(0) ?? new Float32Array();
    const peak = (from: number, until: number): number =>
      samples.slice(from * 48_000, until * 48_000).reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
    return { whole: peak(0, 4), early: peak(0, 0.25), later: peak(1, 1.5), count: sounds.length };
  });
  expect(heard.count).toBe(1);
  expect(heard.whole).toBeLessThanOrEqual(CEILING * 1.000_001);
  expect(heard.later).toBeGreaterThan(CEILING / 5);
  expect(heard.early).toBeLessThan(heard.later / 3);

  await page.evaluate(() => {
    Object.defineProperty(document, 'hidden', { value: true });
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await expect.poll(() => listen.getAttribute('aria-pressed')).toBe('false');
});

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  journey('a run by hand has no fault that axe can find', async ({ browser, address }) => {
    const context = await browser.newContext({ colorScheme, locale: 'en-US', viewport: { width: 1440, height: 900 } });
    const page = await context.newPage();
    await page.goto(address);
    await openBoard(page, 'Touch bell');
    await button(page, 'let time pass').click();
    const touch = button(page, 'touch F1');
    await touch.focus();
    await page.keyboard.down('Enter');
    await expect.poll(() => textOf(words(page))).toMatch(/F1 touches the plate/);
    await strip(page).getByRole('button', { name: 'listen to U1' }).click();
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.keyboard.up('Enter');
    await context.close();
  });
});

journey('real time is what a run begins with', async ({ page }) => {
  await openBoard(page, 'Crossing flasher');
  const slider = strip(page).getByRole('slider', { name: 'how fast time passes' });
  await expect.poll(() => slider.inputValue()).toBe(String(REAL_TIME));
  const rate = async () => (await slider.getAttribute('aria-valuetext'))?.replaceAll('\u202f', ' ');
  await expect.poll(rate).toBe('1 s here is 1 s there');
  await choose(page, 1e-3);
  await expect.poll(rate).toBe('1 s here is 1 ms there');
});
