import { percentText } from '../quantity/index.ts';
import { numberText, type SymptomsResult } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Faults ranked as text. */
const SHOWN_FITS = 10;
/** Names of what looks alike written out. */
const SHOWN_NAMES = 8;
/** Reasons of harm told for each fault. */
const SHOWN_HARMS = 1;

/** Every single fault: cautions first, then what one would see of each, what looks alike, and what fits what was seen. */
export function symptomsText(result: SymptomsResult): string[] {
  const { cautions, readings, asBuilt, rows: faults, groups, ranked, sentence } = result;
  const lines = [...cautions.flatMap((caution) => paragraph(caution, '  ')), ''];
  if (asBuilt === null && faults.length === 0) return [...lines, ...paragraph(sentence, '  ')];
  const values = (row: readonly (number | null)[]): string[] =>
    readings.map(({ unit }, index) => {
      const value = row[index] ?? null;
      return value === null ? '-' : numberText(value, unit);
    });
  const titleOf = (index: number): string => (index < 0 ? 'as built' : (faults[index]?.title ?? ''));
  const titles = (members: readonly number[]): string => {
    const rest = members.length - SHOWN_NAMES;
    const named = members.slice(0, SHOWN_NAMES).map(titleOf).join('; ');
    return rest > 0 ? `${named}; and ${rest} more` : named;
  };
  lines.push(
    ...alignColumns(
      [
        ['', ...readings.map(({ name }) => name), ''],
        ...(asBuilt === null ? [] : [['as built', ...values(asBuilt), '']]),
        ...faults.map((fault) => [fault.title, ...values(fault.values), fault.build ? '' : 'do not build']),
      ],
      '  ',
    ),
  );
  const harmful = faults.filter(({ harms }) => harms.length > 0);
  if (harmful.length > 0) {
    lines.push('', '  Do not build:');
    lines.push(
      ...alignColumns(
        harmful.map(({ title, harms }) => [title, harms.slice(0, SHOWN_HARMS).join(' ')]),
        '  ',
      ),
    );
  }
  if (groups.length > 0) lines.push('', '  What looks alike:');
  for (const { members, separator } of groups) {
    lines.push(...paragraph(`- ${titles(members)}`, '  '));
    if (separator === null) lines.push(...paragraph('no further voltage or supply current tells them apart', '    '));
    else {
      const parts = separator.parts.map((part) => titles(part)).join(' | ');
      lines.push(...paragraph(`${separator.reading} tells apart: ${parts}`, '    '));
    }
  }
  if (ranked.length > 0) {
    lines.push('', '  What fits what was seen, the best first:');
    const fits = ranked
      .slice(0, SHOWN_FITS)
      .map(({ fault, off }) => [`off by ${percentText(Number((100 * off).toPrecision(3)))}`, titleOf(fault)]);
    lines.push(...alignColumns(fits, '  '));
  }
  return [...lines, '', ...paragraph(sentence, '  ')];
}
