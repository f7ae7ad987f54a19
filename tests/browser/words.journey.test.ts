import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { readyBoards } from '#sim/board/index.ts';
import { journey } from '../support/journey.ts';
import { lookAtEverything, openDocument, untilComputed } from './open-page.ts';

const root = join(import.meta.dirname, '../../worked-examples');
const files = readdirSync(root)
  .filter((name) => /^\d/.test(name))
  .flatMap((folder) =>
    readdirSync(join(root, folder))
      .filter((name) => name.endsWith('.tt.json'))
      .map((name) => join(root, folder, name)),
  );

/** Every word that whoever wrote a document chose, names that stand as fields included: those are shown as they are. */
function chosenWords(text: string): ReadonlySet<string> {
  const words = new Set<string>();
  const named = new Set(['boards', 'take', 'want', 'limits', 'parts', 'over', 'adjust', 'values', 'seen']);
  const read = (value: unknown, field: string): void => {
    if (typeof value === 'string') for (const word of value.match(/\w+/gu) ?? []) words.add(word);
    if (Array.isArray(value)) for (const each of value) read(each, '');
    else if (typeof value === 'object' && value !== null) {
      for (const [name, each] of Object.entries(value)) {
        if (named.has(field)) read(name, '');
        read(each, name);
      }
    }
  };
  read(JSON.parse(text), '');
  return words;
}

/** All that can be read or heard on the page: text, names and descriptions, what fields hold; folded lists opened. */
function everyText(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const spoken = ['aria-label', 'title', 'alt', 'aria-valuetext', 'aria-description', 'placeholder'];
    const read = (node: Node): void => {
      if (node.nodeType === Node.TEXT_NODE) found.push(node.textContent ?? '');
      if (!(node instanceof Element || node instanceof DocumentFragment)) return;
      if (node instanceof Element) {
        if (node.matches('style, script, math, .cm-editor')) return;
        if (node instanceof HTMLDetailsElement) node.open = true;
        for (const name of spoken) found.push(node.getAttribute(name) ?? '');
        if (node instanceof HTMLInputElement && node.type === 'text') found.push(node.value);
        if (node.shadowRoot !== null) read(node.shadowRoot);
      }
      node.childNodes.forEach(read);
    };
    read(document.body);
    return found.map((text) => text.replace(/\s+/gu, ' ').trim()).filter((text) => text !== '');
  });
}

/** Units are written so. */
const UNIT = /^[fpnµμmkMG]?(?:V|A|F|H|Hz|W|C|J|Ω)$/u;

/** How text books write the two parts of a period. */
const SYMBOLS = new Set(['tH', 'tL']);

/** Words that only a program would write, each with what stands around it. */
function internalWords(texts: readonly string[], chosen: ReadonlySet<string>): string[] {
  const found = texts.flatMap((text) =>
    (text.match(/\p{L}[\p{L}\p{N}_]*/gu) ?? [])
      .filter(
        (word) =>
          /\p{Ll}\p{Lu}|\p{L}_|_\p{L}/u.test(word) && !UNIT.test(word) && !SYMBOLS.has(word) && !chosen.has(word),
      )
      .map((word) => `${word}: ${text.slice(0, 100)}`),
  );
  return [...new Set(found)];
}

/** Opens what is folded, twice: what is drawn only then may hold more. */
async function shownWords(page: Page): Promise<string[]> {
  await everyText(page);
  await untilComputed(page);
  return everyText(page);
}

for (const file of files) {
  const text = readFileSync(file, 'utf8');
  const document = JSON.parse(text) as { readonly title: string };
  journey(`no word of a program stands on the page ${document.title}`, async ({ page }) => {
    await openDocument(page, document);
    if (/"hold_back": *true/.test(text)) await lookAtEverything(page);
    await expect.poll(async () => internalWords(await shownWords(page), chosenWords(text))).toEqual([]);
  });
}

for (const name of readyBoards.keys()) {
  journey(`no word of a program stands at the board ${name}`, async ({ page }) => {
    const document = {
      format: 'two-thirds',
      version: 1,
      title: `The ${name}`,
      boards: { own: { ready: name } },
      page: [{ id: 'circuit', kind: 'board', board: 'own' }],
    };
    await openDocument(page, document);
    await expect
      .poll(async () => internalWords(await shownWords(page), chosenWords(JSON.stringify(document))))
      .toEqual([]);
  });
}

journey(
  'values are called the same in a simplest case, a sentence, a table, a knob and a step of undo',
  async ({ page }) => {
    const signal = (points: readonly (readonly string[])[]) => ({ shape: 'points', points, between: 'steps' });
    const steps = signal([
      ['0 s', '0 V'],
      ['1 s', '4 V'],
    ]);
    const document = {
      format: 'two-thirds',
      version: 1,
      title: 'Names',
      boards: {
        own: {
          parts: [
            { name: 'G1', kind: 'signal', plus: 'in', minus: 'ground', wave: steps, resistance: '1 kΩ' },
            { name: 'R1', kind: 'resistor', a: 'in', b: 'ground', resistance: '1 kΩ' },
          ],
        },
      },
      page: [
        { id: 'circuit', kind: 'board', board: 'own', knobs: ['G1.wave.points[1][1]'] },
        {
          id: 'rule',
          kind: 'claim',
          board: 'own',
          until: '2 s',
          // Half of the 4 V that are there at first; it fails as soon as there are others.
          says: 'level(in, 1.5 s) = 2 V within 1 %',
          over: { 'G1.wave.points[1][1]': { from: '1 V', to: '8 V', steps: 7 } },
          trials: 20,
        },
        {
          id: 'course',
          kind: 'sweep',
          board: 'own',
          until: '2 s',
          vary: { value: 'G1.wave.points[1][1]', from: '1 V', to: '8 V', steps: 7 },
          take: { half: 'level(in, 1.5 s)' },
        },
      ],
    };
    await openDocument(page, document);
    const told = async (): Promise<string> => (await shownWords(page)).join('\n');
    await expect.poll(told).toMatch(/The simplest case against it\.\s+With G1 point 2 voltage 1.V: /u);
    await expect.poll(told).toMatch(/over G1 point 2 voltage alone$/mu);
    const knob = page.getByRole('region', { name: 'Knobs' }).getByRole('slider', { name: 'G1 point 2 voltage' });
    await knob.press('ArrowRight');
    await page.getByRole('button', { name: /^undo: G1 point 2 voltage to/ }).waitFor();
    // Fields in which the document is edited show what stands in it.
    await expect.poll(told).not.toMatch(/(?:With|over|of|to|undo:) G1\.wave/u);
  },
);
