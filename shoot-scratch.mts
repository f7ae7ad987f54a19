import { launchChromium } from './tests/support/chromium.ts';
import { openExample, lookAtEverything, untilComputed } from './tests/browser/open-page.ts';
const [,, title, cellList, sizes = '1440,390', schemes = 'light,dark'] = process.argv;
const browser = await launchChromium();
for (const size of sizes.split(',')) for (const colorScheme of schemes.split(',')) {
  const context = await browser.newContext({ viewport: { width: Number(size), height: 900 }, colorScheme: colorScheme as never, locale: 'en-US' });
  const page = await context.newPage();
  page.on('console', (m) => { if (m.type() === 'error') console.log('console', m.text()); });
  page.on('pageerror', (e) => console.log('uncaught', e.message));
  await page.goto('http://127.0.0.1:5871/');
  page.setDefaultTimeout(60000);
  await openExample(page, title!);
  if (await page.getByRole('button', { name: 'look without a prediction' }).count() > 0) await lookAtEverything(page);
  await page.waitForTimeout(1500);
  await page.waitForFunction(() => document.querySelector('tt-app')?.shadowRoot?.querySelector('tt-notebook')?.getAttribute('aria-busy') === 'false', undefined, { timeout: 90000 }).catch(() => console.log('still busy'));
  for (const id of cellList!.split(',')) {
    const cell = page.locator(`[id="${id}"], [data-cell="${id}"]`).first();
    if (await cell.count() === 0) { console.log('no', id); continue; }
    await cell.scrollIntoViewIfNeeded();
    await page.waitForTimeout(600);
    await cell.screenshot({ path: `/tmp/study-scratch/shots/${id}-${size}-${colorScheme}.png` });
  }
  await context.close();
}
await browser.close();
