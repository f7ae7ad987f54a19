import { pixel, pixelText } from './scale.ts';

/** Elements that drawings of this folder are made of. */
type Tag = 'g' | 'path' | 'line' | 'rect' | 'circle' | 'text' | 'tspan' | 'defs' | 'pattern' | 'clipPath' | 'title';

/** Attributes of an element. One without a value is left out. */
type Given = Readonly<Record<string, string | number | undefined>>;

/**
 * An element of a drawing as plain data. Looks are no part of it: `class` names them, and a style sheet says what they are
 * (see `look.ts`), so that a page and a file of its own can dress the same drawing.
 */
export interface Shape {
  readonly tag: Tag;
  readonly given: Given;
  readonly inside: readonly (Shape | string)[];
}

/** What a drawing is made of; nothing is drawn for `undefined`. */
export type Drawing = readonly (Shape | undefined)[];

/** Makes an element. */
export function shape(tag: Tag, given: Given = {}, inside: readonly (Shape | string | undefined)[] = []): Shape {
  return { tag, given, inside: inside.filter((each) => each !== undefined) };
}

/** A line, both ends in pixels. */
export function line(look: string, [x1, y1]: readonly [number, number], [x2, y2]: readonly [number, number]): Shape {
  return shape('line', { class: look, x1, x2, y1, y2 });
}

/** A path from its path data. */
export function path(look: string, d: string): Shape {
  return shape('path', { class: look, d });
}

/** A rectangle from its upper left corner, in pixels. */
export function rect(look: string, place: Box, more: Given = {}): Shape {
  return shape('rect', { class: look, ...place, ...more });
}

/** A rectangle in pixels. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Rectangles that look the same as one element, however many: a page draws it anew in a fraction of the time. Nothing
 * where there are none.
 */
export function boxes(look: string, all: readonly Box[]): Shape | undefined {
  if (all.length === 0) return undefined;
  let data = '';
  for (const { x, y, width, height } of all)
    data += `M${pixelText(x)} ${pixelText(y)}h${pixelText(width)}v${pixelText(height)}h${pixelText(-width)}z`;
  return path(look, data);
}

/** Where a text begins, ends or has its middle: `x`. */
export type Anchor = 'start' | 'middle' | 'end';

/** A text with its foot at a place; `look` may be left out for ordinary ones. */
export function text(
  look: string | undefined,
  [x, y]: readonly [number, number],
  words: string | readonly (Shape | string)[],
  anchor?: Anchor,
): Shape {
  return shape('text', { class: look, x, y, 'text-anchor': anchor }, typeof words === 'string' ? [words] : words);
}

/** A drawing as the text of SVG elements. Whatever stands in it stays text: nothing in it becomes an element by itself. */
export function shapesText(drawing: Drawing): string {
  return drawing.map((each) => (each === undefined ? '' : shapeText(each))).join('');
}

function shapeText({ tag, given, inside }: Shape): string {
  const attributes = Object.entries(given)
    .filter(([, value]) => value !== undefined && value !== '')
    .map(([name, value]) => ` ${name}="${escaped(String(typeof value === 'number' ? pixel(value) : value))}"`)
    .join('');
  const content = inside.map((each) => (typeof each === 'string' ? escaped(each) : shapeText(each))).join('');
  return content === '' ? `<${tag}${attributes}/>` : `<${tag}${attributes}>${content}</${tag}>`;
}

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text as XML 1.0 has it; characters that no XML may hold are left out. */
export function escaped(words: string): string {
  const allowed = words.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '');
  return allowed.replace(/[&<>"]/g, (each) => ESCAPES[each] ?? '');
}
