import type { Fate, FatesResult, PulseRow } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';
import { timeText } from './number-words.ts';

/** Marks that tell fates by shape and fill: solid, striped, hollow, short, crossed. */
export const fateMarks: Readonly<Record<Fate, string>> = {
  started: '●',
  held: '◍',
  ignored: '○',
  short: '▪',
  barred: '⊗',
};

/** What the marks stand for: `● started   ○ ignored`. */
export function fateLegend(fates: readonly Fate[]): string {
  const known = Object.keys(fateMarks) as Fate[];
  return known
    .filter((fate) => fates.includes(fate))
    .map((fate) => `${fateMarks[fate]} ${fate}`)
    .join('   ');
}

/** Pulses listed as text; the rest is counted. */
const SHOWN_PULSES = 12;

/** Fates as a table with marks and reasons, and the explanation, which counts them. */
export function fatesText({ pulses, counts, explanation }: FatesResult): string[] {
  const rows = pulses.slice(0, SHOWN_PULSES).map(pulseCells);
  const lines = alignColumns(rows, '  ');
  const all = Object.values(counts).reduce((sum, count) => sum + count, 0);
  const more = all - rows.length;
  if (more > 0)
    lines.push(`  and ${more} more ${more === 1 ? 'pulse' : 'pulses'} (--csv and --json list up to 10 000)`);
  return [...lines, ...(lines.length > 0 ? [''] : []), ...paragraph(explanation, '  ')];
}

/** Mark, time, and the reason, which names the fate. */
function pulseCells({ time, fate, reason }: PulseRow): string[] {
  return [fateMarks[fate], timeText(time), reason];
}
