import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { openDocument, openExample, textOf, untilComputed } from './open-page.ts';

const lamp = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V', origin: 'battery' },
  { name: 'J1', kind: 'jumper', a: 'rail', b: 'feed' },
  { name: 'S1', kind: 'switch', a: 'feed', b: 'top', presses: [{ at: '1 s', for: '1 s' }] },
  { name: 'R1', kind: 'resistor', a: 'top', b: 'lamp', resistance: '1 kΩ' },
  { name: 'D1', kind: 'led', a: 'lamp', b: 'ground', colour: 'red' },
];
const crossing = {
  format: 'two-thirds',
  version: 1,
  title: 'Level crossing',
  boards: { gate: { parts: lamp }, bell: { ready: 'monostable', values: { 'S1.presses': [] } } },
  links: [{ a: 'gate.top', b: 'bell.button', closed: false }],
  page: [
    { id: 'bell', kind: 'board', board: 'bell', knobs: ['R1'], standard: 'IEEE 315' },
    { id: 'gate', kind: 'board', board: 'gate', knobs: ['R1'] },
    { id: 'look', kind: 'trace', board: 'gate', until: '4 s', show: ['rail', 'top', 'current(R1)', 'current(D1)'] },
  ],
};

/** Opens the crossing as if its file had been dropped, with the gate in hand. */
async function openGate(page: Page): Promise<void> {
  await openDocument(page, crossing);
  await page.locator('tt-cell#look tt-trace .chart').click({ position: { x: 300, y: 40 } });
  await page.locator('tt-drawing [data-part="D1"]').waitFor();
}

const part = (page: Page, name: string) => page.locator(`tt-drawing [data-part="${name}"]`);
const contact = (page: Page, name: string) => page.locator('tt-drawing').getByRole('switch', { name });
const undo = (page: Page) => page.getByRole('button', { name: /^undo/ });

journey('contacts are drawn as they are, and a click or a key switches them in one step of undo', async ({ page }) => {
  await openGate(page);
  await expect.poll(() => contact(page, 'jumper J1').getAttribute('aria-checked')).toBe('true');
  const strokes = (name: string) =>
    part(page, name)
      .locator('path')
      .evaluateAll((paths) => paths.map((path) => path.getAttribute('d')).join());
  const plugged = await strokes('J1');
  await part(page, 'J1').click();
  await expect.poll(() => contact(page, 'jumper J1').getAttribute('aria-checked')).toBe('false');
  await expect.poll(() => strokes('J1')).not.toBe(plugged);
  await expect.poll(() => textOf(undo(page))).toBe('undo : open J1');
  await untilComputed(page);
  await contact(page, 'jumper J1').focus();
  await page.keyboard.press('Enter');
  await expect.poll(() => contact(page, 'jumper J1').getAttribute('aria-checked')).toBe('true');
  await expect.poll(() => textOf(undo(page))).toBe('undo : close J1');
  await page.keyboard.press('Control+z');
  await expect.poll(() => contact(page, 'jumper J1').getAttribute('aria-checked')).toBe('false');
  await page.keyboard.press('Control+z');
  await expect.poll(() => strokes('J1')).toBe(plugged);

  // The page plans to close S1 from 1 s to 2 s.
  const chart = page.locator('tt-cell#look tt-trace .chart');
  await chart.focus();
  await page.keyboard.press('Home');
  await expect.poll(() => contact(page, 'switch S1').getAttribute('aria-checked')).toBe('false');
  for (let step = 0; step < 15; step += 1) await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(() => contact(page, 'switch S1').getAttribute('aria-checked')).toBe('true');
  await page.keyboard.press('End');
  await expect.poll(() => contact(page, 'switch S1').getAttribute('aria-checked')).toBe('false');
});

journey(
  'a chosen part marks its nets and its lanes, opens its list and has its knob at the drawing',
  async ({ page }) => {
    await openGate(page);
    const marked = page.locator('tt-drawing .wire.marked');
    const lanes = page.locator('tt-cell#look .lane-mark');
    const list = page.locator('tt-cell#gate tt-board details.all');
    await expect.poll(() => marked.count()).toBe(0);
    await expect.poll(() => list.getAttribute('open')).toBeNull();
    await part(page, 'R1').click();
    await expect.poll(() => marked.count()).toBeGreaterThan(1);
    await expect.poll(() => page.locator('tt-drawing .net.marked').allTextContents()).toEqual(['top']);
    // Of the four lanes, the net above R1 and its own current.
    await expect.poll(() => lanes.count()).toBe(2);
    await expect.poll(() => list.getAttribute('open')).toBe('');
    await expect.poll(() => page.locator('tt-cell#gate tt-parts tr.chosen').isVisible()).toBe(true);
    const knob = page.locator('tt-chosen-part').getByRole('slider', { name: 'R1, resistance at the drawing' });
    await knob.focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => textOf(undo(page))).toMatch(/^undo : R1 to 1\.\d.kΩ$/u);
    // A part without a knob has its values there.
    await part(page, 'BT1').locator('.part').click();
    const volts = page.locator('tt-chosen-part').getByLabel(/^BT1, voltage of plus/);
    await volts.fill('12 V');
    await volts.press('Enter');
    await expect.poll(() => textOf(undo(page))).toBe('undo : BT1 voltage to 12 V');
  },
);

journey('a jumper to another board stands in the drawing and is worked in a run by hand', async ({ page }) => {
  await openGate(page);
  const link = contact(page, 'jumper link1 to bell.button');
  await expect.poll(() => link.getAttribute('aria-checked')).toBe('false');
  await part(page, 'link 1').click();
  await expect.poll(() => link.getAttribute('aria-checked')).toBe('true');
  await expect.poll(() => textOf(undo(page))).toBe('undo : close link1');
  await untilComputed(page);
  await page.keyboard.press('Control+z');
  await untilComputed(page);

  await page.locator('tt-hands-on').getByRole('button', { name: 'next event' }).click();
  const work = page.locator('tt-hands-on').getByRole('button', { name: 'plug in link1 to bell.button' });
  await work.click();
  const said = page.locator('tt-hands-on').getByRole('status');
  await expect.poll(() => textOf(said)).toContain('link1 to bell.button closes');
  // In a run by hand the drawing shows what the hand did, and the page stays as it is.
  await expect.poll(() => textOf(undo(page))).toBe('undo');
  await expect.poll(() => link.count()).toBe(0);
});

journey('the board in hand is drawn by the standard that its cell names', async ({ page }) => {
  await openGate(page);
  const resistor = () => part(page, 'R1').locator('path').first().getAttribute('d');
  const iec = await resistor();
  await page.locator('tt-cell#bell').click({ position: { x: 5, y: 5 } });
  await part(page, 'U1').or(part(page, 'C1')).first().waitFor();
  await expect.poll(() => resistor()).not.toBe(iec);
  expect(await accessibilityFaults(page)).toEqual([]);
});

journey('the start page runs the axle counter, says what came of it, and leads to its knob', async ({ page }) => {
  const run = page.locator('tt-opening-run');
  await run.locator('.told').waitFor();
  // Axles 150 ms apart, an interval of 1.1 R C = 0.517 s (TI SLFS022I, p. 10): every fourth starts one.
  await expect.poll(() => textOf(run.locator('.told'))).toContain('the ratio is 4');
  await page.setViewportSize({ width: 390, height: 844 });
  await expect.poll(() => run.getByRole('img').isVisible()).toBe(true);
  expect(await accessibilityFaults(page)).toEqual([]);
  await run.getByRole('link', { name: 'turn R1' }).click();
  await page.getByRole('heading', { level: 1, name: 'Axle counter' }).waitFor();
});

journey(
  'on a small phone a drawing scrolls in a region of its own, says what it goes on to, stays readable, and is enlarged',
  async ({ browser, address }) => {
    const context = await browser.newContext({ viewport: { width: 360, height: 800 }, locale: 'en-US' });
    const page = await context.newPage();
    await page.goto(address);
    await page.getByRole('link', { name: 'Platform lamp', exact: true }).click();
    await page.getByRole('button', { name: 'show the circuit in hand' }).click();
    const region = page.getByRole('region', { name: 'Circuit of platform, wider than its place' });
    await region.focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => region.evaluate((element) => element.scrollLeft)).toBeGreaterThan(0);
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.keyboard.press('ArrowLeft');
    await page.getByRole('button', { name: 'further right: R3 and D1' }).click();
    await page.getByRole('button', { name: 'further left: BT1' }).click();
    // A part that is chosen elsewhere comes into view.
    await page.locator('tt-notebook main').evaluate((main) => {
      main.dispatchEvent(Object.assign(new Event('tt-part', { bubbles: true, composed: true }), { part: 'R3' }));
    });
    await expect.poll(() => region.evaluate((element) => element.scrollLeft)).toBeGreaterThan(0);
    // On a usual one all of it has room.
    await page.setViewportSize({ width: 390, height: 844 });
    await expect.poll(() => region.count()).toBe(0);
    await expect.poll(() => page.getByRole('button', { name: /further/ }).count()).toBe(0);

    // Sizes as they are on the screen, the scale of the drawing included.
    const smallest = (): Promise<number> =>
      page.locator('tt-drawing svg').evaluate((svg: SVGSVGElement) => {
        const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
        return Math.min(
          ...[...svg.querySelectorAll('text')].map((text) => parseFloat(getComputedStyle(text).fontSize) * scale),
        );
      });
    await expect.poll(smallest).toBeGreaterThanOrEqual(11.99);

    // Boxes of texts as the browser sets them, not as they were reckoned.
    const overlapping = (): Promise<string[]> =>
      page.locator('tt-drawing svg').evaluate((svg: SVGSVGElement) => {
        const texts = [...svg.querySelectorAll('text')].filter((text) => text.textContent !== '');
        const boxes = texts.map((text) => ({ text: text.textContent, box: text.getBoundingClientRect() }));
        return boxes.flatMap(({ text, box }, index) =>
          boxes
            .slice(index + 1)
            .filter(
              ({ box: other }) =>
                // The boxes of lines reach a little above and below their letters.
                box.left < other.right &&
                other.left < box.right &&
                box.top + 2 < other.bottom - 2 &&
                other.top + 2 < box.bottom - 2,
            )
            .map((other) => `${text} and ${other.text}`),
        );
      });
    await expect.poll(overlapping).toEqual([]);

    await page.getByRole('button', { name: 'enlarge the drawing' }).click();
    const dialog = page.getByRole('dialog', { name: 'circuit of platform' });
    await dialog.waitFor();
    await expect.poll(() => dialog.locator('tt-drawing [data-part="D1"]').count()).toBe(1);
    // Larger than it stands on the page, though all of it no longer has room at once: the part that was chosen is in view.
    const widthOf = (place: Locator): Promise<number> =>
      place.locator('tt-drawing svg').evaluate((svg) => svg.getBoundingClientRect().width);
    const usual = await widthOf(page.locator('tt-circuit .drawings'));
    await expect.poll(() => widthOf(dialog)).toBeGreaterThan(1.2 * usual);
    await dialog.getByRole('button', { name: /^← further left: / }).waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => dialog.count()).toBe(0);
    await context.close();
  },
);

journey('drawings of a board with two timers say where their nets go on', async ({ page }) => {
  await openExample(page, 'What the rule leaves out');
  await untilComputed(page);
  await page.locator('tt-cell#crossing_board').click();
  const circuit = page.locator('tt-circuit');
  await expect.poll(() => circuit.getByText('handed goes on at trigger of U2 and R3.').count()).toBe(1);
  await expect.poll(() => circuit.getByText('handed goes on at C2.').count()).toBe(1);
  await page.getByRole('button', { name: 'enlarge the drawing' }).click();
  const large = page.getByRole('dialog', { name: 'circuit of crossing' });
  await expect.poll(() => large.getByText('handed goes on at C2.').count()).toBe(1);
});
