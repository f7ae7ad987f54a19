import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { focusName, openDocument, untilComputed } from './open-page.ts';

/** The axle counter with a trace and what tolerances do to it. */
const counter = {
  format: 'two-thirds',
  version: 1,
  title: 'How long to look',
  boards: { counter: { ready: 'frequency divider', values: { R1: '100 kΩ' } } },
  page: [
    { id: 'circuit', kind: 'board', board: 'counter', knobs: ['R1'] },
    { id: 'look', kind: 'trace', board: 'counter', until: '2 s', show: ['in', 'out'] },
    {
      id: 'kits',
      kind: 'spread',
      board: 'counter',
      until: '1 s',
      parts: { R1: '5 %', BT1: ['10 V', '14 V'] },
      take: { width: 'width(out)' },
      samples: 20,
    },
  ],
};

async function openCounter(page: Page): Promise<void> {
  await openDocument(page, counter);
}

const tray = (page: Page): Locator => page.getByRole('region', { name: 'Knobs' });
const knobOf = (page: Page, name: string): Locator => tray(page).getByRole('slider', { name, exact: true });
/** The end of what a trace shows, seconds. */
const endOf = (cell: Locator): Promise<number | undefined> =>
  cell.locator('tt-trace').evaluate((element) => (element as HTMLElement & { trace?: { until: number } }).trace?.until);
/** The name of a cell in the margin, from where it is opened, moved and taken out. */
const nameOf = (page: Page, cell: string): Locator =>
  page.getByRole('button', { name: `${cell}: what this cell is, and what to do with it` });
/** Where the knobs of a circuit are written by name. */
const knobsText = (page: Page): Locator => page.getByLabel('parts and fields with a knob');

journey('how long a trace looks is given a knob, turned, undone, typed and put back', async ({ page }) => {
  await openCounter(page);
  const look = page.locator('tt-cell#look');
  // By keyboard: the word beside the field gives it its knob and keeps the focus.
  const give = look.getByRole('button', { name: 'knob for look until', exact: true });
  await expect.poll(() => give.getAttribute('aria-pressed')).toBe('false');
  await give.focus();
  await page.keyboard.press('Enter');
  await expect.poll(() => give.getAttribute('aria-pressed')).toBe('true');
  await expect.poll(() => focusName(page)).toBe('knob for look until');
  const knob = knobOf(page, 'look until');
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toMatch(/^2.s$/u);
  await knob.focus();
  // Round numbers: 2, 2.5, 3 s.
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toMatch(/^3.s$/u);
  await expect.poll(() => endOf(look)).toBe(3);
  await expect.poll(() => look.getByLabel('end of the window').inputValue()).toBe('3 s');
  await untilComputed(page);
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.getByRole('button', { name: 'undo: look.until to 3 s' }).click();
  await expect.poll(() => endOf(look)).toBe(2);
  // Typed, and back to what it was opened with.
  const typed = tray(page).getByRole('textbox', { name: 'look until, value' });
  await typed.fill('5 s');
  await typed.press('Enter');
  await expect.poll(() => endOf(look)).toBe(5);
  await tray(page)
    .getByRole('button', { name: /back to 2.s/u })
    .click();
  await expect.poll(() => endOf(look)).toBe(2);
  // What cannot be read is told of at the field and at the knob, and stays to be corrected.
  await typed.fill('soon');
  await typed.press('Enter');
  await tray(page).getByText('until must be a time').waitFor();
  await typed.fill('2 s');
  await typed.press('Enter');
  await untilComputed(page);
});

journey('a knob of a trace follows it under another name, and goes and comes back with it', async ({ page }) => {
  await openCounter(page);
  const look = page.locator('tt-cell#look');
  await look.getByRole('button', { name: 'knob for look until', exact: true }).click();
  await knobOf(page, 'look until').waitFor();
  await nameOf(page, 'look').focus();
  await page.keyboard.press('Enter');
  await look.getByLabel('name of this cell').fill('first');
  await look.getByLabel('name of this cell').press('Enter');
  const renamed = knobOf(page, 'first until');
  // The focus comes back to the field of the name with the page under that name.
  await page.locator('tt-cell#first').waitFor();
  await expect.poll(() => focusName(page)).toBe('name of this cell');
  await renamed.focus();
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => endOf(page.locator('tt-cell#first'))).toBe(1.5);
  await nameOf(page, 'circuit').press('Enter');
  await expect.poll(() => knobsText(page).inputValue()).toBe('R1, #first.until');

  // Its cell goes, and the knob with it; both come back.
  await nameOf(page, 'first').press('Delete');
  await expect.poll(() => renamed.count()).toBe(0);
  await expect.poll(() => focusName(page)).not.toBe('');
  await nameOf(page, 'circuit').press('Enter');
  await untilComputed(page);
  await expect.poll(() => knobsText(page).inputValue()).toBe('R1');
  await expect.poll(() => knobsText(page).getAttribute('aria-invalid')).toBe('false');
  await page.getByRole('button', { name: 'undo: delete trace' }).click();
  await expect.poll(() => renamed.count()).toBe(1);
});

journey('numbers of a study are given knobs where they stand, and by name', async ({ page }) => {
  await openCounter(page);
  const kits = page.locator('tt-cell#kits');
  await kits.getByRole('button', { name: 'knob for kits R1 within', exact: true }).click();
  await kits.getByRole('button', { name: 'knob for kits BT1 to', exact: true }).click();
  const within = knobOf(page, 'kits R1 within');
  await within.focus();
  // Tolerances as they are sold: 5, 10 %.
  await page.keyboard.press('ArrowRight');
  await untilComputed(page);
  await expect.poll(() => kits.getByLabel('how far R1 may be off').inputValue()).toBe('10 %');
  // The end of a range stops before the other one.
  const greatest = knobOf(page, 'kits BT1 to');
  await greatest.focus();
  await page.keyboard.press('Home');
  await untilComputed(page);
  const end = async (): Promise<number> => Number(await greatest.getAttribute('aria-valuenow'));
  await expect.poll(end).toBeLessThan(14);
  await expect.poll(end).toBeGreaterThan(10);
  await expect.poll(() => kits.getByRole('alert').count()).toBe(0);
  // By name, offered as it is typed: whole numbers stay whole.
  await nameOf(page, 'circuit').press('Enter');
  await knobsText(page).click();
  await page.keyboard.press('End');
  await page.keyboard.type(', #kits.sam');
  await page.getByRole('listbox').waitFor();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  const samples = knobOf(page, 'kits samples');
  await samples.focus();
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => kits.getByLabel('how many samples').inputValue()).toBe('21');
  await untilComputed(page);
  expect(await accessibilityFaults(page)).toEqual([]);
});

journey('a list that is too long for knobs says so at its field, and what has them', async ({ page }) => {
  const values = Array.from({ length: 30 }, (_, index) => `${index + 70} kΩ`);
  const sweep = {
    ...{ id: 'many', kind: 'sweep', board: 'counter', until: '1 s' },
    ...{ vary: { value: 'R1', values }, take: { width: 'width(out)' } },
  };
  const document = { ...counter, page: [counter.page[0], sweep] };
  await openDocument(page, document);
  const many = page.locator('tt-cell#many');
  await many.getByText('A list of 30 values has no knobs; one of up to 24 has them, and so has a range.').waitFor();
});
