import type { Browser, BrowserContext } from 'playwright-core';
import { holdMessagesBack } from './held-messages.ts';
import { patience, type Slowdown, slowdown } from './slowdown.ts';

/** Longest time that a message to or from a worker is held back (ms). */
const LONGEST_DELAY = 150;

/**
 * Makes every page that this browser opens from now on as slow as `JOURNEY_SLOWDOWN` says, and has none wait longer for one
 * thing than a journey may take: what waits in vain says what it waits for.
 */
export function prepareContexts(browser: Browser): void {
  const open = browser.newContext.bind(browser);
  browser.newContext = async (options) => {
    const context = await open(options);
    context.setDefaultTimeout(20_000 * patience);
    if (slowdown !== undefined) await slowDown(context, slowdown);
    return context;
  };
}

async function slowDown(context: BrowserContext, { factor, seed }: Slowdown): Promise<void> {
  await context.addInitScript(holdMessagesBack, { seed, longest: LONGEST_DELAY });
  const open = context.newPage.bind(context);
  context.newPage = async () => {
    const page = await open();
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: factor });
    return page;
  };
}
