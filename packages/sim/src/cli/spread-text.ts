import { documentsNamed, numberText, quantityText, type SpreadResult } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Width of the longest bar of a histogram, in characters. */
const BAR = 40;
/** Bins that fit on a page of text; more are joined evenly. */
const SHOWN_BINS = 20;

/** A spread as text: what varies, a histogram of each reading, and what was found in words. */
export function spreadText({ parts, readings, samples, sentence }: SpreadResult): string[] {
  const ranges = parts.map(({ value, unit, least, greatest, source }) => [
    value,
    `${endText(least, unit)} to ${endText(greatest, unit)}`,
    source,
  ]);
  const documents = documentsNamed(parts.map(({ source }) => source));
  const lines = [...alignColumns(ranges, '  '), ...documents.flatMap((each) => paragraph(each, '  '))];
  if (samples === 0) return [...lines, '', ...paragraph(sentence, '  ')];
  for (const { name, asked, unit, bins, worst } of readings) {
    const end = (value: number | undefined): string => (value === undefined ? 'no value' : numberText(value, unit));
    const range = `worst case ${end(worst.least?.value)} to ${end(worst.greatest?.value)}`;
    lines.push('', `  ${name}, ${asked}: ${range}`, ...histogram(bins, unit));
  }
  return [...lines, '', ...paragraph(sentence, '  ')];
}

function endText(value: number | null, unit: SpreadResult['parts'][number]['unit']): string {
  return value === null ? 'none' : numberText(value, unit);
}

type Bins = SpreadResult['readings'][number]['bins'];

function histogram(bins: Bins, unit: SpreadResult['readings'][number]['unit']): string[] {
  const shown = joined(bins);
  const most = Math.max(...shown.map(({ count }) => count));
  const whole = unit === null && shown.every(({ from, to }) => to - from === 1 && !Number.isInteger(from));
  const rows = shown.map(({ from, count }) => [
    whole ? String(from + 0.5) : quantityText(from, unit),
    String(count),
    // A bin with few samples beside many still shows that it is not empty.
    '#'.repeat(count === 0 ? 0 : Math.max(1, Math.round((BAR * count) / most))),
  ]);
  const last = shown.at(-1);
  return alignColumns(whole || last === undefined ? rows : [...rows, [quantityText(last.to, unit), '', '']], '  ');
}

/** Neighbouring bins together, so many that they fit. */
function joined(bins: Bins): Bins {
  const each = Math.ceil(bins.length / SHOWN_BINS);
  if (each <= 1) return bins;
  const groups = Array.from({ length: Math.ceil(bins.length / each) }, (_, index) =>
    bins.slice(index * each, (index + 1) * each),
  );
  return groups.map((group) => ({
    from: group[0]?.from ?? NaN,
    to: group.at(-1)?.to ?? NaN,
    count: group.reduce((sum, { count }) => sum + count, 0),
  }));
}
