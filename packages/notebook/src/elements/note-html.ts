import createPurifier from 'dompurify';
import MarkdownIt from 'markdown-it';
import { formulas, type SetFormula } from './note-formulas.ts';

/** What a note may hold when it is shown: text, no pictures from elsewhere, no styles, nothing that runs. */
const allowedTags = ['p', 'br', 'strong', 'em', 's', 'code', 'pre', 'blockquote', 'ul', 'ol', 'li', 'hr', 'a'].concat([
  'h1',
  'h2',
  'h3',
  'h4',
  'h5',
  'h6',
  'table',
  'thead',
  'tbody',
  'tr',
  'th',
  'td',
  'span',
  'sup',
  'sub',
]);
/** What MathML may be made of: elements and attributes of MathML Core (W3C) that say nothing but how a formula is built. */
const formulaTags = ['math', 'mrow', 'mi', 'mn', 'mo', 'mtext', 'mspace', 'msub', 'msup', 'msubsup', 'mfrac'].concat([
  'msqrt',
  'mroot',
  'mover',
  'munder',
  'munderover',
  'mtable',
  'mtr',
  'mtd',
  'mstyle',
  'mpadded',
]);
const formulaAttributes = ['display', 'displaystyle', 'fence', 'form', 'stretchy', 'separator', 'linethickness'].concat(
  ['width', 'lspace', 'rspace', 'mathvariant', 'scriptlevel', 'accent'],
);
const allowedAttributes = ['href', 'class', 'title', 'start', 'data-cell', ...formulaAttributes];

const markdown = new MarkdownIt({ html: false, linkify: false, typographer: false }).use(formulas);

// The page has its own title above; a note's headings stand below it.
markdown.core.ruler.push('lower-headings', ({ tokens }) => {
  for (const token of tokens) {
    if (token.type !== 'heading_open' && token.type !== 'heading_close') continue;
    token.tag = `h${Math.min(6, Number(token.tag.slice(1)) + 1)}`;
  }
});

// Alignment comes as a style attribute, which the page's policy forbids.
markdown.core.ruler.push('class-for-alignment', ({ tokens }) => {
  for (const token of tokens) {
    const align = /text-align:(\w+)/.exec(String(token.attrGet('style') ?? ''))?.[1];
    if (align === undefined) continue;
    token.attrs = (token.attrs ?? []).filter(([name]) => name !== 'style');
    token.attrJoin('class', `align-${align}`);
  }
});

/**
 * A note's Markdown as HTML that is safe to put into the page. A link to a number of another cell shows the number.
 *
 * @param quotes live numbers by link target without `#`, as a note's result has them.
 * @param setFormula turns formulas into MathML; without it their source is shown.
 */
export function noteHtml(text: string, quotes: Readonly<Record<string, string>>, setFormula?: SetFormula): string {
  const rendered = markdown.render(text, { setFormula });
  const purifier = createPurifier(window);
  purifier.addHook('afterSanitizeAttributes', (node) => {
    if (node.tagName !== 'A') return;
    const target = node.getAttribute('href')?.replace(/^#/, '') ?? '';
    const isInside = node.getAttribute('href')?.startsWith('#') === true;
    if (!isInside) {
      node.setAttribute('rel', 'noreferrer');
      return;
    }
    node.setAttribute('data-cell', target.split('.')[0] ?? '');
    // A target may have any name, those that objects are born with included.
    const quoted = Object.hasOwn(quotes, target) ? quotes[target] : undefined;
    if (quoted === undefined) return;
    node.setAttribute('class', 'quoted');
    node.setAttribute('title', `${node.textContent}, as computed in ${target.split('.')[0]}`);
    node.textContent = quoted;
  });
  return purifier.sanitize(rendered, {
    ALLOWED_TAGS: [...allowedTags, ...formulaTags],
    ALLOWED_ATTR: allowedAttributes,
  });
}
