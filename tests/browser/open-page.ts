import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { patience } from '../support/slowdown.ts';

/** Opens a worked example from the start page. */
export async function openExample(page: Page, title: string): Promise<void> {
  await page.getByRole('link', { name: title, exact: true }).click();
  await page.getByRole('heading', { level: 1, name: title }).waitFor();
}

/** Lets a file fall on the page, as a person drags it there. */
export async function dropFile(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([file, content]) => {
      const data = new DataTransfer();
      data.items.add(new File([content], file));
      window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [name, text] as const,
  );
}

/** Opens a document as if its file had been dropped, and waits until the page has computed it. */
export async function openDocument(page: Page, document: { readonly title: string }): Promise<void> {
  await dropFile(page, 'dropped.tt.json', JSON.stringify(document));
  await page.getByRole('heading', { level: 1, name: document.title }).waitFor();
  await untilComputed(page);
}

/** Asks for every result that is held back, without writing a prediction. */
export async function lookAtEverything(page: Page): Promise<void> {
  const look = page.getByRole('button', { name: 'look without a prediction' });
  await look.first().waitFor();
  while ((await look.count()) > 0) {
    const id = await page.locator('tt-cell', { has: look }).first().getAttribute('id');
    const own = page.locator(`tt-cell#${id}`).getByRole('button', { name: 'look without a prediction' });
    await own.click();
    // It goes a moment later: one that is on its way out must not be asked for. Another may come with the result.
    await own.waitFor({ state: 'detached' });
  }
}

/** Waits until the page has nothing left to compute. */
export async function untilComputed(page: Page): Promise<void> {
  await page.waitForFunction(() => {
    const notebook = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook');
    return notebook?.getAttribute('aria-busy') === 'false';
  });
}

/** All text of an element, that of the elements it is made of included; `innerText` stops at their borders. */
export async function textOf(locator: Locator): Promise<string> {
  return locator.evaluate((element) => {
    const read = (node: Node): string => {
      if (node.nodeType === Node.TEXT_NODE) return node.textContent ?? '';
      if (!(node instanceof Element) || node.matches('[hidden], style')) return '';
      return [...(node.shadowRoot ?? node).childNodes].map(read).join(' ');
    };
    return read(element).replace(/\s+/g, ' ').trim();
  });
}

/**
 * Where something stands in the window once it is in sight and stands still: what is above it may still be drawn when it is
 * there already. For pointers that are moved by coordinates; `click` and `hover` wait by themselves.
 */
export async function restingBox(locator: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  await locator.scrollIntoViewIfNeeded();
  let last = await locator.boundingBox();
  const rests = async (): Promise<boolean> => {
    const before = last;
    last = await locator.boundingBox();
    return last !== null && JSON.stringify(last) === JSON.stringify(before);
  };
  await expect.poll(rests, { interval: 150 }).toBe(true);
  if (last === null) throw new Error('it must be drawn');
  return last;
}

/** What stands in a text field, be it a plain one or an editor's. */
export async function fieldText(field: Locator): Promise<string> {
  return field.evaluate((element) => {
    if (element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement) return element.value;
    const lines = [...element.querySelectorAll('.cm-line')];
    return lines
      .map((line) => (line.querySelector('.cm-placeholder') === null ? (line.textContent ?? '') : ''))
      .join('\n');
  });
}

/** Waits until the editors of expressions are there, which come after the page, each in its turn. */
export async function untilEditors(page: Page): Promise<void> {
  await page.locator('tt-expression .cm-content').first().waitFor();
  await expect.poll(() => page.locator('tt-expression textarea').count()).toBe(0);
}

/** What the knobs in the tray say. */
export async function knobTexts(page: Page): Promise<string> {
  const knobs = page.getByRole('region', { name: 'Knobs' }).getByRole('slider');
  return (await knobs.evaluateAll((all) => all.map((knob) => knob.getAttribute('aria-valuetext')))).join(', ');
}

/** How far the page reaches beyond the window, so that it would scroll sideways (px). */
export async function widthBeyond(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/**
 * What is read once it stands still: the same twice, some time apart. On a busy machine what was under way may come in late.
 *
 * @param interval how long nothing new has to come (ms).
 */
export async function standing<Read>(read: () => Promise<Read>, interval = 500 * patience): Promise<Read> {
  let last: string | undefined;
  let value: Read | undefined;
  const standsStill = async (): Promise<boolean> => {
    const before = last;
    value = await read();
    last = String(JSON.stringify(value));
    return last === before;
  };
  await expect.poll(standsStill, { interval, timeout: 20 * interval }).toBe(true);
  return value as Read;
}

/** Makes the browser one without dialogues that give a page access to files; those dialogues cannot be driven. */
export async function withoutFileDialogues(page: Page): Promise<void> {
  await page.evaluate(() => Object.assign(window, { showOpenFilePicker: undefined, showSaveFilePicker: undefined }));
}

/** What has the focus: its name, through all elements it stands in; empty where the focus is nowhere. */
export async function focusName(page: Page): Promise<string> {
  return page.evaluate(() => {
    let element = document.activeElement;
    while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
    if (element === null || element === document.body) return '';
    return (element.getAttribute('aria-label') ?? element.textContent ?? '').replace(/\s+/g, ' ').trim();
  });
}

/** Waits until the open page is kept in the browser in its present state. */
export async function untilKept(page: Page): Promise<void> {
  await page.getByText(/^kept /).waitFor();
  // The words only tell the minute: whether the newest change is among what is kept, the store itself says.
  await expect.poll(() => page.evaluate(isKept)).toBe(true);
}

/** To be run in the page: whether what is open is in the store as it is now. */
async function isKept(): Promise<boolean> {
  const open = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook') as unknown;
  const { history, predictions, folded } = open as { history: object; predictions: object; folded: object };
  const stateOf = (kept: { history?: { document?: unknown }; predictions?: unknown; folded?: unknown }): string =>
    JSON.stringify([kept.history?.document, kept.predictions, kept.folded]);
  const all = await new Promise<object[]>((resolve, reject) => {
    const opening = indexedDB.open('two-thirds');
    opening.onerror = () => reject(new Error('the store must open'));
    opening.onsuccess = () => {
      const reading = opening.result.transaction('notebooks').objectStore('notebooks').getAll();
      reading.onsuccess = () => {
        opening.result.close();
        resolve(reading.result);
      };
    };
  });
  return all.some((kept) => stateOf(kept) === stateOf({ history, predictions, folded }));
}
