import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { openExample } from './open-page.ts';

journey('edits made before the page is drawn again are all kept, each with a step of undo', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  const title = page.getByRole('heading', { level: 1 });
  const undo = page.getByRole('button', { name: /^undo/ });
  // In one stretch: a title, a value that may still be turned further, its end, and another title.
  await page.locator('tt-notebook main').evaluate((main) => {
    const send = (type: string, fields: object) =>
      main.dispatchEvent(Object.assign(new Event(type, { bubbles: true, composed: true }), fields));
    send('tt-edit', { edit: { path: ['title'], value: 'Lamp of platform 1', label: 'title to platform 1' } });
    const value = ['boards', 'platform', 'values', 'R1'];
    send('tt-edit', { edit: { path: value, value: '470 kΩ', label: 'R1 to 470 kΩ', joins: 'R1' } });
    send('tt-settle', {});
    send('tt-edit', { edit: { path: value, value: '560 kΩ', label: 'R1 to 560 kΩ', joins: 'R1' } });
    send('tt-edit', { edit: { path: ['title'], value: 'Lamp of platform 2', label: 'title to platform 2' } });
  });
  const steps = ['title to platform 2', 'R1 to 560 kΩ', 'R1 to 470 kΩ', 'title to platform 1'];
  await expect.poll(() => title.textContent()).toBe('Lamp of platform 2');
  for (const step of steps) {
    await expect.poll(() => undo.textContent()).toContain(step);
    await undo.click();
  }
  await expect.poll(() => title.textContent()).toBe('Platform lamp');
  await expect.poll(async () => (await undo.textContent())?.trim()).toBe('undo');
});

journey('an edit that is undone before the page is drawn again is gone', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  await page.locator('tt-notebook main').evaluate((main) => {
    const edit = { path: ['title'], value: 'Lamp of platform 1', label: 'title to platform 1' };
    main.dispatchEvent(Object.assign(new Event('tt-edit', { bubbles: true, composed: true }), { edit }));
    window.dispatchEvent(new KeyboardEvent('keydown', { key: 'z', ctrlKey: true, cancelable: true }));
  });
  const redo = page.getByRole('button', { name: /^redo/ });
  await expect.poll(() => redo.textContent()).toContain('title to platform 1');
  await expect.poll(() => page.getByRole('heading', { level: 1 }).textContent()).toBe('Platform lamp');
});

journey('cells folded before the page is drawn again are all folded', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  const cells = page.locator('tt-cell');
  await page.locator('tt-notebook main').evaluate((main) => {
    for (const cell of ['question', 'board']) {
      const command = { act: 'fold', cell };
      main.dispatchEvent(Object.assign(new Event('tt-command', { bubbles: true, composed: true }), { command }));
    }
  });
  await expect.poll(() => cells.locator('tt-folded').count()).toBe(2);
});
