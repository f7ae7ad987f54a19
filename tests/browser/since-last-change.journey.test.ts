import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { accessibilityFaults } from './accessible.ts';
import { focusName, openDocument } from './open-page.ts';

/** The axle counter with a map of its ratio and a list of its faults. */
const counter = {
  format: 'two-thirds',
  version: 1,
  title: 'Axle counter',
  boards: { counter: { ready: 'frequency divider', values: { C1: '4.7 µF', 'U1.family': 'ideal' } } },
  page: [
    { id: 'board', kind: 'board', board: 'counter', knobs: ['C1'] },
    {
      id: 'regions',
      kind: 'map',
      board: 'counter',
      until: '6 s',
      x: { value: 'R1', values: ['40 kΩ', '60 kΩ', '80 kΩ', '100 kΩ'] },
      y: { value: 'G1.wave.period', values: ['150 ms', '200 ms'] },
      take: { ratio: 'ratio(out, in)' },
    },
    { id: 'faults', kind: 'symptoms', board: 'counter', until: '3 s', take: { width: 'width(out)' } },
  ],
};

journey(
  'a map says which boundary moved since the last change, a list of faults what the board gives now',
  async ({ page }) => {
    await openDocument(page, counter);
    const told = (cell: string) => page.locator(`tt-cell#${cell} .compared`);
    await expect.poll(() => told('regions').count()).toBe(0);
    const knob = page.getByRole('region', { name: 'Knobs' }).getByRole('slider', { name: 'C1 capacitance' });
    await knob.focus();
    await page.keyboard.press('ArrowRight');
    // T = 3 periods of 150 ms at R1 = 0.45 s / (C1 ln 3): 87.2 kohm with 4.7 uF, 73.1 kohm with 5.6 uF.
    await expect
      .poll(() => told('regions').innerText(), { timeout: 20_000 * patience })
      .toMatch(/the boundary between 3 and 4 at R1 73\.1.kΩ, was 87\.2.kΩ/u);
    await expect.poll(() => told('regions').innerText()).toContain('3 of 8 points in another region');
    // Where they were is drawn, named in the legend, and told in the table.
    const map = page.locator('tt-cell#regions tt-map');
    await expect.poll(() => map.locator('path.former').count()).toBeGreaterThan(1);
    await expect
      .poll(() => map.getByRole('list', { name: 'Legend' }).innerText())
      .toContain('boundaries before the last change');
    // T = 68 kohm C1 ln 3 is 351 ms with 4.7 uF and 418 ms with 5.6 uF.
    await expect
      .poll(() => told('faults').innerText(), { timeout: 20_000 * patience })
      .toMatch(/width 418.ms, was 351.ms/u);
    await expect.poll(() => focusName(page)).toBe('C1 capacitance');
    // A copy holds what is seen: a line at least, and its sample.
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await map.getByRole('button', { name: 'copy as SVG' }).click();
    const copied = () => page.evaluate(() => navigator.clipboard.readText());
    await expect.poll(copied).toContain('>boundaries before the last change</text>');
    await expect.poll(async () => (await copied()).match(/class="former"/g)?.length).toBeGreaterThan(1);
    await map.getByText('the same as a table').click();
    await expect.poll(() => map.locator('td', { hasText: /^\d, was \d$/ }).count()).toBe(3);
    expect(await accessibilityFaults(page)).toEqual([]);
  },
);
