import { type ChooseResult, numberText, offText, setText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Sets listed as text. */
const SHOWN = 10;

/** A choice as text: the nearest sets, the best of each series, and what was found in words. */
export function chooseText(result: ChooseResult): string[] {
  const { sets, precision, want, sentence } = result;
  const cells = (set: ChooseResult['sets'][number]): string[] => [
    setText(result, set.values),
    ...want.flatMap(({ unit }, index) => [
      numberText(set.readings[index] ?? NaN, unit),
      offText(set.off[index] ?? null),
    ]),
    [set.granted ? '' : 'not near enough', set.inStock === true ? 'in stock' : '']
      .filter((text) => text !== '')
      .join(', '),
  ];
  const head = ['set', ...want.flatMap(({ name }) => [name, 'off']), ''];
  const lines = sets.length === 0 ? [] : alignColumns([head, ...sets.slice(0, SHOWN).map(cells)], '  ');
  if (sets.length > SHOWN) lines.push(`  ${SHOWN} of ${sets.length} sets; --csv and --json list them all`);
  const series = precision.flatMap(({ series: name, best }) => (best === null ? [] : [[name, ...cells(best)]]));
  if (series.length > 1) lines.push('', '  The best of each series:', ...alignColumns(series, '  '));
  return [...lines, '', ...paragraph(sentence, '  ')];
}
