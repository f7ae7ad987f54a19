import axeCore from 'axe-core';
import type { Page } from 'playwright-core';

/** What axe finds against WCAG 2.2 A and AA and its own best practices, one line each. */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  // The page's policy forbids a script element; evaluated code is not subject to it.
  await page.evaluate(axeCore.source);
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: AxeRunner };
    const { violations } = await axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`),
    );
  });
}

interface AxeRunner {
  run(
    context: Document,
    options: { runOnly: string[] },
  ): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }>;
}
