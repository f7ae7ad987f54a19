import { deflateRawSync } from 'node:zlib';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { accessibilityFaults } from './accessible.ts';
import { textOf } from './open-page.ts';

const text = [
  'The lamp is lit for $t = R_1 C_1 \\ln 3$, and a bag costs $3 or $4.',
  '',
  '$$\\frac{t}{R_1 C_1} = \\ln 3 \\approx 1.1$$',
  '',
  'This one is not finished: $\\frac{t}{R_1$.',
  '',
  'This one wants more than it may: $\\href{javascript:alert(1)}{t}$.',
].join('\n');

journey('formulas in a note are set as formulas, and what cannot be read says where', async ({ page, address }) => {
  const document = { format: 'two-thirds', version: 1, title: 'Rules', page: [{ id: 'rule', kind: 'note', text }] };
  await page.goto(`${address}#page=${deflateRawSync(JSON.stringify(document)).toString('base64url')}`);
  const note = page.locator('tt-note');
  await note.locator('math').first().waitFor();
  await expect.poll(() => note.locator('math').count()).toBe(2);
  await expect.poll(() => note.locator('math msub').count()).toBe(4);
  await expect.poll(() => note.locator('.formula mfrac').count()).toBe(1);
  const words = () => textOf(note);
  await expect.poll(words).toContain('a bag costs $3 or $4.');
  await expect.poll(words).toContain('\\frac{t}{R_1 (this formula cannot be read at its end; it is written in TeX');
  await expect.poll(words).toContain('(this formula cannot be read at "\\href{javasc"');
  await expect.poll(() => note.locator('a').count()).toBe(0);
  expect(await accessibilityFaults(page)).toEqual([]);
});
