import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { readyBoards } from '#sim/board/index.ts';
import { SYMBOL_STANDARDS } from '#sim/document/index.ts';
import { journey } from '../support/journey.ts';
import { openDocument } from './open-page.ts';

/** Least room between a voltage and the name of a part, as a share of the height of the voltage's text. */
const ROOM = 0.15;

/** The voltages of the drawing that stand too near to a name of a part, each with that name; and how many there are. */
function crowded(page: Page): Promise<{ readonly voltages: number; readonly near: readonly string[] }> {
  return page.evaluate((room) => {
    const deep = (root: ParentNode, selector: string): Element[] => [
      ...root.querySelectorAll(selector),
      ...[...root.querySelectorAll('*')].flatMap((each) => (each.shadowRoot ? deep(each.shadowRoot, selector) : [])),
    ];
    const voltages = deep(document, 'tt-drawing text.voltage, text.voltage');
    const names = deep(document, 'text.part');
    const near = voltages.flatMap((voltage) => {
      const one = voltage.getBoundingClientRect();
      const gap = room * one.height;
      return names.flatMap((name) => {
        const other = name.getBoundingClientRect();
        const isBeside = one.left < other.right + gap && other.left < one.right + gap;
        const isNear = one.top < other.bottom + gap && other.top < one.bottom + gap;
        return isBeside && isNear ? [`${voltage.textContent} at ${name.textContent}`] : [];
      });
    });
    return { voltages: voltages.length, near };
  }, ROOM);
}

for (const standard of SYMBOL_STANDARDS) {
  journey(`voltages of a run by hand keep clear of names of parts, symbols of ${standard}`, async ({ page }) => {
    for (const name of readyBoards.keys()) {
      await openDocument(page, {
        format: 'two-thirds',
        version: 1,
        title: `The ${name}`,
        boards: { own: { ready: name } },
        page: [{ id: 'circuit', kind: 'board', board: 'own', standard }],
      } as { title: string });
      await page.getByRole('button', { name: 'next event', exact: true }).click();
      await expect.poll(async () => (await crowded(page)).voltages).toBeGreaterThan(4);
      await expect.poll(async () => (await crowded(page)).near).toEqual([]);
    }
  });
}
