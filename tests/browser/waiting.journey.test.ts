import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { holdWorkers, tellWorkers } from './held-workers.ts';
import { dropFile, textOf, untilComputed } from './open-page.ts';

/** Ratios of a lamp in a drawer; so many points take long enough to be looked at meanwhile. */
const regions = (id: string) => ({
  id,
  kind: 'map',
  board: 'drawer',
  until: '12 s',
  x: { value: 'R1', from: '1.2 kΩ', to: '2.4 kΩ', steps: 90 },
  y: { value: 'G1.wave.period', from: '130 ms', to: '190 ms', steps: 90 },
  take: { ratio: 'ratio(out, in)' },
});

const look = { id: 'look', kind: 'trace', board: 'drawer', until: '3 s', show: ['out'] };
const says = { id: 'says', kind: 'note', text: 'It shows [width](#numbers.width).' };
const numbers = { id: 'numbers', kind: 'reading', board: 'drawer', until: '3 s', take: { width: 'width(out)' } };

async function open(page: Page, cells: readonly object[]): Promise<void> {
  const document = {
    format: 'two-thirds',
    version: 1,
    title: 'What waits',
    boards: {
      drawer: { ready: 'frequency divider', values: { R1: '2 kΩ', C1: '220 µF', 'G1.wave.period': '150 ms' } },
    },
    page: cells,
  };
  await dropFile(page, 'waits.tt.json', JSON.stringify(document));
  await page.getByRole('heading', { level: 1, name: 'What waits' }).waitFor();
}

journey('cells say that the engine has not started, or whose numbers they wait for', async ({ page }) => {
  await holdWorkers(page);
  await open(page, [says, look, numbers]);
  const cell = (id: string) => textOf(page.locator(`tt-cell#${id}`));
  await expect.poll(() => cell('look')).toContain('waits until the engine has started');
  await expect.poll(() => cell('says')).toContain('waits until the engine has started');
  // One thing is called out for the whole page, when it begins and when it ends.
  const heard = page
    .locator('main')
    .getByRole('status')
    .filter({ hasText: /comput/ });
  await expect.poll(() => textOf(heard)).toBe('the page is being computed');
  expect(await accessibilityFaults(page)).toEqual([]);
  await tellWorkers(page, 'release');
  await untilComputed(page);
  await expect.poll(() => cell('look')).not.toMatch(/waits|computed/);
  await expect.poll(() => textOf(heard)).toBe('nothing is left to compute');
});

journey('a study that waits names the one that is computed first', async ({ page }) => {
  await open(page, [regions('first'), regions('second')]);
  const second = page.locator('tt-cell#second');
  await second.getByText('waits for the map first, which is computed first').waitFor();
  await second.getByRole('button', { name: 'stop computing' }).click();
  await second.getByText('computing was stopped').waitFor();
  await expect.poll(() => textOf(second)).not.toContain('waits for');
});

journey('a cell whose worker is lost says where the reason stands, and can be computed again', async ({ page }) => {
  await holdWorkers(page);
  await open(page, [look]);
  const cell = page.locator('tt-cell#look');
  await cell.getByText('waits until the engine has started').waitFor();
  await tellWorkers(page, 'lose');
  await page
    .getByRole('alert')
    .filter({ hasText: 'The computation broke down: The engine broke. Nothing on the page is lost' })
    .waitFor();
  await cell.getByText('not computed: the top of the page says why').waitFor();
  await tellWorkers(page, 'release');
  await cell.getByRole('button', { name: 'compute', exact: true }).click();
  await untilComputed(page);
  await expect.poll(() => textOf(cell)).not.toContain('not computed');
  await expect.poll(() => page.getByText('The engine broke.').count()).toBe(0);
});

journey('cells that a link of boards keeps from being computed say so, and the circuit says why', async ({ page }) => {
  const document = {
    format: 'two-thirds',
    version: 1,
    title: 'A link that leads nowhere',
    boards: { drawer: { ready: 'frequency divider' } },
    links: [{ a: 'drawer.out', b: 'missing.in', closed: true }],
    page: [{ id: 'circuit', kind: 'board', board: 'drawer' }, look],
  };
  await dropFile(page, 'linked.tt.json', JSON.stringify(document));
  const cell = page.locator('tt-cell#look');
  await cell.getByText('stopped: a link between boards cannot be used, and the circuit says why').waitFor();
  await expect.poll(() => textOf(cell)).not.toContain('links[0]');
  await page
    .locator('tt-cell#circuit')
    .getByText(/must begin with a board \(drawer\); got "missing.in"/)
    .waitFor();
  await page.getByText(/Nothing to draw yet: something of this board cannot be used/).waitFor();
});
