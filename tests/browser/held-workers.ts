import type { Page } from 'playwright-core';

/** From now on no worker hears anything until `release` is called in the page; `lose` breaks all of them down. */
export async function holdWorkers(page: Page): Promise<void> {
  await page.evaluate(() => {
    const held: (() => void)[] = [];
    const started: Worker[] = [];
    let isHeld = true;
    const { postMessage } = Worker.prototype as { postMessage: (this: Worker, ...given: unknown[]) => void };
    class SlowWorker extends Worker {
      constructor(...given: ConstructorParameters<typeof Worker>) {
        super(...given);
        started.push(this);
      }

      override postMessage(...given: unknown[]): void {
        const send = (): void => Reflect.apply(postMessage, this, given);
        if (isHeld) held.push(send);
        else send();
      }
    }
    Object.assign(window, {
      Worker: SlowWorker,
      release: () => {
        isHeld = false;
        for (const send of held.splice(0)) send();
      },
      lose: () => {
        for (const worker of started) worker.dispatchEvent(new ErrorEvent('error', { message: 'The engine broke.' }));
      },
    });
  });
}

/** Calls what {@link holdWorkers} left in the page. */
export async function tellWorkers(page: Page, what: 'release' | 'lose'): Promise<void> {
  await page.evaluate((known) => (window as unknown as Record<string, () => void>)[known]?.(), what);
}
