import { type BoardResult, valueText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** A board as text: parts with their nets and given values, warnings, and what the textbook says. */
export function boardText({ parts, issues, textbook }: BoardResult): string[] {
  const rows = parts.map(({ name, title, nets, fields }) => {
    const given = fields.filter((field) => field.given).map((field) => `${field.name} ${field.text}`);
    return [name, title, Object.values(nets).join(' '), given.join(', ')];
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
