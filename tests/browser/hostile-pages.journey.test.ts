import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { patience } from '../support/slowdown.ts';
import { textOf, untilComputed, widthBeyond, withoutFileDialogues } from './open-page.ts';

/** Opens a page from a file that somebody sent. */
async function openFile(
  page: Page,
  boards: object,
  cells: readonly object[],
  title = 'Sent by somebody',
): Promise<void> {
  const data = { format: 'two-thirds', version: 1, title, boards, page: cells };
  await withoutFileDialogues(page);
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a page of your own' }).click(),
  ]);
  await chooser.setFiles({
    name: 'sent.tt.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(data)),
  });
  await page.locator('tt-notebook').waitFor();
}

/** Whether the page still answers a press within a moment. */
async function answers(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^theme: / }).click({ timeout: 2000 * patience });
}

const counter = { counter: { ready: 'frequency divider' } };

journey('nothing that a note holds runs, is fetched, or leaves the page by itself', async ({ page, address }) => {
  const requests: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('dialog', (dialog) => expect.fail(`a dialog: ${dialog.message()}`));
  const text = [
    '<script>alert(1)</script><img src="https://elsewhere.example/1.png" onerror="alert(2)">',
    '[press](javascript:alert(3)) [here](data:text/html,<script>alert(4)</script>) [there](vbscript:x)',
    '![picture](https://elsewhere.example/2.png) [far](https://elsewhere.example/page)',
    '<svg onload="alert(5)"><style>* { display: none }</style></svg> <a href="#x" onclick="alert(6)">x</a>',
    '<form action="https://elsewhere.example"><input name="a"></form> <iframe src="https://elsewhere.example"></iframe>',
    '| a | b |\n|:-:|--:|\n| 1 | <math><mi xlink:href="javascript:alert(7)">x</mi></math> |',
  ].join('\n\n');
  await openFile(page, {}, [{ id: 'intro', kind: 'note', text }]);
  const note = page.locator('tt-cell#intro tt-note');
  await note.getByText('<script>alert(1)</script>', { exact: false }).waitFor();
  // Until what reads notes has come the text stands there as it is: then nothing would have been tried.
  await note.locator('.text td').first().waitFor();
  const found = await note.evaluate((element) => {
    const root = element.shadowRoot?.querySelector('.text');
    const all = [...(root?.querySelectorAll('*') ?? [])];
    return {
      elements: all
        .map((each) => each.localName)
        .filter((name) => /script|img|svg|style|form|input|iframe|math/.test(name)),
      handlers: all.flatMap((each) => each.getAttributeNames().filter((name) => /^on|^style$|^src$/.test(name))),
      links: all.flatMap((each) => (each instanceof HTMLAnchorElement ? [each.protocol] : [])),
    };
  });
  expect(found.elements).toEqual([]);
  expect(found.handlers).toEqual([]);
  expect(found.links.filter((protocol) => protocol !== 'https:')).toEqual([]);
  expect(requests.filter((url) => !url.startsWith(address))).toEqual([]);
});

journey('names that objects are born with are names like any other, or are refused', async ({ page }) => {
  const take = { width: 'width(out)', constructor: 'count(in)' };
  const reading = { kind: 'reading', board: 'counter', until: '6 s' };
  await openFile(page, counter, [
    { id: 'constructor', ...reading, take: { width: 'width(out)' } },
    { id: 'taken', ...reading, take },
    { id: 'my id', kind: 'sweep', board: 'counter' },
    { id: '__proto__', kind: 'note', text: 'hidden' },
    { id: 'valueOf', kind: 'formula', text: '2 * constructor.toString' },
    { id: 'last', kind: 'note', text: 'See [it](#constructor.toString) and [not it](#toString).' },
    { id: 'good', ...reading, take: { width: 'width(out)' } },
  ]);
  await untilComputed(page);
  const polluted = await page.evaluate(() => [Object.keys(Object.prototype), ({} as Record<string, unknown>)['text']]);
  expect(polluted).toEqual([[], undefined]);
  for (const id of ['constructor', 'taken', 'my id', '__proto__', 'valueOf']) {
    const cell = page.locator(`tt-cell[id="${id}"]`);
    await expect.poll(() => textOf(cell.locator('.complaint').first()), { message: id }).toMatch(/must/);
  }
  await expect.poll(() => textOf(page.locator('tt-cell#good').getByRole('row', { name: /^width/ }))).toMatch(/\d/);
  await answers(page);
});

journey('a page of expressions made to explode is computed, or refused, in no time', async ({ page }) => {
  const doubling = Array.from({ length: 60 }, (_, index) => ({
    id: `f${index}`,
    kind: 'formula',
    text: index === 0 ? '1' : `f${index - 1} + f${index - 1}`,
  }));
  const bombs = [
    '('.repeat(1000),
    `${'9^'.repeat(900)}9`,
    `${'exp('.repeat(59)}1${')'.repeat(59)}`,
    `${'min('.repeat(300)}1`,
    '-'.repeat(1900) + '1',
    `${'1+'.repeat(990)}1`,
    'f'.repeat(100_000),
  ];
  await openFile(page, counter, [
    ...doubling,
    ...bombs.map((text, index) => ({ id: `b${index}`, kind: 'formula', text })),
  ]);
  await untilComputed(page);
  // 2^59
  await expect.poll(() => textOf(page.locator('tt-cell#f59 tt-formula'))).toContain('576');
  await answers(page);
});

journey('titles and names of any length and nesting of any depth leave the page usable', async ({ page }) => {
  const long = 'x'.repeat(50_000);
  await openFile(
    page,
    { [long]: { ready: 'monostable' }, counter: { ready: 'frequency divider', values: { [long]: long } } },
    [
      { id: long, kind: 'note', text: long },
      { id: 'circuit', kind: 'board', board: 'counter' },
      { id: 'deep', kind: 'note', text: `${'> '.repeat(3000)}deep ${'['.repeat(5000)}` },
      { id: 'list', kind: 'note', text: `${'- '.repeat(2000)}deep` },
    ],
    long,
  );
  await untilComputed(page);
  await expect.poll(() => widthBeyond(page)).toBe(0);
  await answers(page);
});

journey('a run without end is refused or can be stopped, and the page answers meanwhile', async ({ page }) => {
  const fast = { ready: 'astable', values: { R1: '1 kΩ', R2: '1 kΩ', C1: '1 pF' } };
  await openFile(page, { fast, counter: { ready: 'frequency divider' } }, [
    { id: 'never', kind: 'trace', board: 'counter', until: 1e300, show: ['out'] },
    { id: 'long', kind: 'trace', board: 'fast', until: '1e9 s', show: ['out'] },
    { id: 'last', kind: 'reading', board: 'counter', until: '6 s', take: { count: 'count(in)' } },
  ]);
  await answers(page);
  await page.locator('tt-cell#never').getByText(/until/).first().waitFor();
  const stop = page.getByRole('button', { name: 'stop' }).first();
  const isDone = page.waitForFunction(() => {
    const notebook = document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook');
    return notebook?.getAttribute('aria-busy') === 'false';
  });
  await Promise.race([isDone, stop.click({ timeout: 20_000 * patience })]);
  await untilComputed(page);
  await answers(page);
});
