import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { dropFile, restingBox, textOf, untilComputed } from './open-page.ts';

/** The light of every lamp, frame by frame. */
interface Frame {
  readonly now: number;
  readonly lights: Readonly<Record<string, number>>;
}

/** Signals of these frequencies, each with a lamp of its own: the lamps of a level crossing's exercise board. */
function crossing(frequencies: readonly number[]): string {
  const lamps = frequencies.flatMap((frequency, index) => [
    {
      name: `G${index}`,
      kind: 'signal',
      plus: `in${index}`,
      minus: 'ground',
      wave: { shape: 'square', frequency: `${frequency} Hz`, high: '6 V', low: '0 V', delay: `${80 * index} ms` },
    },
    { name: `R${index}`, kind: 'resistor', a: `in${index}`, b: `lamp${index}`, resistance: '330 Ω' },
    { name: `D${index}`, kind: 'led', a: `lamp${index}`, b: 'ground', colour: 'red' },
  ]);
  return JSON.stringify({
    format: 'two-thirds',
    version: 1,
    title: 'Crossing lamps',
    boards: { lamps: { parts: lamps } },
    page: [
      { id: 'board', kind: 'board', board: 'lamps' },
      { id: 'look', kind: 'trace', board: 'lamps', until: '40 s', show: ['in0', 'in1'] },
    ],
  });
}

async function open(page: Page, text: string): Promise<void> {
  await dropFile(page, 'crossing.tt.json', text);
  await page.getByRole('heading', { level: 1, name: 'Crossing lamps' }).waitFor();
  await untilComputed(page);
}

/** Watches every lamp of the drawings for some seconds. */
async function watchLamps(page: Page, seconds: number): Promise<Frame[]> {
  return page.evaluate(async (length) => {
    const deep = (root: ParentNode, selector: string): Element[] => [
      ...root.querySelectorAll(selector),
      ...[...root.querySelectorAll('*')].flatMap((each) => (each.shadowRoot ? deep(each.shadowRoot, selector) : [])),
    ];
    const drawings = deep(document, 'tt-drawing').map(({ shadowRoot }) => shadowRoot);
    const lamps = drawings.flatMap((root) => [...(root?.querySelectorAll('.symbol[data-part^="D"]') ?? [])]);
    const seen: { now: number; lights: Record<string, number> }[] = [];
    const start = performance.now();
    while (performance.now() - start < length * 1000) {
      await new Promise(requestAnimationFrame);
      const lights = lamps.map((lamp) => [
        lamp.getAttribute('data-part') ?? '',
        Number(lamp.querySelector('.glow')?.getAttribute('opacity') ?? 0),
      ]);
      seen.push({ now: performance.now() / 1000, lights: Object.fromEntries(lights) });
    }
    return seen;
  }, seconds);
}

/** When some lamp turned brighter (1) or darker (-1); those that turn in the same frame count once. */
function turnsOf(frames: readonly Frame[], wanted: 1 | -1): number[] {
  const directions = new Map<string, number>();
  return frames.flatMap(({ now, lights }, index) => {
    const before = frames[index - 1]?.lights ?? lights;
    const turned = Object.keys(lights).filter((part) => {
      const change = Math.sign((lights[part] ?? 0) - (before[part] ?? 0));
      const isTurn = change !== 0 && change !== directions.get(part);
      if (change !== 0) directions.set(part, change);
      return isTurn && change === wanted;
    });
    return turned.length > 0 ? [now] : [];
  });
}

/** The most of these times within any second. */
function mostInASecond(times: readonly number[]): number {
  return Math.max(0, ...times.map((from) => times.filter((time) => time >= from && time < from + 1).length));
}

// WCAG 2.2, success criterion 2.3.1: no more than three flashes in any second. All lamps of the page count together.
journey(
  'lamps of different rates together never flash more than three times a second; the slowest is shown as it flashes',
  async ({ page }) => {
    await open(page, crossing([0.6, 1.7, 2.3, 6, 40]));
    await page.getByRole('button', { name: 'let time pass' }).click();
    const frames = await watchLamps(page, 12);
    expect(mostInASecond(turnsOf(frames, 1))).toBeLessThanOrEqual(3);
    expect(mostInASecond(turnsOf(frames, -1))).toBeLessThanOrEqual(3);
    // 12 s at 0.6 Hz: seven flashes; a busy machine may miss some, but they are there.
    const slowest = frames.map(({ now, lights }) => ({ now, lights: { D0: lights['D0'] ?? 0 } }));
    expect(turnsOf(slowest, 1).length).toBeGreaterThanOrEqual(3);
    const strip = () => textOf(page.locator('tt-hands-on'));
    await expect.poll(strip).toMatch(/D3 \(6\.00.Hz\), D4 \(40\.0.Hz\) are shown in steady mean light/u);
    await expect.poll(strip).not.toMatch(/D0/);
  },
  60_000 * patience,
);

journey('a cursor drawn fast through a trace makes no lamp flash more than three times a second', async ({ page }) => {
  await open(page, crossing([1.3, 1.7]));
  const chart = page.locator('tt-cell#look').getByRole('slider');
  const box = await restingBox(chart);
  const frames: Frame[] = [];
  const drawAcross = async (): Promise<number> => {
    const watching = watchLamps(page, 5);
    await page.mouse.move(box.x + 150, box.y + 60);
    await page.mouse.down();
    for (let step = 0; step < 120; step += 1) {
      await page.mouse.move(box.x + 150 + ((step * 37) % 300), box.y + 60);
      await page.waitForTimeout(25);
    }
    await page.mouse.up();
    frames.push(...(await watching));
    return turnsOf(frames, 1).length;
  };
  // The lamps do change on the way, on a slow page less often; otherwise nothing would have been tried.
  await expect.poll(drawAcross, { timeout: 20_000 * patience }).toBeGreaterThan(1);
  expect(mostInASecond(turnsOf(frames, 1))).toBeLessThanOrEqual(3);
  expect(mostInASecond(turnsOf(frames, -1))).toBeLessThanOrEqual(3);
  // At rest they are what the state at the cursor is.
  const state = (): Promise<string> => textOf(page.locator('tt-circuit dl').first());
  const restsAsItIs = async (): Promise<boolean> => {
    const lit = await page.locator('tt-drawing .glow').count();
    return lit === [...(await state()).matchAll(/lamp D\d lit/g)].length;
  };
  await expect.poll(async () => [await restsAsItIs(), await state()]).toEqual([true, expect.stringMatching(/lamp D/)]);
});
