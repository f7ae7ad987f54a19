import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lookAtEverything, openExample, untilComputed } from './open-page.ts';

/** Times of one turn of a knob (ms after the key). */
export interface TurnTimes {
  /** The trace has the new values, and is drawn. */
  readonly drawn: number;
  /** The frame that it is drawn in is painted. */
  readonly painted: number;
}

/** Opens the axle counter with a thousand pulses in its trace, all of it looked at, and takes the knob of R1. */
export async function openThousandPulses(page: Page): Promise<void> {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  const look = page.locator('tt-cell#look');
  await look.getByLabel('end of the window').fill('150 s');
  await look.getByLabel('end of the window').press('Enter');
  // One axle each 150 ms, the first at 100 ms.
  await expect
    .poll(
      () =>
        look.locator('tt-trace').evaluate((element) => {
          const { trace } = element as HTMLElement & { trace?: { timers: { pulses: unknown[] }[] } };
          return trace?.timers[0]?.pulses.length;
        }),
      { timeout: 20_000 },
    )
    .toBe(1000);
  await untilComputed(page);
  await look.locator('tt-trace').evaluate((element) => element.scrollIntoView({ block: 'center' }));
  await page.getByRole('slider', { name: 'R1 resistance' }).focus();
  // What came into sight is told to the page with the next frames.
  await page.evaluate(async () => {
    for (let frame = 0; frame < 3; frame += 1) await new Promise(requestAnimationFrame);
  });
  await untilComputed(page);
}

/**
 * Turns the knob in the focus by a key, and waits until the trace of `look` has followed and is painted.
 *
 * @param shiftKey whether the knob is turned by a little, to where it does not rest.
 */
export async function turnKnob(page: Page, key: string, shiftKey = false): Promise<TurnTimes> {
  return followed(page, { type: 'keydown', how: { key, shiftKey } });
}

/** Pulls the tape of the knob in the focus, which a pointer holds, to where it does not rest; waits as for a key. */
export async function pullKnob(page: Page, clientX: number): Promise<TurnTimes> {
  return followed(page, { type: 'pointermove', how: { clientX, shiftKey: true } });
}

/** What a hand does to a knob. */
type Handling =
  | { readonly type: 'keydown'; readonly how: { readonly key: string; readonly shiftKey: boolean } }
  | { readonly type: 'pointermove'; readonly how: { readonly clientX: number; readonly shiftKey: boolean } };

async function followed(page: Page, handling: Handling): Promise<TurnTimes> {
  return page.locator('tt-cell#look tt-trace').evaluate(async (element, { type, how }) => {
    type Controller = { hostUpdated(): void };
    type Trace = HTMLElement & {
      readonly trace: unknown;
      addController(controller: Controller): void;
      removeController(controller: Controller): void;
    };
    const trace = element as Trace;
    let knob = document.activeElement;
    while (knob?.shadowRoot?.activeElement) knob = knob.shadowRoot.activeElement;
    const before = trace.trace;
    const drawn = new Promise<void>((resolve) => {
      const controller = {
        hostUpdated(): void {
          if (trace.trace === before) return;
          trace.removeController(controller);
          resolve();
        },
      };
      trace.addController(controller);
    });
    const all = { ...how, bubbles: true, composed: true, cancelable: true };
    const event = type === 'keydown' ? new KeyboardEvent(type, all) : new PointerEvent(type, all);
    const start = performance.now();
    performance.mark('turned');
    knob?.dispatchEvent(event);
    await drawn;
    const atDrawn = performance.now() - start;
    // It is painted with the next frame. What is urgent is done right after that, ahead of what the page does then.
    await new Promise(requestAnimationFrame);
    await scheduler.postTask(() => undefined, { priority: 'user-blocking' });
    performance.mark('painted');
    return { drawn: atDrawn, painted: performance.now() - start };
  }, handling);
}

/** The key of a turn: there and back, so that the knob stays where it is between its ends. */
export function keyOf(turn: number): string {
  return turn % 2 === 0 ? 'ArrowRight' : 'ArrowLeft';
}
