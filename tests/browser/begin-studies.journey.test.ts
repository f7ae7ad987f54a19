import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { knobTexts, openDocument, textOf, untilComputed } from './open-page.ts';

/** A page with the platform lamp and nothing else. */
async function openLamp(page: Page): Promise<void> {
  const document = {
    format: 'two-thirds',
    version: 1,
    title: 'Lamp',
    boards: { lamp: { ready: 'monostable', values: { R1: '390 kΩ', C1: '10 µF' } } },
    page: [{ id: 'board', kind: 'board', board: 'lamp', knobs: ['R1', 'C1'] }],
  };
  await openDocument(page, document);
}

async function begin(page: Page, words: string): Promise<void> {
  await page.getByRole('group', { name: 'Go on at the end' }).getByRole('button', { name: words }).click();
  await untilComputed(page);
}

async function write(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Escape');
  await field.fill(text);
  await field.press('Enter');
  await untilComputed(page);
}

/** The chart of a cell as it is copied; a browser that lets nobody copy shows it. */
async function copyOf(page: Page, cell: Locator): Promise<string> {
  await cell.getByRole('button', { name: 'copy as SVG' }).click();
  await cell.getByText(/^copied|stands below/).waitFor();
  const shown = cell.getByRole('textbox', { name: 'text to copy' });
  return (await shown.count()) > 0 ? shown.inputValue() : page.evaluate(() => navigator.clipboard.readText());
}

journey('values for a wanted time are chosen without writing JSON, and given to the board', async ({ page }) => {
  await openLamp(page);
  await begin(page, 'values for a wanted time');
  const cell = page.locator('tt-cell#choose');
  // T = 1.1 R1 C1 (TI SLFS022I, p. 10) of 390 kohm and 10 uF is 4.29 s.
  await expect.poll(() => page.getByLabel('value of width, choose').inputValue()).toBe('4.29 s');
  await write(page, 'value of width, choose', '6 s');
  await write(page, 'what C1 may be, choose', '10 µF, 15 µF');
  await expect
    .poll(() => textOf(cell))
    .toMatch(/R1 560.kΩ and C1 10.µF|R1 360.kΩ and C1 15.µF|R1 390.kΩ and C1 15.µF/u);
  await cell.getByRole('button', { name: 'set to this: place 1', exact: true }).click();
  await expect.poll(() => knobTexts(page)).toMatch(/560.kΩ|15.µF/u);
  // A wish that cannot be read is complained of where it stands.
  await write(page, 'value of width, choose', '6 V');
  await cell.getByText(/must be a time/).waitFor();
  await expect.poll(() => page.getByLabel('value of width, choose').getAttribute('aria-invalid')).toBe('true');
});

journey('a sweep, a map, a spread and a claim are begun and changed where they stand', async ({ page }) => {
  await openLamp(page);
  await begin(page, 'one value over a range');
  const sweep = page.locator('tt-cell#sweep');
  await expect.poll(() => page.getByLabel('range varied, sweep').inputValue()).toBe('39 kΩ to 3.9 MΩ along E12');
  await write(page, 'range varied, sweep', '100 kΩ to 1 MΩ along E6');
  await write(page, 'one more reading, sweep', 'peak(timing)');
  await write(page, 'rule of thumb for width, sweep', '1.1 * R1 * C1');
  await expect.poll(() => textOf(sweep)).toContain('1.1 * R1 * C1');
  await sweep.getByText('the same as a table').click();
  await sweep.getByRole('columnheader', { name: /peak/ }).first().waitFor();
  await write(page, 'range varied, sweep', '100 kΩ to');
  await sweep.getByText(/to must/).waitFor();
  await page.getByRole('button', { name: /undo: R1 through/ }).click();
  await untilComputed(page);

  await begin(page, 'a map of two values');
  await page.locator('tt-cell#map').getByRole('application').waitFor();

  await begin(page, 'what tolerances do');
  const spread = page.locator('tt-cell#spread');
  await expect.poll(() => textOf(spread)).toContain('R1, which states no tolerance, lies within');
  await write(page, 'limits of width, spread', 'at least 4 s');
  await expect.poll(() => textOf(spread)).toMatch(/inside its limits: \d/);

  // What is copied holds the chart of every reading, not only the first.
  await write(page, 'one more reading, spread', 'peak(timing)');
  await expect.poll(() => spread.locator('svg.lanes').count()).toBe(2);
  const copied = await copyOf(page, spread);
  expect(copied).toMatch(/class="name"[^>]*>width</);
  expect(copied).toMatch(/class="name"[^>]*>peak</);

  await begin(page, 'a claim to be tried');
  const claim = page.locator('tt-cell#claim');
  await expect.poll(() => textOf(claim)).toMatch(/Of 100 trials/);
  await write(page, 'how many trials, claim', '40');
  await expect.poll(() => textOf(claim)).toMatch(/Of 40 trials/);
  expect(await accessibilityFaults(page)).toEqual([]);

  // The case against it is looked at beside the board, and goes again as one step.
  await write(page, 'one more value of over, claim', 'U1.family');
  await write(page, 'what C1 is tried at, claim', '100 pF, 10 µF');
  await claim.getByRole('button', { name: 'open it as a board of its own' }).click();
  await untilComputed(page);
  await page.locator('tt-cell#board2').waitFor();
  await page.locator('tt-cell#trace').waitFor();
  await page.getByRole('button', { name: /^undo: open/ }).click();
  await page.locator('tt-cell#trace').waitFor({ state: 'detached' });
  await expect.poll(() => page.locator('tt-cell#board2').count()).toBe(0);
});

journey(
  'a value gets a knob and loses it at a press beside it; a knob that turns nothing is told of',
  async ({ page }) => {
    await openLamp(page);
    const knob = page.getByRole('button', { name: 'knob for BT1 voltage' });
    await expect.poll(() => knob.getAttribute('aria-pressed')).toBe('false');
    await knob.click();
    await expect.poll(() => knobTexts(page)).toMatch(/12.V/u);
    await expect.poll(() => knob.getAttribute('aria-pressed')).toBe('true');
    await page.getByRole('button', { name: 'knob for R1 resistance' }).click();
    await expect.poll(() => knobTexts(page)).not.toMatch(/390.kΩ/u);
    // Full names are offered where knobs are written, and a name that turns nothing is told of.
    await page.getByRole('button', { name: /^board: what this cell is/ }).click();
    const named = page.getByLabel('parts and fields with a knob');
    await named.fill('C1, BT1, U1.family');
    await named.press('Escape');
    await named.fill('C1, BT1, U1.family');
    await named.press('Enter');
    await page.getByText(/knobs must name quantities; got U1.family/).waitFor();
    await page.getByRole('button', { name: 'undo: knobs of board' }).click();
    await page.getByRole('button', { name: 'undo: no knob for R1' }).click();
    await expect.poll(() => knobTexts(page)).toMatch(/390.kΩ/u);
    expect(await accessibilityFaults(page)).toEqual([]);
  },
);
