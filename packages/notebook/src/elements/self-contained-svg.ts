/** Properties that decide how a drawing looks, by the attribute that SVG has for each. */
const PROPERTIES = [
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'opacity',
  'paint-order',
  'font-size',
  'font-weight',
  'text-anchor',
] as const;

/** Room around the drawing, and between it and what explains it (pixels). */
const MARGIN = 14;
const LEGEND_GAP = 6;
/** The share of a line of text that is above its baseline. */
const ASCENT = 0.78;
const SVG = 'http://www.w3.org/2000/svg';

/**
 * The text of a drawing as an SVG file that needs nothing but itself: what style sheets say stands in attributes, the
 * ground is drawn, and what explains its marks stands below it.
 *
 * @param drawing an SVG element that is on the page.
 * @param title what it shows, for people who cannot see it.
 * @param legends lists on the page of samples of its marks with what they mean.
 */
export function selfContainedSvg(drawing: SVGSVGElement, title: string, legends: Iterable<Element>): string {
  const copy = dressedCopy(drawing);
  const { width, height: drawn } = drawing.viewBox.baseVal;
  let height = drawn;
  for (const list of legends) {
    copy.append(...legendCopy(list, drawing.getBoundingClientRect().left, height + LEGEND_GAP));
    height += LEGEND_GAP + list.getBoundingClientRect().height;
  }
  copy.removeAttribute('aria-hidden');
  copy.setAttribute('role', 'img');
  copy.setAttribute('font-family', getComputedStyle(drawing).fontFamily);
  copy.setAttribute('width', String(width + 2 * MARGIN));
  copy.setAttribute('height', String(height + 2 * MARGIN));
  copy.setAttribute('viewBox', `${-MARGIN} ${-MARGIN} ${width + 2 * MARGIN} ${height + 2 * MARGIN}`);
  copy.prepend(titleElement(title), groundElement(width, height));
  return new XMLSerializer().serializeToString(copy);
}

/** A copy of a drawing in which what style sheets say stands in attributes. */
function dressedCopy(drawing: SVGSVGElement): SVGSVGElement {
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const originals = [drawing, ...drawing.querySelectorAll('*')];
  const copies = [copy, ...copy.querySelectorAll('*')];
  originals.forEach((original, index) => {
    const target = copies[index];
    target?.removeAttribute('class');
    if (target === undefined || target === copy || target.closest('defs > clipPath') !== null) return;
    dress(target, original);
  });
  removeComments(copy);
  return copy;
}

function dress(target: Element, original: Element): void {
  const style = getComputedStyle(original);
  for (const property of PROPERTIES) target.setAttribute(property, ownReference(style.getPropertyValue(property)));
}

/** The samples and words of a legend, each where it stands on the page. @param left, top its corner (pixels). */
function legendCopy(list: Element, left: number, top: number): SVGElement[] {
  const { top: listTop } = list.getBoundingClientRect();
  const samples = [...list.querySelectorAll('svg')].map((sample) => {
    const box = sample.getBoundingClientRect();
    const copy = dressedCopy(sample);
    const place = { x: box.left - left, y: box.top - listTop + top, width: box.width, height: box.height };
    for (const [name, value] of Object.entries(place)) copy.setAttribute(name, String(value));
    return copy;
  });
  const words = textsOf(list).map((node) => {
    const range = document.createRange();
    range.selectNodeContents(node);
    const box = range.getBoundingClientRect();
    const text = document.createElementNS(SVG, 'text');
    text.textContent = (node.textContent ?? '').trim();
    const style = getComputedStyle(node.parentElement ?? list);
    text.setAttribute('x', String(box.left - left));
    text.setAttribute('y', String(box.top - listTop + top + box.height * ASCENT));
    text.setAttribute('fill', style.color);
    for (const name of ['font-size', 'font-weight']) text.setAttribute(name, style.getPropertyValue(name));
    return text;
  });
  return [...samples, ...words];
}

/** The pieces of text of an element that say something. */
function textsOf(element: Element): Node[] {
  const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  const texts: Node[] = [];
  while (walker.nextNode()) if (walker.currentNode.textContent?.trim() !== '') texts.push(walker.currentNode);
  return texts;
}

/** References inside the drawing come back with the address of the page in front. */
function ownReference(value: string): string {
  return value.replace(/url\("?[^"#)]*#([^")]+)"?\)/g, 'url(#$1)');
}

function titleElement(text: string): SVGElement {
  const title = document.createElementNS(SVG, 'title');
  title.textContent = text;
  return title;
}

function groundElement(width: number, height: number): SVGElement {
  const ground = document.createElementNS(SVG, 'rect');
  const place = { x: -MARGIN, y: -MARGIN, width: width + 2 * MARGIN, height: height + 2 * MARGIN };
  for (const [name, value] of Object.entries(place)) ground.setAttribute(name, String(value));
  ground.setAttribute('fill', getComputedStyle(document.documentElement).backgroundColor);
  return ground;
}

function removeComments(root: Element): void {
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_COMMENT);
  const comments: Node[] = [];
  while (walker.nextNode()) comments.push(walker.currentNode);
  for (const comment of comments) comment.parentNode?.removeChild(comment);
}
