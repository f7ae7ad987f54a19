import { SECTIONS } from '@two-thirds/sim/document';
import { type PageCell, textField } from './cells.ts';

/** The section a kind of cell stands in when it does not say. */
const usual: Readonly<Record<string, string>> = {
  board: 'circuit',
  trace: 'observe',
  reading: 'observe',
  fates: 'explain',
  swaps: 'observe',
  symptoms: 'observe',
  capture: 'observe',
};

/** The word in the margin of a cell: its section, or what its kind usually is; none for a plain note. */
export function sectionOf(cell: PageCell): string | undefined {
  const given = textField(cell.data, 'section');
  return given !== undefined && (SECTIONS as readonly string[]).includes(given) ? given : usual[cell.kind];
}

/** The margin words of a page, in page order; a cell in the same section as the one before has none of its own. */
export function marginWords(cells: readonly PageCell[]): (string | undefined)[] {
  const words = cells.map(sectionOf);
  return words.map((word, index) => (index > 0 && word === words[index - 1] ? undefined : word));
}
