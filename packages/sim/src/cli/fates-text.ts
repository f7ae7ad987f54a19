import { type Fate, type FateCounts, type FatesResult, type PulseRow, numberText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Marks that tell fates by shape and fill: solid, striped, hollow, short, crossed. */
export const fateMarks: Readonly<Record<Fate, string>> = {
  started: '●',
  held: '◍',
  ignored: '○',
  short: '▪',
  barred: '⊗',
};

/** Pulses listed as text; the rest is counted. */
const SHOWN_PULSES = 12;

/** Fates as a table with marks and reasons, the counts, and the explanation. */
export function fatesText({ pulses, counts, explanation }: FatesResult): string[] {
  const rows = pulses.slice(0, SHOWN_PULSES).map(pulseCells);
  const lines = alignColumns(rows, '  ');
  const all = Object.values(counts).reduce((sum, count) => sum + count, 0);
  const more = all - rows.length;
  if (more > 0) lines.push(`  and ${more} more pulses; --csv and --json list up to 10000`);
  lines.push('', `  ${countsText(counts, all)}`);
  if (explanation !== '') lines.push(...paragraph(explanation, '  '));
  return lines;
}

function pulseCells({ time, fate, reason, open }: PulseRow): string[] {
  return [fateMarks[fate], numberText(time, 's'), open === true ? `${fate}, still low` : fate, reason];
}

function countsText(counts: FateCounts, all: number): string {
  const words = Object.entries(counts).map(([fate, count]) => `${count} ${fate}`);
  return `${all} ${all === 1 ? 'pulse' : 'pulses'}: ${words.join(', ')}`;
}
