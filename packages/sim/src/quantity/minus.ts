/** The minus sign, as wide as the plus: what people read. A hyphen stands for it in fields, files and tables of data. */
export const MINUS = '\u2212';

/** A number that is written as text, its sign as people read it: `-3.5` is `−3.5`. A power of ten keeps its hyphen: `−1e-9`. */
export function withMinus(text: string): string {
  return text.startsWith('-') ? MINUS + text.slice(1) : text;
}
