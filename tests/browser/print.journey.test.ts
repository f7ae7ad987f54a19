import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { openExample, untilComputed } from './open-page.ts';

journey('on paper there is the page alone, dark on white, with nothing to press', async ({ page }) => {
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  await openExample(page, 'Train speeds');
  await untilComputed(page);
  const ground = (): Promise<string> => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  await expect.poll(ground).toBe('rgb(255, 255, 255)');

  // The title comes first, then the circuit in hand, then what is written, computed and drawn.
  const tops = async (): Promise<number[]> => {
    const parts = ['.title', 'tt-circuit', 'tt-cell#speeds tt-sweep', 'tt-cell#regions tt-map'];
    const boxes = await Promise.all(parts.map((part) => page.locator(part).first().boundingBox()));
    return boxes.map((box) => box?.y ?? NaN);
  };
  const isInOrder = async (): Promise<boolean> => {
    const places = await tops();
    return places.slice(1).every((place, index) => place > places[index]!);
  };
  await expect.poll(isInOrder).toBe(true);

  for (const gone of ['tt-tray', 'tt-what-if', 'tt-hands-on', 'tt-go-on', 'header', 'button.knob', '.on-screen']) {
    await expect.poll(() => page.locator(gone).filter({ visible: true }).count(), { message: gone }).toBe(0);
  }
});
