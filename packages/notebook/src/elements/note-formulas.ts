import type { MarkdownIt } from 'markdown-it';

/** Turns the TeX of a formula into MathML; `display` sets it on a line of its own. Throws where it cannot be read. */
export type SetFormula = (tex: string, display: boolean) => string;

const DOLLAR = 0x24;
const BACKSLASH = 0x5c;

/** Whether a text may hold formulas, so that what sets them is worth loading. */
export function mayHoldFormulas(text: string): boolean {
  return /\$[^$]+\$/su.test(text);
}

/**
 * Formulas in Markdown: TeX between dollar signs, on a line of its own between two of them. A sum of money is none: after
 * the first sign and before the last there is no space, and no digit follows the last. Whoever renders gives `setFormula`
 * along in the environment; without it the source stands for a formula.
 */
export function formulas(markdown: MarkdownIt): void {
  markdown.inline.ruler.after('escape', 'formula', (state, silent) => {
    const { src, pos, posMax } = state;
    if (src.charCodeAt(pos) !== DOLLAR) return false;
    const width = src.charCodeAt(pos + 1) === DOLLAR ? 2 : 1;
    const start = pos + width;
    const end = closing(src, start, posMax, width);
    if (end < 0) return false;
    const tex = src.slice(start, end);
    if (tex.trim() === '' || (width === 1 && !hugs(src, start, end))) return false;
    if (!silent) {
      const token = state.push('formula', '', 0);
      token.content = tex.trim();
      token.block = width === 2;
    }
    state.pos = end + width;
    return true;
  });
  markdown.renderer.rules['formula'] = (tokens, index, _, env) => {
    const setFormula = env?.['setFormula'] as SetFormula | undefined;
    const { content, block } = tokens[index]!;
    const source = `<code>${markdown.utils.escapeHtml(content)}</code>`;
    if (setFormula === undefined) return source;
    try {
      // The page's policy forbids styles in the text; those of a formula only move things by hairs.
      const set = setFormula(content, block).replaceAll(/ style="[^"]*"/gu, '');
      return block ? `<span class="formula">${set}</span>` : set;
    } catch (cause) {
      return `${source} <span class="unread">${markdown.utils.escapeHtml(whyUnread(content, cause))}</span>`;
    }
  };
}

/** Where the signs that close a formula are; -1 if nowhere. */
function closing(src: string, start: number, end: number, width: number): number {
  for (let at = start; at + width <= end; at++) {
    const code = src.charCodeAt(at);
    if (code === BACKSLASH) at++;
    else if (code === DOLLAR && (width === 1 || src.charCodeAt(at + 1) === DOLLAR)) return at;
  }
  return -1;
}

function hugs(src: string, start: number, end: number): boolean {
  return !/\s/u.test(src[start]!) && !/\s/u.test(src[end - 1]!) && !/\d/u.test(src[end + 1] ?? '');
}

function whyUnread(tex: string, cause: unknown): string {
  const position = cause instanceof Error && 'position' in cause ? Number(cause.position) : 0;
  const rest = tex.slice(position, position + 12).trim();
  const place = rest === '' ? 'at its end' : `at "${rest}"`;
  return `(this formula cannot be read ${place}; it is written in TeX, for example t = 1.1 R_1 C_1)`;
}
