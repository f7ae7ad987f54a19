import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { type TraceEvent, turnCosts } from '../support/turn-costs.ts';
import { keyOf, openThousandPulses, turnKnob } from './knob-turn.ts';
import { untilComputed } from './open-page.ts';

/** Turns to warm up, and turns that are measured. */
const WARM = 12;
const MEASURED = 60;

journey('turns of a knob under a thousand pulses', async ({ page, browser }) => {
  await openThousandPulses(page);
  const turn = async (index: number): Promise<number> => {
    const { painted } = await turnKnob(page, keyOf(index));
    await untilComputed(page);
    return painted;
  };
  for (let index = 0; index < WARM; index += 1) await turn(index);
  // Without being traced, for tracing costs as well.
  const times: number[] = [];
  for (let index = 0; index < MEASURED; index += 1) times.push(await turn(index));
  await browser.startTracing(page, { categories: ['disabled-by-default-devtools.timeline', 'blink.user_timing'] });
  for (let index = 0; index < MEASURED; index += 1) await turn(index);
  const traced = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  const costs = turnCosts(traced.traceEvents);
  expect(costs.turns).toBe(MEASURED);
  console.log(
    [
      `From the key to the painted trace, by the clock of this machine as busy as it is now: median ${told(times, 0.5)},`,
      `95 % within ${told(times, 0.95)}, least ${told(times, 0)}. Of the processors meanwhile, for each turn:`,
      `page ${told(costs.page, 0.5)}, workers ${told(costs.workers, 0.5)} (medians; least ${told(costs.page, 0)} and ${told(costs.workers, 0)}).`,
    ].join('\n'),
  );
});

function told(times: readonly number[], share: number): string {
  const sorted = [...times].sort((a, b) => a - b);
  return `${(sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN).toFixed(1)} ms`;
}
