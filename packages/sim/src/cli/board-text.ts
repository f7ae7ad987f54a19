import { type BoardResult, type PartRow, valueText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/**
 * A board as text: dangers, parts with given values and nets, warnings, and what the textbook says. Of a variant of a board that
 * stands earlier on the page only the parts that differ are listed.
 *
 * @param earlier the boards already printed.
 */
export function boardText(board: BoardResult, earlier: readonly BoardResult[] = []): string[] {
  const { dangers, issues, textbook } = board;
  const { like, parts } = difference(board, earlier);
  // The nets are as before on a board that is like another.
  const rows = parts.map((part) => [part.name, part.title, like === undefined ? partText(part) : givenText(part)]);
  const lines = alignColumns(rows, '  ');
  if (like !== undefined) lines.unshift(`  Parts as ${like}${parts.length > 0 ? ', but:' : '.'}`);
  if (dangers.length > 0) {
    lines.unshift('  Danger as built:', ...dangers.flatMap((danger) => paragraph(danger, '  ')), '');
  }
  if (textbook.length > 0) {
    lines.push('', '  By the textbook, from part values alone:');
    lines.push(
      ...alignColumns(
        textbook.map(({ name, value, unit, formula }) => [name, valueText(value, unit), formula]),
        '  ',
      ),
    );
  }
  if (issues.length > 0) {
    lines.push('', '  Worth a look:');
    for (const issue of issues) lines.push(...paragraph(issue.message, '  '));
  }
  return lines;
}

/** The parts to list: all, or those that differ from a board that joins the same parts in the same way. */
function difference(
  { board, parts }: BoardResult,
  earlier: readonly BoardResult[],
): { readonly like?: string; readonly parts: BoardResult['parts'] } {
  for (const other of earlier) {
    const same = other.parts.length === parts.length && parts.every((part, i) => isSamePart(part, other.parts[i]));
    if (!same) continue;
    const differing = parts.filter((part, i) => givenText(part) !== givenText(other.parts[i] ?? part));
    return { like: other.board === board ? 'above' : `on ${other.board}`, parts: differing };
  }
  return { parts };
}

function isSamePart(part: PartRow, other: PartRow | undefined): boolean {
  return (
    other !== undefined && part.name === other.name && part.kind === other.kind && netsText(part) === netsText(other)
  );
}

/** The given values of a part and its nets: `resistance 68 kΩ; from rail to timing`. */
function partText(part: PartRow): string {
  return [givenText(part), netsText(part)].filter((text) => text !== '').join('; ');
}

function givenText({ fields }: PartRow): string {
  return fields
    .filter((field) => field.given)
    .map((field) => `${field.name} ${field.text}`)
    .join('; ');
}

/** Two ends as `from rail to timing`, pins by name. */
function netsText({ nets }: PartRow): string {
  const ends = Object.entries(nets);
  const [first, second] = ends;
  if (ends.length === 1 && first !== undefined) return `on ${first[1]}`;
  if (ends.length === 2 && first !== undefined && second !== undefined) return `from ${first[1]} to ${second[1]}`;
  return ends.map(([terminal, net]) => `${terminal} ${net}`).join(', ');
}
