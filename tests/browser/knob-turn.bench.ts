import type { Browser, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { type TraceEvent, turnCosts } from '../support/turn-costs.ts';
import { openThousandPulses, pullKnob, turnKnob, type TurnTimes } from './knob-turn.ts';
import { untilComputed } from './open-page.ts';

/** Turns to warm up, and turns that are measured. */
const WARM = 12;
const MEASURED = 60;
/** Turns in one direction before the knob goes back. */
const STRETCH = 6;
/** How far a pointer pulls the tape in one turn, and how much further every time (pixels; a decade takes 168). */
const PULL = 7;
const DRIFT = 0.37;
/** Longest rest of a hand between two turns (ms). The display draws on meanwhile, so a key comes at any time of a frame. */
const REST = 120;

/** What is traced: tasks, frames from their beginning until the display has them, and the marks of the turns. */
const CATEGORIES = ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'blink.user_timing'];

/** One kind of turns: how the page has come by what they show. */
interface Turns {
  readonly title: string;
  /** Takes the knob, where it must be held. */
  readonly begin?: (page: Page) => Promise<void>;
  /** Makes one turn, the so manieth, up or down. */
  readonly turn: (page: Page, index: number, isUp: boolean) => Promise<TurnTimes>;
}

const KINDS: readonly Turns[] = [
  {
    title: 'along preferred values',
    turn: (page, _, isUp) => turnKnob(page, isUp ? 'ArrowRight' : 'ArrowLeft'),
  },
  {
    title: 'freely by one hundredth each time',
    turn: (page, _, isUp) => turnKnob(page, isUp ? 'ArrowRight' : 'ArrowLeft', true),
  },
  {
    // Every value is a new one: a tenth less is less than a tenth more was.
    title: 'freely by a tenth each time',
    turn: (page, _, isUp) => turnKnob(page, isUp ? 'PageUp' : 'PageDown', true),
  },
  {
    title: 'pulled freely by a pointer, which is never foreseen',
    begin: async (page) => {
      await page.mouse.move(...(await middleOfTape(page)));
      await page.mouse.down();
    },
    turn: async (page, index) => {
      const [middle] = await middleOfTape(page);
      // There and back, and never to the same place.
      const along = index % (2 * STRETCH);
      return pullKnob(page, middle + PULL * (1 + Math.min(along, 2 * STRETCH - along)) + DRIFT * index);
    },
  },
];

for (const kind of KINDS) {
  journey(`turns of a knob under a thousand pulses, ${kind.title}`, async ({ page, browser }) => {
    await openThousandPulses(page);
    await kind.begin?.(page);
    await measure(page, kind, 0, WARM);
    // Without being traced, for tracing costs as well.
    const times = await measure(page, kind, WARM, MEASURED);
    const costs = turnCosts(await traced(page, browser, () => measure(page, kind, WARM + MEASURED, MEASURED)));
    expect(costs.turns).toBe(MEASURED);
    console.log(
      [
        `${kind.title}, from the hand to the painted trace, by the clock of this machine as busy as it is now: median`,
        `${told(times, 0.5)}, 95 % within ${told(times, 0.95)}, least ${told(times, 0)}. Until the display has it (${costs.shown.length} turns,`,
        `traced): median ${told(costs.shown, 0.5)}, 95 % within ${told(costs.shown, 0.95)}. Of the processors until it is painted:`,
        `page ${told(costs.page, 0.5)}, workers ${told(costs.workers, 0.5)} (medians; least ${told(costs.page, 0)} and ${told(costs.workers, 0)}).`,
      ].join('\n'),
    );
  });
}

/** Turns the knob so many times, some turns up and as many down, and tells how long each took to be painted (ms). */
async function measure(page: Page, { turn }: Turns, first: number, count: number): Promise<number[]> {
  const times: number[] = [];
  for (let index = first; index < first + count; index += 1) {
    const isUp = Math.floor(index / STRETCH) % 2 === 0;
    // The same rests every time, at no fixed distance to the frames.
    await page.waitForTimeout(REST * (((index + 1) * 0.618) % 1));
    times.push((await turn(page, index, isUp)).painted);
    await untilComputed(page);
  }
  return times;
}

async function middleOfTape(page: Page): Promise<[x: number, y: number]> {
  const box = await page.getByRole('slider', { name: 'R1 resistance' }).boundingBox();
  if (box === null) throw new Error('the tape of R1 must be in sight');
  return [box.x + box.width / 2, box.y + box.height / 2];
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
