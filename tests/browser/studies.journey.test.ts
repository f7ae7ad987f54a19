import type { Locator, Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { dropFile, knobTexts, openExample, restingBox, textOf, untilComputed, widthBeyond } from './open-page.ts';

/** Opens a document as if its file had been dropped on the page. */
async function openDocument(page: Page, title: string, cells: readonly object[]): Promise<void> {
  const document = {
    format: 'two-thirds',
    version: 1,
    title,
    boards: {
      drawer: { ready: 'frequency divider', values: { R1: '2 kΩ', C1: '220 µF', 'G1.wave.period': '150 ms' } },
    },
    page: [{ id: 'board', kind: 'board', board: 'drawer', knobs: ['R1', 'C1', 'G1.wave.period'] }, ...cells],
  };
  await dropFile(page, 'studies.tt.json', JSON.stringify(document));
  await page.getByRole('heading', { level: 1, name: title }).waitFor();
}

const regions = (steps: number) => ({
  id: 'regions',
  kind: 'map',
  board: 'drawer',
  until: '3 s',
  x: { value: 'R1', from: '1.2 kΩ', to: '2.4 kΩ', steps },
  y: { value: 'G1.wave.period', from: '130 ms', to: '190 ms', steps },
  take: { ratio: 'ratio(out, in)' },
});

const speeds = {
  id: 'speeds',
  kind: 'sweep',
  board: 'drawer',
  until: '3 s',
  vary: { value: 'G1.wave.period', from: '130 ms', to: '190 ms', steps: 6 },
  take: { ratio: 'ratio(out, in)', width: 'width(out)' },
};

async function readout(cell: Locator): Promise<string> {
  return textOf(cell.locator('.readout'));
}

journey('a map is read by keyboard, and Enter sets the board to a point as one step of undo', async ({ page }) => {
  await openDocument(page, 'Regions', [regions(4)]);
  await untilComputed(page);
  const cell = page.locator('tt-cell#regions');
  const map = cell.getByRole('application');
  await map.focus();
  // The point nearest to the board as it stands: 2 kΩ and 150 ms lie nearest to 2.1 kΩ and 145 ms.
  await expect.poll(() => readout(cell)).toMatch(/^R1 2.1.kΩ, G1 period 145.ms : ratio 4/u);
  // T = R1 C1 ln 3 (closed form) is 0.29 s there: two whole gaps of 130 ms fit into it, and the third starts the next.
  await page.keyboard.press('Home');
  await page.keyboard.press('ArrowDown');
  await expect.poll(() => readout(cell)).toMatch(/^R1 1.2.kΩ, G1 period 130.ms : ratio 3/u);
  await page.keyboard.press('Shift+ArrowUp');
  // 0.29 s hold one gap of 190 ms.
  await expect.poll(() => readout(cell)).toMatch(/^R1 1.2.kΩ, G1 period 190.ms : ratio 2/u);

  await page.keyboard.press('Enter');
  await expect.poll(() => knobTexts(page)).toMatch(/1.2.kΩ/u);
  await expect.poll(() => knobTexts(page)).toMatch(/190.ms/u);
  await untilComputed(page);
  // The point stays where it is while the ring has come to it.
  await expect.poll(() => readout(cell)).toMatch(/^R1 1.2.kΩ, G1 period 190.ms : ratio 2/u);

  await page.getByRole('button', { name: /undo: R1 to 1.2.kΩ and G1 period to 190.ms/u }).click();
  await expect.poll(() => knobTexts(page)).toMatch(/150.ms/u);
  await expect.poll(() => knobTexts(page)).toMatch(/(^|\D)2.kΩ/u);
});

journey('a map shows every ratio as a region with its number, and is read and chosen by pointer', async ({ page }) => {
  await openDocument(page, 'Regions', [regions(6)]);
  await untilComputed(page);
  const cell = page.locator('tt-cell#regions');
  const map = cell.getByRole('application');
  await map.scrollIntoViewIfNeeded();
  await expect
    .poll(() => cell.locator('.region-name').allTextContents())
    .toEqual(expect.arrayContaining(['2', '3', '4']));
  await expect
    .poll(() => textOf(cell.getByRole('list', { name: 'Legend' })))
    .toContain('not the same from output to output');
  await expect.poll(() => cell.locator('path.uneven').count()).toBe(1);

  const plot = await restingBox(cell.locator('rect.outline').first());
  // The lower right corner: 2.4 kΩ and 130 ms.
  await page.mouse.move(plot.x + plot.width - 4, plot.y + plot.height - 4);
  await expect.poll(() => readout(cell)).toMatch(/^R1 2.4.kΩ, G1 period 130.ms : ratio 5/u);
  await page.mouse.click(plot.x + plot.width - 4, plot.y + plot.height - 4);
  await expect.poll(() => knobTexts(page)).toMatch(/2.4.kΩ/u);

  await cell.getByText('the same as a table').click();
  const table = cell.getByRole('table');
  // The table is made when it is unfolded.
  await table.getByRole('rowheader').first().waitFor();
  // The highest row stands first, as on the map: seven periods, seven resistances.
  await expect
    .poll(() => table.getByRole('rowheader').allTextContents())
    .toEqual([190, 180, 170, 160, 150, 140, 130].map((period) => `${period}\u202fms`));
  await expect.poll(() => table.getByRole('row').last().getByRole('cell').last().textContent()).toBe('5');
});

journey('a sweep is read by keyboard from jump to jump, both sides named', async ({ page }) => {
  await openDocument(page, 'Speeds', [speeds]);
  await untilComputed(page);
  const cell = page.locator('tt-cell#speeds');
  const chart = cell.getByRole('slider');
  await chart.focus();
  await page.keyboard.press('Home');
  const words = async (): Promise<string> => (await chart.getAttribute('aria-valuetext')) ?? '';
  await expect.poll(() => words()).toMatch(/^G1 period 130.ms: ratio 4, width \d/u);
  const seen: string[] = [];
  for (let jump = 0; jump < 30 && !seen.some((each) => each.includes('ratio from 4 to uneven')); jump += 1) {
    const before = await words();
    await page.keyboard.press('PageDown');
    await expect.poll(words).not.toBe(before);
    seen.push(await words());
  }
  // One ratio ends where three gaps are as long as an interval: R1 C1 ln 3 / 3 is 161 ms (closed form, ideal timer).
  const at = Number(/period ([\d.]+).ms: .*ratio from 4 to uneven/u.exec(seen.at(-1) ?? '')?.[1]);
  expect(at).toBeGreaterThan(155);
  expect(at).toBeLessThan(163);
  await expect.poll(() => readout(cell)).toContain('Below: ratio 4');

  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  await expect.poll(() => knobTexts(page)).toMatch(/190.ms/u);
  // The rows above the lines say the same as a picture.
  await expect.poll(() => cell.locator('.region-text').allTextContents()).toEqual(expect.arrayContaining(['4', '3']));
});

journey('a sweep is held against a rule of thumb, and a note quotes what it found', async ({ page }) => {
  const text =
    'From [here](#speeds.first_jump) on; [off](#speeds.width.error) at most, and [jumps](#speeds.jumps) jumps.';
  const ruled = { ...speeds, against: { width: '1.1 * R1 * C1' } };
  await openDocument(page, 'Rule', [{ id: 'words', kind: 'note', text }, ruled]);
  await untilComputed(page);
  const cell = page.locator('tt-cell#speeds');
  // The rule stands in the panel of its reading, as a line with its name.
  await expect.poll(() => cell.locator('.rule').count()).toBe(1);
  await expect.poll(() => cell.locator('.rule-name').allTextContents()).toEqual(['1.1 * R1 * C1']);
  const chart = cell.getByRole('slider');
  await chart.focus();
  await page.keyboard.press('Home');
  // 1.1 · 2 kΩ · 220 µF = 484 ms (closed form).
  await expect.poll(() => readout(cell)).toMatch(/1\.1 \* R1 \* C1 484.ms, width [+−][\d.]+ %/u);
  await expect.poll(() => textOf(cell)).toContain('width is furthest from 1.1 * R1 * C1 at G1 period of');

  // One ratio ends where three gaps are as long as an interval: R1 C1 ln 3 / 3 is 161 ms (closed form, ideal timer).
  const note = page.locator('tt-cell#words');
  const quoted = async (): Promise<string[]> => note.locator('.quoted').allTextContents();
  await expect
    .poll(quoted)
    .toEqual([
      expect.stringMatching(/^1[56]\d.ms$/u),
      expect.stringMatching(/^−?[\d.]+.%$/u),
      expect.stringMatching(/^\d+$/),
    ]);
});

journey('a map is copied as CSV and as an SVG that needs nothing else', async ({ browser, address }) => {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    locale: 'en-US',
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  const page = await context.newPage();
  await page.goto(address);
  await openDocument(page, 'Regions', [regions(4)]);
  await untilComputed(page);
  const cell = page.locator('tt-cell#regions');
  const clipboard = () => page.evaluate(() => navigator.clipboard.readText());
  await cell.getByRole('button', { name: 'copy as CSV' }).click();
  await cell.getByText(/^copied/).waitFor();
  const lines = (await clipboard()).trim().split(/\r?\n/);
  expect(lines[0]).toBe('R1_Ω,G1.wave.period_s,ratio,uneven');
  expect(lines).toHaveLength(1 + 5 * 5);

  await cell.getByRole('button', { name: 'copy as SVG' }).click();
  await expect.poll(clipboard).toContain('<svg');
  const svg = await clipboard();
  expect(svg).not.toMatch(/var\(|light-dark|<!--|<script|https?:\/\/(?!www\.w3\.org\/)/);
  expect(svg).toContain('>Map of ratio of drawer over R1 and G1 period</title>');
  // What the colours mean comes along.
  expect(svg).toContain('>not the same from output to output</text>');
  await context.close();
});

journey(
  'a long map shows how far it is, stays out of the way of a knob, and can be stopped and gone on with',
  async ({ page }) => {
    await openDocument(page, 'Long', [
      { id: 'numbers', kind: 'reading', board: 'drawer', until: '3 s', take: { width: 'width(out)' } },
      { ...regions(80), until: '12 s' },
    ]);
    const cell = page.locator('tt-cell#regions');
    const stop = cell.getByRole('button', { name: 'stop computing' });
    await stop.waitFor();
    // A part of it is there long before the whole.
    await cell.getByText(/^\d+\s% of it computed$/).waitFor();
    await expect.poll(() => cell.locator('path[class^="step-"]').count()).toBeGreaterThan(0);

    // C1 changes what every point of the map gives; the reading follows while the map begins anew.
    const width = () => textOf(page.locator('tt-cell#numbers'));
    await expect.poll(width).toMatch(/\d.m?s width/u);
    const before = await width();
    const knob = page.getByRole('region', { name: 'Knobs' }).getByRole('slider', { name: /C1/ });
    await knob.press('ArrowRight');
    await expect.poll(width).not.toBe(before);
    await expect.poll(() => page.locator('tt-notebook').getAttribute('aria-busy')).toBe('true');

    await stop.click();
    await cell.getByText('computing was stopped').waitFor();
    await untilComputed(page);
    await cell.getByRole('button', { name: 'compute', exact: true }).click();
    await stop.waitFor();
    await stop.click();
  },
);

/** A lamp whose tolerance, values and rule of thumb are asked about. */
const findings = [
  {
    id: 'scatter',
    kind: 'spread',
    board: 'drawer',
    until: '3 s',
    parts: { R1: '5 %', C1: '20 %' },
    take: { width: 'width(out)' },
    samples: 60,
  },
  {
    id: 'values',
    kind: 'choose',
    board: 'drawer',
    until: '3 s',
    want: { width: { reading: 'width(out)', value: '400 ms', within: '5 %' } },
    adjust: { R1: ['1.2 kΩ', '1.65 kΩ', '2.4 kΩ'] },
  },
  {
    id: 'rule',
    kind: 'claim',
    board: 'drawer',
    until: '3 s',
    says: 'width(out) = 1.1 * R1 * C1 within 5 %',
    over: { C1: { from: '100 nF', to: '220 µF', steps: 6, scale: 'logarithmic' } },
    trials: 10,
  },
];

journey('a chosen set and a counterexample are put on the board with one press each', async ({ page }) => {
  await openDocument(page, 'Findings', findings);
  await untilComputed(page);
  await expect.poll(() => page.locator('tt-cell#scatter rect.samples').count()).toBeGreaterThan(3);
  // T = R1 C1 ln 3 (closed form): 400 ms and 220 µF ask for 1.655 kΩ.
  await page.locator('tt-cell#values').getByRole('button', { name: 'set to this: place 1' }).click();
  await expect.poll(() => knobTexts(page)).toMatch(/1.65.kΩ/u);
  await untilComputed(page);

  const rule = page.locator('tt-cell#rule');
  await rule.getByText('It does not hold everywhere.').waitFor();
  await rule.getByRole('button', { name: 'set the board to it' }).click();
  await expect.poll(() => knobTexts(page)).not.toMatch(/220.µF/u);
});

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  journey.for([1440, 360])(
    'spreads, choices and claims have no fault that axe can find at %i px',
    async (width, { browser, address }) => {
      const viewport = { width, height: 844 };
      const context = await browser.newContext({ viewport, colorScheme, locale: 'en-US' });
      const page = await context.newPage();
      await page.goto(address);
      await openDocument(page, 'Findings', findings);
      await untilComputed(page);
      for (const tables of await page.locator('tt-data-tables summary').all()) await tables.click();
      expect(await accessibilityFaults(page)).toEqual([]);
      await expect.poll(() => widthBeyond(page)).toBe(0);
      await context.close();
    },
  );

  journey.for([1440, 390, 360])(
    'sweeps and maps have no fault that axe can find at %i px',
    async (width, { browser, address }) => {
      const context = await browser.newContext({ viewport: { width, height: 844 }, colorScheme, locale: 'en-US' });
      const page = await context.newPage();
      await page.goto(address);
      await openExample(page, 'Train speeds');
      await untilComputed(page);
      for (const tables of await page.getByText('the same as a table').all()) await tables.click();
      await page.locator('tt-cell#regions').getByRole('application').focus();
      await page.locator('tt-cell#speeds').getByRole('slider').focus();
      expect(await accessibilityFaults(page)).toEqual([]);
      await expect.poll(() => widthBeyond(page)).toBe(0);
      await context.close();
    },
  );
});
