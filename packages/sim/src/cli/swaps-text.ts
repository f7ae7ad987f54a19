import { numberText, type SwapsResult, type SwapsRow } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Combinations listed as text. */
const SHOWN = 60;

/** Every combination of a kit: cautions first, then a table, then each remark once with the combinations it is about. */
export function swapsText({ cautions, places, readings, rows, count, sentence }: SwapsResult): string[] {
  const lines = [...cautions.flatMap((caution) => paragraph(caution, '  ')), ''];
  if (rows.length === 0) return [...lines, ...paragraph(sentence, '  ')];
  const shown = rows.slice(0, SHOWN);
  const head = ['', ...places.map(({ name }) => name), ...readings.map(({ name }) => name), ''];
  const table = shown.map((row, index) => [
    String(index + 1),
    ...row.parts,
    ...row.values.map((value, reading) => (value === null ? '-' : numberText(value, readings[reading]?.unit ?? null))),
    remarkText(row),
  ]);
  lines.push(...alignColumns([head, ...table], '  '));
  if (rows.length > SHOWN) lines.push(`  ${SHOWN} of ${count} combinations; --csv and --json list them all`);
  const notes = notesOf(rows);
  if (notes.length > 0) lines.push('', ...alignColumns(notes, '  '));
  return [...lines, '', ...paragraph(sentence, '  ')];
}

function remarkText({ flags, sameAs, failed }: SwapsRow): string {
  const words = [...new Set(flags.map(({ what }) => what.replace('-', ' ')))];
  if (failed !== null) words.push('no run');
  if (sameAs !== null) words.push(`as ${sameAs + 1}`);
  return words.join(', ');
}

/** Notes listed as text. */
const SHOWN_NOTES = 24;

/** What is said of combinations, each once, with the numbers of the first few. */
function notesOf(rows: readonly SwapsRow[]): string[][] {
  const about = new Map<string, number[]>();
  for (const [index, { flags, remedy, failed }] of rows.entries()) {
    const said = [...flags.map(({ sentence }) => sentence), ...(failed === null ? [] : [failed])];
    for (const [each, sentence] of said.entries()) {
      const text = remedy === null || each > 0 ? sentence : `${sentence} ${remedy}`;
      const numbers = about.get(text);
      if (numbers === undefined) about.set(text, [index + 1]);
      else numbers.push(index + 1);
    }
  }
  const notes = [...about].map(([text, numbers]) => [numbersText(numbers), text]);
  const rest = notes.length - SHOWN_NOTES;
  return rest > 0 ? [...notes.slice(0, SHOWN_NOTES), ['', `and ${rest} more; --csv and --json list them all`]] : notes;
}

/** `1, 2, 3 and 7 more`. */
function numbersText(numbers: readonly number[]): string {
  const most = 4;
  if (numbers.length <= most) return numbers.join(', ');
  return `${numbers.slice(0, most - 1).join(', ')} and ${numbers.length - most + 1} more`;
}
