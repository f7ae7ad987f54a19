import { type BoardResult, valueText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** A board as text: parts with given values and nets, warnings, and what the textbook says. */
export function boardText({ parts, issues, textbook }: BoardResult): string[] {
  const rows = parts.map((part) => {
    const given = part.fields.filter((field) => field.given).map((field) => `${field.name} ${field.text}`);
    return [part.name, part.title, [...given, netsText(part)].join('; ')];
  });
  const lines = alignColumns(rows, '  ');
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

/** Two ends as `from rail to timing`, pins by name. */
function netsText({ nets }: BoardResult['parts'][number]): string {
  const ends = Object.entries(nets);
  const [first, second] = ends;
  if (ends.length === 1 && first !== undefined) return `on ${first[1]}`;
  if (ends.length === 2 && first !== undefined && second !== undefined) return `from ${first[1]} to ${second[1]}`;
  return ends.map(([terminal, net]) => `${terminal} ${net}`).join(', ');
}
