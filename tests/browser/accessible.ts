import axeCore from 'axe-core';
import type { Page } from 'playwright-core';

/** The levels and rules that are asked for. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/**
 * What axe finds against WCAG 2.2 A and AA and its own best practices, one line each, in the window as it is.
 *
 * A target that the tray covers in part at the present place of the page is judged once more where it is clear of the tray:
 * success criterion 2.5.8 is about how large targets are, and everything on the page can be scrolled there.
 */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  // The page's policy forbids a script element; evaluated code is not subject to it.
  await page.evaluate(axeCore.source);
  return page.evaluate(async (tags) => {
    const { axe } = window as unknown as { axe: AxeRunner };
    const { violations } = await axe.run(document, { runOnly: tags });
    const covered = violations.filter(({ id }) => id === 'target-size').flatMap(({ nodes }) => nodes);
    const place = window.scrollY;
    const small: AxeNode[] = [];
    for (const { target } of covered) {
      const element = elementAt(target);
      element?.scrollIntoView({ block: 'center', inline: 'center' });
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
      if (element !== undefined && isLargeAndClear(element)) continue;
      const again = await axe.run(document, { runOnly: { type: 'rule', values: ['target-size'] } });
      const nodes = again.violations.flatMap((each) => each.nodes);
      small.push(...nodes.filter((node) => JSON.stringify(node.target) === JSON.stringify(target)));
    }
    window.scrollTo(0, place);
    return [
      ...violations.filter(({ id }) => id !== 'target-size'),
      ...(small.length > 0 ? [{ id: 'target-size', nodes: small }] : []),
    ].flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`));

    /** Whether 24 pixels each way (success criterion 2.5.8) are there and nothing lies over any of it. */
    function isLargeAndClear(element: Element): boolean {
      const { left, top, width, height } = element.getBoundingClientRect();
      const shares = [0.1, 0.5, 0.9];
      const isHit = (x: number, y: number): boolean => {
        let hit = document.elementFromPoint(x, y);
        while (hit?.shadowRoot?.elementFromPoint(x, y) && hit.shadowRoot.elementFromPoint(x, y) !== hit) {
          hit = hit.shadowRoot.elementFromPoint(x, y);
        }
        return hit !== null && (element.contains(hit) || hit.contains(element));
      };
      const isWhole = shares.every((x) => shares.every((y) => isHit(left + x * width, top + y * height)));
      return width >= 24 && height >= 24 && isWhole;
    }

    /** The element that axe names: a selector, or one for every shadow root on the way. */
    function elementAt([selectors]: AxeNode['target']): Element | undefined {
      let root: ParentNode | null | undefined = document;
      let element: Element | null | undefined;
      for (const selector of typeof selectors === 'string' ? [selectors] : (selectors ?? [])) {
        element = root?.querySelector(selector);
        root = element?.shadowRoot;
      }
      return element ?? undefined;
    }
  }, TAGS);
}

interface AxeNode {
  readonly target: readonly (string | readonly string[])[];
  readonly html: string;
  readonly failureSummary: string;
}

interface AxeRunner {
  run(context: Document, options: object): Promise<{ violations: { id: string; nodes: AxeNode[] }[] }>;
}
