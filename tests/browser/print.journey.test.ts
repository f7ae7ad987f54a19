import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { lookAtEverything, openExample, untilComputed } from './open-page.ts';

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

journey(
  'on paper every caution is there, nothing says it could be opened, and headings stay with what they head',
  async ({ page }) => {
    await openExample(page, 'Axle counter');
    await lookAtEverything(page);
    await untilComputed(page);
    const cautions = page.getByRole('note', { name: 'Cautions for coaches' });
    const last = cautions.getByText('A simulation is a prediction, not a safety approval');
    await expect.poll(() => last.isVisible()).toBe(false);
    await page.emulateMedia({ media: 'print' });
    await expect.poll(() => last.isVisible()).toBe(true);
    for (const gone of [/^\d more$/, 'hold it back again', 'the same as a table', 'one more reading', 'take out']) {
      const left = page.getByText(gone, { exact: true }).filter({ visible: true });
      await expect.poll(() => left.count(), { message: String(gone) }).toBe(0);
    }
    const breaks = page.locator('tt-cell.trace').first();
    await expect.poll(() => breaks.evaluate((cell) => getComputedStyle(cell).breakInside)).toBe('avoid');
  },
);
