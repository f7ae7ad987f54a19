import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { focusName, openDocument, untilComputed } from './open-page.ts';

const COLOURS = ['red', 'bright_red', 'yellow', 'green', 'blue', 'white'] as const;

/** A signal mast with a lamp of every colour, each behind a resistor of its own. */
const mast = {
  format: 'two-thirds',
  version: 1,
  title: 'Signal mast',
  boards: {
    mast: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' },
        ...COLOURS.flatMap((colour, index) => [
          { name: `R${index + 1}`, kind: 'resistor', a: 'rail', b: `lamp${index + 1}`, resistance: '270 Ω' },
          { name: `D${index + 1}`, kind: 'led', a: `lamp${index + 1}`, b: 'ground', colour },
        ]),
      ],
    },
  },
  page: [
    { id: 'circuit', kind: 'board', board: 'mast', knobs: ['R1', 'R2', 'R3', 'R4', 'R5'] },
    { id: 'look', kind: 'trace', board: 'mast', until: '1 s', show: ['rail'] },
  ],
};

/** What the drawing shows of every lamp: the colour of its light, and how its ring is drawn; nothing where there is none. */
function lampLooks(page: Page): Promise<{ fill: string | undefined; ring: string | undefined }[]> {
  return page.evaluate((count) => {
    const notebook = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook')?.shadowRoot;
    const circuit = notebook?.querySelector('tt-circuit')?.shadowRoot;
    const root = circuit?.querySelector('tt-drawings')?.shadowRoot ?? circuit;
    const drawing = root?.querySelector('tt-drawing')?.shadowRoot;
    return Array.from({ length: count }, (_, index) => {
      const lamp = drawing?.querySelector(`.symbol[data-part="D${index + 1}"]`);
      const [glow, ring] = [lamp?.querySelector('.glow'), lamp?.querySelector('.ring')];
      return {
        fill: glow ? getComputedStyle(glow).fill : undefined,
        ring: ring ? `${getComputedStyle(ring).fill} ${getComputedStyle(ring).strokeWidth}` : undefined,
      };
    });
  }, COLOURS.length);
}

/** What a colour of the theme is as the browser has it. */
function themeColour(page: Page, name: string): Promise<string> {
  return page.evaluate(
    (property) => {
      const sample = document.createElement('span');
      document.body.append(sample);
      sample.style.color = `var(${property})`;
      const { color } = getComputedStyle(sample);
      sample.remove();
      return color;
    },
    `--lamp-${name.replace('_', '-')}`,
  );
}

for (const colorScheme of ['light', 'dark'] as const) {
  journey(`lit lamps shine in their own colour inside a ring, ${colorScheme} theme`, async ({ page }) => {
    await page.emulateMedia({ colorScheme });
    await openDocument(page, mast);
    const wanted: string[] = [];
    for (const colour of COLOURS) wanted.push(await themeColour(page, colour));
    // Told apart by colour where it can be seen; by the ring where it cannot.
    expect(new Set(wanted).size).toBe(COLOURS.length);
    await expect.poll(async () => (await lampLooks(page)).map(({ fill }) => fill)).toEqual(wanted);
    await expect
      .poll(async () => (await lampLooks(page)).map(({ ring }) => ring))
      .toEqual(COLOURS.map(() => 'none 1.5px'));
  });
}

journey('at 390 px a knob that was just made comes to the front, and the one before makes room', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openDocument(page, mast);
  const tray = page.getByRole('region', { name: 'Knobs' });
  const front = tray.getByRole('group', { name: 'Knob to turn' }).locator('[aria-pressed=true]');
  await expect.poll(() => front.innerText()).toBe('R1');
  await expect.poll(() => tray.getByRole('slider').count()).toBe(1);
  await page.getByRole('button', { name: 'knob for R6 resistance' }).click();
  await untilComputed(page);
  await expect.poll(() => front.innerText()).toBe('R6');
  await expect.poll(() => tray.getByRole('slider', { name: 'R6 resistance' }).isVisible()).toBe(true);
  await expect.poll(() => tray.getByRole('slider').count()).toBe(1);
  // Its name stands inside of the row of names, which is longer than the window is wide.
  await expect
    .poll(() =>
      front.evaluate((button) => {
        const row = button.parentElement?.getBoundingClientRect();
        const { left, right } = button.getBoundingClientRect();
        return row !== undefined && left >= row.left - 1 && right <= row.right + 1;
      }),
    )
    .toBe(true);
  // The focus stays where it was pressed.
  await expect.poll(() => focusName(page)).toBe('knob for R6 resistance');
});
