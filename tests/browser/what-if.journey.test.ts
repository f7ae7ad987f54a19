import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { focusName, textOf, untilComputed, untilKept, withoutFileDialogues } from './open-page.ts';

const lamp = {
  format: 'two-thirds',
  version: 1,
  title: 'Platform lamp',
  boards: { lamp: { ready: 'monostable', values: { R1: '390 kΩ' } } },
  page: [
    { id: 'circuit', kind: 'board', board: 'lamp', knobs: ['R1'] },
    {
      id: 'numbers',
      kind: 'reading',
      board: 'lamp',
      until: '30 s',
      take: { burns: 'width(out)', times: 'count(out)' },
    },
  ],
};

async function openLamp(page: Page): Promise<void> {
  await withoutFileDialogues(page);
  const buffer = Buffer.from(JSON.stringify(lamp));
  const file = { name: 'lamp.tt.json', mimeType: 'application/json', buffer };
  await page.getByLabel('page to open').setInputFiles(file);
  await page.getByRole('heading', { level: 1, name: 'Platform lamp' }).waitFor();
  await untilComputed(page);
}

function offer(page: Page, name: string): Locator {
  return page.locator('tt-what-if').getByRole('button', { name, exact: true });
}

const told = (page: Page, words: string): Locator => page.locator('tt-what-if .answer').filter({ hasText: words });

/** The numbers before and after in a sentence such as `burns 4.32 s, was 4.29 s`. */
async function burns(page: Page): Promise<[number, number]> {
  const line = page.locator('tt-cell#numbers .compared');
  await line.filter({ hasText: /burns .* was / }).waitFor();
  const [, is, was] = /burns (\S+)\s\S+, was (\S+)/.exec((await line.textContent()) ?? '') ?? [];
  return [Number(is), Number(was)];
}

journey(
  'a press asks what if, the cells answer in figures, a knob turns both, and one press goes back',
  async ({ page }) => {
    await openLamp(page);
    const undo = page.getByRole('button', { name: /^undo/ });
    await offer(page, '20\u202f% more').click();
    await told(page, 'With C1 really electrolytic, 20\u202f% more: burns').waitFor();
    // A capacitor larger by a fifth, and some leakage: longer by more than a fifth, as leakage takes from the charge.
    const longer = async (): Promise<number> => {
      const [is, was] = await burns(page);
      return is / was;
    };
    await expect.poll(longer).toBeGreaterThan(1.2);
    await expect.poll(longer).toBeLessThan(1.5);
    const [, was] = await burns(page);
    await expect.poll(() => offer(page, '20\u202f% more').getAttribute('aria-pressed')).toBe('true');
    await page.locator('tt-tray').getByRole('textbox', { name: /R1/ }).fill('100 kΩ');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await burns(page))[1]).toBeCloseTo((was * 100) / 390, 1);
    await offer(page, 'back to the board as it was').click();
    await page.locator('tt-cell#numbers .compared').waitFor({ state: 'detached' });
    await expect.poll(() => undo.textContent()).toContain('back from C1 really electrolytic, 20\u202f% more');
    await expect.poll(() => page.locator('tt-tray').getByRole('textbox', { name: /R1/ }).inputValue()).toBe('100 kΩ');
    await undo.click();
    await page.locator('tt-cell#numbers .compared').waitFor();
  },
);

journey(
  'what is asked lasts over a reload and is taken back by undo; a meter lies on the net of choice',
  async ({ page }) => {
    await openLamp(page);
    await page.getByRole('combobox', { name: 'net of the instrument' }).selectOption('out');
    await offer(page, 'a meter').click();
    await told(page, 'a meter on out').waitFor();
    await page.getByRole('rowheader', { name: 'P1' }).waitFor();
    await untilKept(page);
    await page.reload();
    await told(page, 'a meter on out').waitFor();
    await expect.poll(() => offer(page, 'a meter').getAttribute('aria-pressed')).toBe('true');
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.getByRole('button', { name: 'undo: a meter on out' }).click();
    await page.locator('tt-what-if .answer').waitFor({ state: 'detached' });
  },
);

journey(
  'with keys alone a family is asked for, what changes inside is listed, and the case is kept beside',
  async ({ page }) => {
    await openLamp(page);
    await offer(page, 'cmos').focus();
    await page.keyboard.press('Enter');
    await page.getByText('what changes inside U1').click();
    await page.getByText('from a comparator to the output: 100 ns, was 300 ns').first().waitFor();
    await offer(page, 'keep it as a board of its own beside it').focus();
    await page.keyboard.press('Enter');
    await page.locator('tt-cell#board').waitFor();
    await expect.poll(() => textOf(page.locator('tt-cell#board'))).toContain('lamp2');
    await expect
      .poll(() => page.getByRole('button', { name: /^undo/ }).textContent())
      .toContain('keep U1 of the family cmos as lamp2');
    // The focus is not lost with what was pressed.
    await expect.poll(() => focusName(page)).toBe('cmos');
  },
);
