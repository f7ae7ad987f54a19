/** Width that text is wrapped to, in characters. */
export const WIDTH = 80;

/**
 * Rows as aligned columns, two spaces apart; the last column is wrapped under itself where the line would get too long.
 *
 * @param indent put before every line.
 */
export function alignColumns(rows: readonly (readonly string[])[], indent: string): string[] {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [column, text] of row.slice(0, -1).entries()) {
      widths[column] = Math.max(widths[column] ?? 0, lengthOf(text));
    }
  }
  return rows.flatMap((row) => {
    const start =
      indent +
      row
        .slice(0, -1)
        .map((text, column) => `${pad(text, widths[column] ?? 0)}  `)
        .join('');
    const [first = '', ...rest] = wrapWords(row.at(-1) ?? '', WIDTH - lengthOf(start));
    const under = ' '.repeat(lengthOf(start));
    return [(start + first).trimEnd(), ...rest.map((line) => under + line)];
  });
}

/** Text broken into lines of at most `width` characters, at spaces; a longer word stays whole. */
export function wrapWords(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && lengthOf(line) + 1 + lengthOf(word) > Math.max(20, width)) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

/** A paragraph, wrapped and indented. */
export function paragraph(text: string, indent: string): string[] {
  return wrapWords(text, WIDTH - indent.length).map((line) => indent + line);
}

function pad(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - lengthOf(text)));
}

/** Characters, not UTF-16 units. */
function lengthOf(text: string): number {
  return [...text].length;
}
