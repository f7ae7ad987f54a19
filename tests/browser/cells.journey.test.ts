import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import {
  fieldText,
  focusName,
  lookAtEverything,
  openExample,
  textOf,
  untilComputed,
  untilEditors,
  untilKept,
} from './open-page.ts';

/** The names of the cells, in page order. */
async function cellIds(page: Page): Promise<string[]> {
  return page.locator('tt-cell').evaluateAll((cells) => cells.map(({ id }) => id));
}

/** Opens the sentences of a cell by the name in its margin. */
async function openCell(page: Page, id: string): Promise<void> {
  const name = page.locator(`tt-cell#${id} button.name`);
  await name.focus();
  await name.press('Enter');
  await page.locator(`tt-cell#${id} tt-particulars`).waitFor();
}

/** Goes on with Tab until something of this name has the focus, as somebody without a pointer does. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let step = 0; step < 120; step += 1) {
    if (name.test(await focusName(page))) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab must reach ${name.source}`);
}

journey('a page about the platform lamp is built from nothing, by keyboard alone', async ({ page }) => {
  const press = (key: string) => page.keyboard.press(key);
  await tabTo(page, /^Begin an empty page$/);
  await press('Enter');
  await page.getByRole('heading', { level: 1, name: 'Untitled page' }).waitFor();
  expect(await accessibilityFaults(page)).toEqual([]);

  await tabTo(page, /^title of this page$/);
  await press('Control+a');
  await page.keyboard.type('Lamp of platform 2');
  await press('Enter');
  await tabTo(page, /^a circuit$/);
  await press('Enter');
  await tabTo(page, /^monostable$/);
  await press('Enter');
  await page.locator('tt-cell#board').waitFor();
  await expect.poll(() => focusName(page)).toMatch(/^board: what this cell is/);

  // From the new cell on, the end of the page speaks of traces too.
  await tabTo(page, /^a trace$/);
  await press('Enter');
  await expect.poll(() => focusName(page)).toMatch(/^trace: what/);
  await tabTo(page, /^readings$/);
  await press('Enter');
  await expect.poll(() => focusName(page)).toMatch(/^reading: what/);
  await tabTo(page, /^a note$/);
  await press('Enter');
  await expect.poll(() => focusName(page)).toMatch(/^text of note/);
  await page.keyboard.type('The platform is lit for [so long](#reading.width).');
  await press('Escape');
  await untilComputed(page);

  await expect.poll(() => cellIds(page)).toEqual(['board', 'trace', 'reading', 'note']);
  // 1.1 x 390 kohm x 10 uF = 4.29 s (TI SLFS022I, p. 10) for the ideal 2/3 of the supply.
  await expect.poll(() => textOf(page.locator('tt-cell#note .text'))).toMatch(/^The platform is lit for 4\.2\d.s/u);
  await expect.poll(() => page.locator('tt-cell#trace path.trace').count()).toBeGreaterThan(0);
  await expect.poll(() => page.locator('.complaint').count()).toBe(0);

  // The note goes to the top, from the name in its margin.
  await page.keyboard.press('Shift+Tab');
  await tabTo(page, /^note: what/);
  for (let place = 0; place < 3; place += 1) await press('Alt+ArrowUp');
  await expect.poll(() => cellIds(page)).toEqual(['note', 'board', 'trace', 'reading']);
  await expect.poll(() => focusName(page)).toMatch(/^note: what/);
  await press('ArrowDown');
  await expect.poll(() => focusName(page)).toMatch(/^board: what/);
  await press('Enter');
  await page.locator('tt-particulars').waitFor();
  expect(await accessibilityFaults(page)).toEqual([]);
});

journey('each command on a cell is one step of undo with a name, and the focus is never lost', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  await lookAtEverything(page);
  await untilComputed(page);
  const before = await cellIds(page);
  await openCell(page, 'question');
  const acts = page.getByRole('group', { name: 'What to do with question' });

  await acts.getByRole('button', { name: 'move it down' }).click();
  await expect.poll(async () => (await cellIds(page)).slice(0, 2)).toEqual(['board', 'question']);
  await expect.poll(() => focusName(page)).toBe('move it down');

  await acts.getByRole('button', { name: 'duplicate it' }).click();
  await expect.poll(() => focusName(page)).toMatch(/^question2: what/);
  await expect.poll(async () => (await cellIds(page)).slice(0, 3)).toEqual(['board', 'question', 'question2']);

  await page.keyboard.press('Delete');
  await expect.poll(() => focusName(page)).toMatch(new RegExp(`^${before[2]}: what`));

  const undo = page.getByRole('button', { name: /^undo/ });
  await expect.poll(() => textOf(undo)).toBe('undo : delete note');
  await undo.click();
  await expect.poll(() => textOf(undo)).toBe('undo : duplicate note');
  await undo.click();
  await undo.click();
  await expect.poll(() => cellIds(page)).toEqual(before);
  // Nothing is left to be undone; the focus stays all the same.
  await expect.poll(() => focusName(page)).toBe('undo');
  await page.getByRole('button', { name: /^redo: move note down/ }).click();
  await expect.poll(async () => (await cellIds(page)).slice(0, 2)).toEqual(['board', 'question']);
});

/** Presses a key on what has the focus; the name of what has it then, before the page has time for anything else. */
async function focusRightAfter(page: Page, key: string, altKey = false): Promise<string> {
  return page.evaluate(
    async (pressed) => {
      const focus = (): Element | null => {
        let element = document.activeElement;
        while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
        return element;
      };
      const event = new KeyboardEvent('keydown', { ...pressed, bubbles: true, composed: true, cancelable: true });
      focus()?.dispatchEvent(event);
      // The elements that follow at once are drawn one after the other.
      for (let step = 0; step < 500; step += 1) await Promise.resolve();
      return focus()?.getAttribute('aria-label') ?? '';
    },
    { key, altKey },
  );
}

journey('a key pressed right after a cell was moved or deleted finds the focus there', async ({ page }) => {
  // In a low window the neighbours of large cells are far out of sight, and drawn later than those in sight.
  await page.setViewportSize({ width: 1280, height: 300 });
  await openExample(page, 'Platform lamp');
  await lookAtEverything(page);
  await untilComputed(page);
  const [first, board, ...others] = await cellIds(page);
  await page.locator(`tt-cell#${board} button.name`).focus();
  for (const places of ['ArrowDown', 'ArrowUp', 'ArrowUp']) {
    const focus = await focusRightAfter(page, places, true);
    expect(focus).toMatch(/^board: what/);
  }
  await expect.poll(() => cellIds(page)).toEqual([board, first, ...others]);
  const afterBoard = await focusRightAfter(page, 'Delete');
  expect(afterBoard).toMatch(new RegExp(`^${first}: what`));
  await page.locator(`tt-cell#${others[1]} button.name`).focus();
  for (const next of others.slice(2, 6)) {
    const focus = await focusRightAfter(page, 'Delete');
    expect(focus).toMatch(new RegExp(`^${next}: what`));
  }
});

journey('a folded cell is one line, and stays folded at the next visit', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  await openCell(page, 'question');
  await page.getByRole('button', { name: 'Fold it' }).click();
  await page.getByRole('button', { name: /^unfold question: A visitor/ }).waitFor();
  await expect.poll(() => page.locator('tt-cell#question tt-note').count()).toBe(0);
  await untilComputed(page);
  await untilKept(page);
  await page.reload();
  await page.getByRole('button', { name: /^unfold question/ }).click();
  await page.locator('tt-cell#question tt-note').waitFor();
});

journey('an undo that takes away the cell in focus hands the focus to its neighbour', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  const end = page.getByRole('group', { name: 'Go on at the end' });
  await end.getByRole('button', { name: 'a trace' }).click();
  await expect.poll(() => focusName(page)).toMatch(/^trace: what/);
  await page.keyboard.press('Control+z');
  await page.locator('tt-cell#trace').waitFor({ state: 'detached' });
  await expect.poll(() => focusName(page)).toMatch(/: what this cell is/);
});

journey('what refers to a cell or a reading follows its new name', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  await openCell(page, 'numbers');
  const name = page.getByLabel('name of this cell');
  await name.fill('2 numbers');
  await name.press('Enter');
  await expect.poll(() => textOf(page.locator('tt-cell#numbers tt-particulars'))).toContain('must be a letter');
  await name.fill('measured');
  await name.press('Enter');
  await page.locator('tt-cell#measured').waitFor();
  await expect.poll(() => focusName(page)).toBe('name of this cell');
  await page.locator('tt-cell#measured').getByLabel('name of spacing').fill('gap');
  await page.locator('tt-cell#measured').getByLabel('name of spacing').press('Enter');
  await untilComputed(page);
  // The note that quotes the spacing shows it as before.
  await expect.poll(() => textOf(page.locator('tt-cell#guess'))).toMatch(/150.ms/u);
  await expect.poll(() => page.locator('.complaint').count()).toBe(0);
});

journey('names are offered while they are typed, and are taken by key', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  await untilEditors(page);
  const more = page.locator('tt-cell#numbers').getByLabel('one more reading', { exact: true });
  await more.focus();
  await page.keyboard.type('peak(tim');
  await page.getByRole('listbox').waitFor();
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await expect.poll(() => fieldText(more)).toBe('peak(timing');
  await page.keyboard.type(')');
  await page.keyboard.press('Enter');
  await untilComputed(page);
  // Two thirds of 12 V.
  await expect
    .poll(() => textOf(page.locator('tt-cell#numbers').getByRole('row', { name: /^peak/ })))
    .toMatch(/8\.00.V/u);
  const asked = page.locator('tt-cell#numbers').getByLabel('what peak reads');
  await asked.fill('');
  await asked.press('Enter');
  await expect.poll(() => page.locator('tt-cell#numbers').getByRole('row', { name: /^peak/ }).count()).toBe(0);
});

journey(
  'board, section and waiting of a cell are chosen in its sentences; knobs complain where they stand',
  async ({ page }) => {
    await openExample(page, 'Axle counter');
    await lookAtEverything(page);
    await untilComputed(page);
    await openCell(page, 'by_one');
    await page.getByLabel('section', { exact: true }).selectOption('explain');
    await page.locator('tt-cell#by_one').getByRole('heading', { name: 'explain' }).waitFor();
    await page.getByLabel('when its result shows').selectOption('waits for a prediction');
    await page.locator('tt-cell#by_one tt-prediction').waitFor();
    await openCell(page, 'board');
    const knobs = page.getByLabel('parts and fields with a knob');
    await knobs.fill('R1, R99');
    await knobs.press('Enter');
    await untilComputed(page);
    await expect.poll(() => textOf(page.locator('tt-cell#board tt-particulars'))).toContain('R99');
    await expect.poll(() => knobs.getAttribute('aria-invalid')).toBe('true');
  },
);

journey('the circuit in hand is that of the cell being read', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  await untilComputed(page);
  const circuit = page.getByRole('complementary', { name: 'Circuit in hand' });
  const first = await textOf(circuit.getByRole('heading').first());
  await page.locator('tt-cell#stop_look').evaluate((cell) => cell.scrollIntoView({ block: 'center' }));
  await expect.poll(() => textOf(circuit.getByRole('heading').first())).not.toBe(first);
  // While a knob is turned the page is scrolled to watch its effect: the circuit stays.
  const turned = await textOf(circuit.getByRole('heading').first());
  await page
    .getByRole('slider', { name: /resistance/ })
    .first()
    .focus();
  await page.evaluate(() => window.scrollTo(0, 0));
  await page.waitForTimeout(200);
  await expect.poll(() => textOf(circuit.getByRole('heading').first())).toBe(turned);
});

journey('nothing is fetched after the page is there, whatever is edited', async ({ page, address }) => {
  await openExample(page, 'Platform lamp');
  await lookAtEverything(page);
  await untilComputed(page);
  await untilEditors(page);
  const there = await page.evaluate(() => performance.getEntriesByType('resource').map(({ name }) => name));
  const requests: string[] = [];
  // A worker that takes the place of one that was too slow is the same program once more.
  page.on('request', (request) => {
    if (!there.includes(request.url())) requests.push(request.url());
  });
  await page.getByRole('group', { name: 'Go on at the end' }).getByRole('button', { name: 'readings' }).click();
  await openCell(page, 'question');
  await page.getByLabel('section', { exact: true }).selectOption('predict');
  await page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).fill('470k');
  await page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).press('Enter');
  await untilComputed(page);
  await page.getByRole('button', { name: 'share as link' }).click();
  await page.getByLabel('link to this page').waitFor();
  // Parts of the program itself may come late; nothing else, and nothing from elsewhere.
  expect(requests.filter((url) => !url.startsWith(new URL('assets/', address).href))).toEqual([]);
  expect(requests).toEqual([]);
});
