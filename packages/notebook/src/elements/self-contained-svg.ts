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

/** Room around the drawing (pixels). */
const MARGIN = 14;
const SVG = 'http://www.w3.org/2000/svg';

/**
 * The text of a drawing as an SVG file that needs nothing but itself: what style sheets say stands in attributes, and
 * the ground is drawn.
 *
 * @param drawing an SVG element that is on the page.
 * @param title what it shows, for people who cannot see it.
 */
export function selfContainedSvg(drawing: SVGSVGElement, title: string): string {
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const originals = [drawing, ...drawing.querySelectorAll('*')];
  const copies = [copy, ...copy.querySelectorAll('*')];
  originals.forEach((original, index) => {
    const style = getComputedStyle(original);
    const target = copies[index];
    target?.removeAttribute('class');
    if (target === undefined || target === copy || target.closest('defs > clipPath') !== null) return;
    for (const property of PROPERTIES) target.setAttribute(property, ownReference(style.getPropertyValue(property)));
  });
  removeComments(copy);
  const { width, height } = drawing.viewBox.baseVal;
  copy.removeAttribute('aria-hidden');
  copy.setAttribute('role', 'img');
  copy.setAttribute('font-family', getComputedStyle(drawing).fontFamily);
  copy.setAttribute('width', String(width + 2 * MARGIN));
  copy.setAttribute('height', String(height + 2 * MARGIN));
  copy.setAttribute('viewBox', `${-MARGIN} ${-MARGIN} ${width + 2 * MARGIN} ${height + 2 * MARGIN}`);
  copy.prepend(titleElement(title), groundElement(width, height));
  return new XMLSerializer().serializeToString(copy);
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
