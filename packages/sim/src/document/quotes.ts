/** A link inside a note that points into the page: `[words](#numbers.width)`. */
export interface Quote {
  /** What stands between the brackets. */
  readonly words: string;
  /** The target without `#`: a cell, or a cell and one of its numbers. */
  readonly target: string;
  /** First character of the link in the text, and the one after its last. */
  readonly start: number;
  readonly end: number;
}

/** The end of the words of a link and its target; a target has no space and no bracket, and is never long. */
const TARGET = /\]\(#([^)\s]{0,120})\)/g;

/**
 * Finds all links of a note that point into the page, in order. Takes time in proportion to the length of the text,
 * whatever the text.
 */
export function findQuotes(text: string): Quote[] {
  const quotes: Quote[] = [];
  let reached = 0;
  for (const found of text.matchAll(TARGET)) {
    const end = found.index + found[0].length;
    const before = text.slice(reached, found.index);
    const opened = before.lastIndexOf('[');
    if (opened !== -1 && opened > before.lastIndexOf(']')) {
      const start = reached + opened;
      quotes.push({ words: text.slice(start + 1, found.index), target: found[1] ?? '', start, end });
    }
    reached = end;
  }
  return quotes;
}

/** The cell and the number that a target names; no number where the link only leads to the cell. */
export function splitTarget(target: string): { cell: string; name?: string } {
  const dot = target.indexOf('.');
  return dot === -1 ? { cell: target } : { cell: target.slice(0, dot), name: target.slice(dot + 1) };
}

/** The text with every quote of a number replaced by what `show` gives for it, and links to cells by their words. */
export function replaceQuotes(text: string, show: (target: string) => string | undefined): string {
  let replaced = '';
  let reached = 0;
  for (const quote of findQuotes(text)) {
    replaced += text.slice(reached, quote.start) + (show(quote.target) ?? quote.words);
    reached = quote.end;
  }
  return replaced + text.slice(reached);
}
