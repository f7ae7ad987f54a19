import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { twoTracks } from '../support/two-tracks.ts';
import { lookAtEverything, openDocument, openExample, restingBox, textOf, untilComputed } from './open-page.ts';

/** What the page says of the first board: the ratio, the trace as drawn, the fates counted. */
async function said(page: Page): Promise<{ ratio: string; trace: string; fates: string }> {
  await untilComputed(page);
  const numbers = page.locator('tt-cell#numbers');
  return {
    ratio: await textOf(
      numbers
        .getByRole('row', { name: /^ratio/ })
        .getByRole('cell')
        .first(),
    ),
    trace: (await page.locator('tt-cell#look path.trace').getAttribute('d')) ?? '',
    fates: await textOf(page.locator('tt-cell#why').getByRole('list')),
  };
}

journey('turning a resistor changes ratio, trace and fates, and undo brings them back', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).focus();
  await expect.poll(async () => (await said(page)).ratio).toBe('4');
  const before = await said(page);

  const knob = page.getByRole('slider', { name: 'R1 resistance' });
  await knob.focus();
  for (let turn = 0; turn < 8; turn += 1) await knob.press('ArrowRight');
  // Eight steps of E24 up from 100 kΩ.
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toMatch(/^220.kΩ$/u);
  await expect.poll(async () => Number((await said(page)).ratio)).toBeGreaterThan(4);
  await expect.poll(async () => (await said(page)).trace).not.toBe(before.trace);
  await expect.poll(async () => (await said(page)).fates).not.toBe(before.fates);

  // The whole turn is one step of undo.
  await page.getByRole('button', { name: /^undo/ }).click();
  await expect.poll(() => said(page)).toEqual(before);
});

journey(
  'a knob is pulled by the pointer, rests on preferred values, and goes back to where it was',
  async ({ page }) => {
    await openExample(page, 'Axle counter');
    const knob = page.getByRole('slider', { name: 'R1 resistance' });
    await knob.waitFor();
    const box = await restingBox(knob);
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    await page.mouse.move(middle.x, middle.y);
    await page.mouse.down();
    await page.mouse.move(middle.x - 60, middle.y, { steps: 6 });
    await page.mouse.up();
    const value = async (): Promise<number> => Number(await knob.getAttribute('aria-valuenow'));
    await expect.poll(value).toBeGreaterThan(100_000);
    const preferred = [110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300].map((each) => each * 1000);
    await expect.poll(async () => preferred.includes(await value())).toBe(true);
    const turned = await value();

    await page.keyboard.down('Shift');
    await knob.press('ArrowRight');
    await page.keyboard.up('Shift');
    // One hundredth of itself, off the preferred values.
    await expect.poll(value).toBeCloseTo(turned * 1.01, -1);

    await page.getByRole('button', { name: /back to 100.kΩ/u }).click();
    await expect.poll(() => knob.getAttribute('aria-valuenow')).toBe('100000');
  },
);

journey('Home and End turn a knob to the ends it states, and the whole of every label is seen', async ({ page }) => {
  await openExample(page, 'Axle counter');
  const knob = page.getByRole('slider', { name: 'R1 resistance' });
  await knob.waitFor();
  const stated = async (name: string): Promise<number> => Number(await knob.getAttribute(`aria-value${name}`));
  const [least, greatest] = [await stated('min'), await stated('max')];
  await knob.press('End');
  await expect.poll(() => stated('now')).toBe(greatest);
  await expect.poll(() => knob.getAttribute('aria-valuetext')).toMatch(/^100.MΩ$/u);
  await knob.press('ArrowRight');
  await expect.poll(() => stated('now')).toBe(greatest);
  await knob.press('Home');
  await expect.poll(() => stated('now')).toBe(least);
  await expect.poll(async () => [await stated('min'), await stated('max')]).toEqual([least, greatest]);

  const cut = (): Promise<(string | null)[]> =>
    page.locator('tt-tray tt-knob').evaluateAll((knobs) =>
      knobs.flatMap((each) => {
        const tape = each.shadowRoot?.querySelector('.tape');
        const box = tape?.getBoundingClientRect();
        return [...(tape?.querySelectorAll('text') ?? [])]
          .filter((text) => {
            const { left, right } = text.getBoundingClientRect();
            return box === undefined || left < box.left || right > box.right;
          })
          .map((text) => text.textContent);
      }),
    );
  await expect.poll(cut).toEqual([]);
});

journey('tray and circuit in hand name the board they belong to', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  const tray = page.getByRole('region', { name: 'Knobs' });
  const circuit = page.getByRole('complementary', { name: 'Circuit in hand' });
  await page.locator('tt-cell#look').getByRole('slider').focus();
  await expect.poll(() => tray.getByRole('heading').first().innerText()).toMatch(/coaches$/);
  await expect.poll(() => circuit.getByRole('heading').first().innerText()).toMatch(/coaches$/);
  await page.locator('tt-cell#stop_look').getByRole('slider').focus();
  await expect.poll(() => tray.getByRole('heading').first().innerText()).toMatch(/stopped$/);
  await expect.poll(() => circuit.getByRole('heading').first().innerText()).toMatch(/stopped$/);
});

journey('a value that cannot be used says so at its field; the rest of the page goes on', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  const board = page.locator('tt-cell#board');
  const field = board.getByLabel('R1 resistance', { exact: true });
  const trace = await page.locator('tt-cell#look path.trace').getAttribute('d');
  await field.fill('about 5');
  await field.press('Enter');
  await untilComputed(page);

  await expect.poll(() => field.getAttribute('aria-invalid')).toBe('true');
  await expect.poll(() => field.inputValue()).toBe('about 5');
  const told = board.locator('tt-value', { has: page.getByLabel('R1 resistance', { exact: true }) });
  await expect.poll(() => textOf(told)).toMatch(/must be a resistance.*about 5/);
  // The last good results stay, and say where they come from.
  await expect.poll(() => page.locator('tt-cell#look path.trace').getAttribute('d')).toBe(trace);
  await expect.poll(() => textOf(page.locator('tt-cell#look'))).toContain('from the values before');
  // Another board is not concerned.
  await expect.poll(() => textOf(page.locator('tt-cell#stop_look'))).not.toContain('from the values before');
  await page.locator('tt-cell#board').getByLabel('C1 capacitance', { exact: true }).fill('10 µF');
  await expect.poll(() => field.inputValue()).toBe('about 5');

  await field.fill('100k');
  await field.press('Enter');
  await untilComputed(page);
  await expect.poll(() => field.getAttribute('aria-invalid')).toBe('false');
  await expect.poll(() => textOf(page.locator('tt-cell#look'))).not.toContain('from the values before');
});

journey('a reading and a window are edited in place', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  const numbers = page.locator('tt-cell#numbers');
  await numbers.getByLabel('what ratio reads').fill('count(out)');
  await numbers.getByLabel('what ratio reads').press('Enter');
  await numbers.getByLabel('end of the window').fill('10 ms');
  await numbers.getByLabel('end of the window').press('Enter');
  await untilComputed(page);
  await expect.poll(() => textOf(numbers.getByRole('row', { name: /^ratio/ }))).toMatch(/\b0\b/);
  await expect.poll(() => textOf(numbers.getByRole('row', { name: /^width/ }))).toMatch(/no value *, because out/);
  await numbers.getByLabel('what ratio reads').fill('ratoi(out, in)');
  await numbers.getByLabel('what ratio reads').press('Enter');
  await untilComputed(page);
  await expect.poll(() => textOf(numbers.getByRole('row', { name: /^ratio/ }))).toContain('ratoi');
  await expect.poll(() => numbers.getByLabel('what ratio reads').getAttribute('aria-invalid')).toBe('true');
});

journey(
  'one cursor runs through all lanes, by keys and by pointer, and the circuit in hand follows',
  async ({ page }) => {
    await openExample(page, 'Axle counter');
    await lookAtEverything(page);
    await untilComputed(page);
    const cursor = page.locator('tt-cell#look').getByRole('slider');
    await cursor.focus();
    await cursor.press('Home');
    await cursor.press('PageDown');
    // The first event after the start: the first axle, at 100 ms, which starts the output.
    await expect.poll(() => cursor.getAttribute('aria-valuetext')).toMatch(/^100\.0.ms: in/u);
    await cursor.press('ArrowRight');
    const circuit = page.getByRole('complementary', { name: 'Circuit in hand' });
    await expect.poll(() => textOf(circuit)).toMatch(/interval\s+runs, .* to go/);

    const box = await restingBox(cursor);
    const before = await cursor.getAttribute('aria-valuenow');
    await page.mouse.click(box.x + box.width * 0.8, box.y + 60);
    await expect.poll(() => cursor.getAttribute('aria-valuenow')).not.toBe(before);
  },
);

journey('a prediction is kept while it is written, and stands beside the result', async ({ page }) => {
  await openExample(page, 'Axle counter');
  const cell = page.locator('tt-cell#look');
  await expect.poll(() => cell.locator('path.trace').count()).toBe(0);
  await cell.getByRole('textbox').fill('Three, because 515 is three times 150 and a bit.');
  await page.getByRole('link', { name: /to the start page/ }).click();
  await openExample(page, 'Axle counter');
  await expect.poll(() => cell.getByRole('textbox').inputValue()).toContain('Three, because');
  await cell.getByRole('button', { name: 'look what happens' }).click();
  await cell.locator('path.trace').waitFor();
  await expect.poll(() => textOf(cell)).toContain('Three, because');
});

journey('a note is edited where it stands; its live numbers follow, and nothing typed is lost', async ({ page }) => {
  await openExample(page, 'Axle counter');
  const note = page.locator('tt-cell#guess');
  await note.hover();
  await note.getByRole('button', { name: /edit text/ }).click();
  await note
    .getByRole('textbox')
    .fill('An axle comes every [spacing](#numbers.spacing). <b>Not</b> bold, but *this* is slanted.');
  await page.getByRole('link', { name: /to the start page/ }).click();
  await openExample(page, 'Axle counter');
  await untilComputed(page);
  await note.locator('a.quoted').waitFor();
  await expect.poll(() => textOf(note.locator('a.quoted'))).toMatch(/^150.ms$/u);
  await expect.poll(() => textOf(note.locator('em'))).toBe('this');
  await expect.poll(() => note.locator('b').count()).toBe(0);
});

journey('a long computation can be stopped, keeps the values before, and can be taken up again', async ({ page }) => {
  await openDocument(page, twoTracks);
  const look = page.locator('tt-cell#look');
  const window = look.getByLabel('end of the window');
  await window.fill('500000 s');
  await window.press('Enter');
  await look.getByRole('button', { name: 'stop computing' }).click();
  await look.getByText('computing was stopped').waitFor();
  await expect.poll(() => textOf(look)).toContain('from the values before');
  await expect.poll(() => look.locator('path.trace').count()).toBeGreaterThan(0);
  await window.fill('2 s');
  await window.press('Enter');
  await untilComputed(page);
  await expect.poll(() => textOf(look)).not.toContain('from the values before');
});

journey('readings of a run of years are there in no time', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  const numbers = page.locator('tt-cell#numbers');
  const window = numbers.getByLabel('end of the window');
  await window.fill('100000000 s');
  await window.press('Enter');
  await untilComputed(page);
  // One axle every 150 ms from 100 ms on.
  await numbers
    .getByRole('row', { name: /^axles/ })
    .getByText(/666.?666.?666/)
    .waitFor();
});
