import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { twoTracks } from '../support/two-tracks.ts';
import { keyOf, openThousandPulses, turnKnob } from './knob-turn.ts';
import { lookAtEverything, openDocument, openExample, untilComputed } from './open-page.ts';

/** Largest size of the script that must be there before anything shows (bytes, compressed). */
const SCRIPT_BUDGET = 250_000;
/** Most time that a turned knob may take until its trace is drawn, in units of {@link unit}. */
const TURN_BUDGET = 1.6;
/** Most elements that the lanes of a thousand pulses are drawn with, labels of the axes included. */
const ELEMENTS_BUDGET = 120;
/** Most that is sent to the page for a trace of a thousand pulses (characters, as JSON). */
const SENT_BUDGET = 450_000;
/** Most time until an example shows, in the same units: a second on a machine that has nothing else to do. */
const PAINT_BUDGET = 20;

/** The scripts that a page needs before anything shows: what it names, and what these import at once. */
async function firstScripts(address: string): Promise<Map<string, string>> {
  const page = await (await fetch(address)).text();
  const found = new Map<string, string>();
  const open = [...page.matchAll(/(?:src|href)="([^"]+\.js)"/g)].map(([, path = '']) => new URL(path, address).href);
  for (let url = open.pop(); url !== undefined; url = open.pop()) {
    if (found.has(url)) continue;
    const text = await (await fetch(url)).text();
    found.set(url, text);
    const base = url;
    const imports = text.matchAll(/(?:\bfrom|\bimport)\s*["'](\.[^"']+\.js)["']/g);
    open.push(...[...imports].map(([, path = '']) => new URL(path, base).href));
  }
  return found;
}

/**
 * How long a fixed piece of computing takes on the page now (ms): about 50 ms on a machine of today. Times of the page are
 * compared with it, so that they mean the same on a busy machine; it is as long as they are, for what is short is not
 * held up by others.
 */
async function unit(page: Page): Promise<number> {
  return page.evaluate(() => {
    const start = performance.now();
    let sum = 0;
    for (let step = 0; step < 8_000_000; step += 1) sum += Math.exp(-step * 1e-6);
    return sum > 0 ? performance.now() - start : NaN;
  });
}

function middle(numbers: readonly number[]): number {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? NaN;
}

journey('what has to be fetched before anything shows is at most 250 kB', async ({ address }) => {
  const scripts = await firstScripts(address);
  const sizes = [...scripts].map(([url, text]) => [url.slice(address.length), gzipSync(text, { level: 9 }).length]);
  const whole = sizes.reduce((sum, [, size]) => sum + Number(size), 0);
  // The number must not be small because nothing was found.
  expect(whole).toBeGreaterThan(50_000);
  expect(whole, JSON.stringify(sizes)).toBeLessThanOrEqual(SCRIPT_BUDGET);
});

journey('an example shows soon after it is opened', async ({ browser, address }) => {
  const [times, units]: [number[], number[]] = [[], []];
  for (let visit = 0; visit < 5; visit += 1) {
    // Nothing is known of the page from before.
    const context = await browser.newContext({ locale: 'en-US', viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    await page.goto(`${address}#axle-counter`);
    times.push(
      await page.evaluate(async () => {
        const shown = (): Element | null | undefined =>
          document
            .querySelector('tt-app')
            ?.shadowRoot?.querySelector('tt-notebook')
            ?.shadowRoot?.querySelector('tt-cell');
        while (!shown()) await new Promise(requestAnimationFrame);
        return performance.now();
      }),
    );
    units.push(await unit(page));
    await context.close();
  }
  const words = `${times.map(Math.round).join(' ')} ms, in units of ${middle(units).toFixed(1)} ms`;
  expect(middle(times) / middle(units), words).toBeLessThan(PAINT_BUDGET);
});

journey(
  'a knob is turned, and the trace of a thousand pulses follows at once',
  { timeout: 120_000 * patience },
  async ({ page }) => {
    await openThousandPulses(page);
    const look = page.locator('tt-cell#look');
    const [times, units]: [number[], number[]] = [[], []];
    for (let turn = 0; turn < 15; turn += 1) {
      units.push(await unit(page));
      times.push((await turnKnob(page, keyOf(turn))).drawn);
      await untilComputed(page);
    }
    // However many pulses there are, a row of marks is a few elements, and what is not read is not sent.
    const drawn = await look.locator('tt-trace').evaluate((element) => ({
      elements: element.shadowRoot?.querySelectorAll('svg.lanes *').length ?? NaN,
      sent: JSON.stringify((element as HTMLElement & { trace: unknown }).trace).length,
    }));
    expect(drawn.elements).toBeGreaterThan(20);
    expect(drawn.elements).toBeLessThan(ELEMENTS_BUDGET);
    expect(drawn.sent).toBeLessThan(SENT_BUDGET);
    const words = `${times.map(Math.round).join(' ')} ms, in units of ${units.map((each) => each.toFixed(1)).join(' ')} ms`;
    expect(middle(times) / middle(units), words).toBeLessThan(TURN_BUDGET);
  },
);

journey(
  'a knob draws itself, its traces and its readings; everything else comes after them, once',
  { timeout: 120_000 * patience },
  async ({ page }) => {
    await openThousandPulses(page);
    await page.evaluate(lengthenPauses, SLOWER);
    await page.evaluate(countDraws);
    const draws = (): Promise<Draws> => page.evaluate(() => (window as unknown as { draws: Draws }).draws);
    let inTime = 0;
    // On a busy machine most may be late: then there are more of them.
    for (let turn = 0; turn < 12 || (inTime === 0 && turn < 60); turn += 1) {
      await page.evaluate(() =>
        Object.assign(window, { draws: { before: {}, after: {}, asked: 0, isPainted: false } }),
      );
      const { painted } = await turnKnob(page, keyOf(turn));
      await untilComputed(page);
      // The exact values at the cursor come last, from a worker of their own.
      await expect.poll(async () => (await draws()).after['tt-trace'] ?? 0).toBeGreaterThan(0);
      const { before, after, asked } = await draws();
      const words = JSON.stringify({ painted, before, after });
      // The trace with the new values, once it is painted the values at the cursor, and never in between.
      expect(before['tt-trace'], words).toBe(1);
      expect(after['tt-trace'], words).toBe(1);
      // Whatever is put off is drawn all the same.
      for (const name of PUT_OFF)
        expect((before[name] ?? 0) + (after[name] ?? 0), `${name} ${words}`).toBeGreaterThan(0);
      // On a machine that is too busy what is put off has its turn after a while, whatever else has to come.
      if (painted > PATIENCE) continue;
      inTime += 1;
      for (const name of PUT_OFF) expect(before[name] ?? 0, `${name} ${words}`).toBe(0);
      expect(before['tt-notebook'], words).toBeLessThanOrEqual(2);
      expect(before['tt-knob'], words).toBe(1);
      expect(asked, words).toBe(1);
    }
    expect(inTime).toBeGreaterThan(0);
  },
);

/** What a knob leaves until its traces are painted. */
const PUT_OFF = [
  'tt-note',
  'tt-fates',
  'tt-board',
  'tt-formula',
  'tt-circuit',
  'tt-what-if',
  'tt-go-on',
  'tt-overview',
];
/** How many times as long the pauses of the page are where only the order of its drawings is judged. */
const SLOWER = 20;
/** Less than what is put off waits at most then (ms). */
const PATIENCE = 120 * SLOWER;

/** To be run in the page: makes all its pauses longer, so that it is quick beside them on a busy machine too. */
function lengthenPauses(times: number): void {
  const [wait, idle] = [window.setTimeout.bind(window), window.requestIdleCallback.bind(window)];
  const lengthened = (call: () => void, pause = 0): number => Number(wait(call, pause * times));
  Object.assign(window, {
    setTimeout: lengthened,
    requestIdleCallback: (call: IdleRequestCallback, { timeout = 0 } = {}) => idle(call, { timeout: timeout * times }),
  });
}

/** How often elements were drawn by name, before a trace was painted and after, and the messages to workers before it was drawn. */
interface Draws {
  readonly before: Record<string, number>;
  readonly after: Record<string, number>;
  asked: number;
  isPainted: boolean;
}

/** To be run in the page: counts from now on how often elements of each name are drawn. */
function countDraws(): void {
  const counted = window as unknown as { draws: Draws };
  const isTraced = (): boolean => counted.draws.before['tt-trace'] !== undefined;
  // The class of lit that draws all elements; what is put off does not get as far as its `update`.
  let reactive = customElements.get('tt-app')?.prototype as {
    update: (this: HTMLElement, ...given: unknown[]) => void;
  };
  while (!Object.hasOwn(reactive, 'performUpdate')) reactive = Object.getPrototypeOf(reactive) as typeof reactive;
  const { update } = reactive;
  reactive.update = function (this: HTMLElement, ...given: unknown[]): void {
    const { draws } = counted;
    const side = draws.isPainted ? draws.after : draws.before;
    side[this.localName] = (side[this.localName] ?? 0) + 1;
    update.apply(this, given);
    if (this.localName !== 'tt-trace' || draws.isPainted) return;
    // It is painted with the next frame, and what is urgent is done right after that.
    requestAnimationFrame(() => void scheduler.postTask(() => (draws.isPainted = true), { priority: 'user-blocking' }));
  };
  const { postMessage } = Worker.prototype as { postMessage: (this: Worker, ...given: unknown[]) => void };
  Worker.prototype.postMessage = function (this: Worker, ...given: unknown[]): void {
    if (!isTraced()) counted.draws.asked += 1;
    Reflect.apply(postMessage, this, given);
  };
}

journey('a result that comes draws its own cell anew, and no other', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  await page.evaluate(() => {
    const notebook = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook');
    const drawn: Record<string, number> = {};
    for (const cell of notebook?.shadowRoot?.querySelectorAll('tt-cell') ?? []) {
      const host = cell as HTMLElement & { addController(controller: { hostUpdated(): void }): void };
      drawn[cell.id] = 0;
      host.addController({ hostUpdated: () => (drawn[cell.id] = (drawn[cell.id] ?? 0) + 1) });
    }
    Object.assign(window, { drawn });
  });
  await page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).first().focus();
  await page.getByRole('slider', { name: 'R1 resistance' }).focus();
  await page.keyboard.press('ArrowRight');
  const times = (): Promise<Record<string, number>> =>
    page.evaluate(() => (window as unknown as { drawn: Record<string, number> }).drawn);
  // Once with the new value, once more with what came of it.
  await expect.poll(async () => (await times())['look'], { timeout: 10_000 * patience }).toBeGreaterThan(1);
  await untilComputed(page);
  const drawn = await times();
  expect(Object.keys(drawn).length).toBeGreaterThan(20);
  // New values, that it comes from the values before, its result: more often no cell has anything new to say. Out of
  // sight, what comes until a cell's turn is drawn together.
  for (const [cell, count] of Object.entries(drawn)) expect(count, cell).toBeLessThanOrEqual(4);
  const all = Object.values(drawn).reduce((sum, count) => sum + count, 0);
  expect(all / Object.keys(drawn).length, JSON.stringify(drawn)).toBeLessThanOrEqual(2);
});

journey('the trace of ten million pulses that repeat themselves is there at once', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  const look = page.locator('tt-cell#look');
  await look.getByLabel('end of the window').fill('1500000 s');
  await look.getByLabel('end of the window').press('Enter');
  const shown = (): Promise<{ until: number; started: number }> =>
    look.locator('tt-trace').evaluate((element) => {
      const { trace } = element as HTMLElement & {
        trace: { until: number; timers: readonly { counts: { started: number } }[] };
      };
      return { until: trace.until, started: trace.timers[0]?.counts.started ?? NaN };
    });
  // One axle each 150 ms from 100 ms on, the last but one 150 ms before the end; every fourth starts a tick.
  await expect.poll(shown).toEqual({ until: 1_500_000, started: 2_500_000 });
  await untilComputed(page);
});

journey('a run of ten million pulses leaves the page fluent, and can be stopped', async ({ page }) => {
  await openDocument(page, twoTracks);
  const frames = (): Promise<number> =>
    page.evaluate(async () => {
      let count = 0;
      const start = performance.now();
      while (performance.now() - start < 1500) {
        await new Promise(requestAnimationFrame);
        count += 1;
      }
      return count;
    });
  const look = page.locator('tt-cell#look');
  const calm = await frames();
  await look.getByLabel('end of the window').fill('1500000 s');
  await look.getByLabel('end of the window').press('Enter');
  const stop = look.getByRole('button', { name: 'stop' });
  await stop.waitFor();
  // A worker that computes takes its share of a busy machine; a page that stood still would draw one frame or two.
  await expect.poll(frames).toBeGreaterThan(calm / 8);
  await stop.click();
  await stop.waitFor({ state: 'detached' });
  await untilComputed(page);
  await look.getByLabel('end of the window').fill('2 s');
  await look.getByLabel('end of the window').press('Enter');
  await untilComputed(page);
});
