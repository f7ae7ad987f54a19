import type { Browser, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { type TraceEvent, turnCosts } from '../support/turn-costs.ts';
import { openThousandPulses, turnKnob } from './knob-turn.ts';
import { untilComputed } from './open-page.ts';

/** Turns to warm up, and turns that are measured. */
const WARM = 12;
const MEASURED = 60;
/** Turns in one direction before the knob goes back. */
const STRETCH = 6;
/** Longest rest of a hand between two turns (ms). The display draws on meanwhile, so a key comes at any time of a frame. */
const REST = 120;

/** What is traced: tasks, frames from their beginning until the display has them, and the marks of the turns. */
const CATEGORIES = ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'blink.user_timing'];

/** Turns that are measured: how the page has come by what they show. */
interface Turns {
  readonly title: string;
  readonly shiftKey: boolean;
  /** Keys that turn it up and down. */
  readonly keys: readonly [up: string, down: string];
}

const KINDS: readonly Turns[] = [
  { title: 'along preferred values', shiftKey: false, keys: ['ArrowRight', 'ArrowLeft'] },
  { title: 'freely by one hundredth each time', shiftKey: true, keys: ['ArrowRight', 'ArrowLeft'] },
  // Every value is a new one: a tenth less is less than a tenth more was.
  { title: 'freely by a tenth each time, which is never foreseen', shiftKey: true, keys: ['PageUp', 'PageDown'] },
];

for (const kind of KINDS) {
  journey(`turns of a knob under a thousand pulses, ${kind.title}`, async ({ page, browser }) => {
    await openThousandPulses(page);
    await measure(page, kind, 0, WARM);
    // Without being traced, for tracing costs as well.
    const times = await measure(page, kind, WARM, MEASURED);
    const costs = turnCosts(await traced(page, browser, () => measure(page, kind, WARM, MEASURED)));
    expect(costs.turns).toBe(MEASURED);
    console.log(
      [
        `${kind.title}, from the key to the painted trace, by the clock of this machine as busy as it is now: median`,
        `${told(times, 0.5)}, 95 % within ${told(times, 0.95)}, least ${told(times, 0)}. Until the display has it (${costs.shown.length} turns,`,
        `traced): median ${told(costs.shown, 0.5)}, 95 % within ${told(costs.shown, 0.95)}. Of the processors until it is painted:`,
        `page ${told(costs.page, 0.5)}, workers ${told(costs.workers, 0.5)} (medians; least ${told(costs.page, 0)} and ${told(costs.workers, 0)}).`,
      ].join('\n'),
    );
  });
}

/** Turns the knob so many times, some turns up and as many down, and tells how long each took to be painted (ms). */
async function measure(
  page: Page,
  { shiftKey, keys: [up, down] }: Turns,
  first: number,
  count: number,
): Promise<number[]> {
  const times: number[] = [];
  for (let turn = first; turn < first + count; turn += 1) {
    const isUp = Math.floor(turn / STRETCH) % 2 === 0;
    // The same rests every time, at no fixed distance to the frames.
    await page.waitForTimeout(REST * (((turn + 1) * 0.618) % 1));
    times.push((await turnKnob(page, isUp ? up : down, shiftKey)).painted);
    await untilComputed(page);
  }
  return times;
}

async function traced(page: Page, browser: Browser, work: () => Promise<unknown>): Promise<TraceEvent[]> {
  await browser.startTracing(page, { categories: CATEGORIES });
  await work();
  return (JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] }).traceEvents;
}

function told(times: readonly number[], share: number): string {
  const sorted = [...times].sort((a, b) => a - b);
  return `${(sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN).toFixed(1)} ms`;
}
