import type { Locator, Page } from 'playwright-core';

/** Opens a worked example from the start page. */
export async function openExample(page: Page, title: string): Promise<void> {
  await page.getByRole('link', { name: title }).click();
  await page.getByRole('heading', { level: 1, name: title }).waitFor();
}

/** Asks for every result that is held back, without writing a prediction. */
export async function lookAtEverything(page: Page): Promise<void> {
  const look = page.getByRole('button', { name: 'look without a prediction' });
  await look.first().waitFor();
  while ((await look.count()) > 0) await look.first().click();
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
