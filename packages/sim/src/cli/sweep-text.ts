import { errorText, numberText, quantityText, type SweepResult } from '../document/index.ts';
import { spokenName } from '../quantity/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Points listed as text; more are thinned out evenly. */
const SHOWN_POINTS = 24;
/** Marks listed as text. */
const SHOWN_MARKS = 24;
/** Digits of the place of a mark: what bisection found is known far more closely than the eye needs. */
const MARK_DIGITS = 10;

/** A sweep as a table, its marks, and what was found in words. */
export function sweepText({ vary, x, series, against, fates, marks, sentence }: SweepResult): string[] {
  if (x.length === 0) return paragraph(sentence, '  ');
  const head = [
    spokenName(vary.value),
    ...series.flatMap(({ name }) => [name, ...rulesOf(name, against).flatMap(() => ['by the rule', 'error'])]),
    ...(fates === null ? [] : [`fates at ${fates.timer}`]),
  ];
  const shown = thinned(x.length);
  const rows = shown.map((index) => [
    numberText(x[index] ?? NaN, vary.unit),
    ...series.flatMap(({ name, values, unit }) => {
      const text = (value: number | null): string => (value === null ? 'no value' : numberText(value, unit));
      const rules = rulesOf(name, against).flatMap((rule) => {
        const error = rule.error[index] ?? null;
        return [text(rule.values[index] ?? null), error === null ? '' : errorText(error)];
      });
      return [text(values[index] ?? null), ...rules];
    }),
    ...(fates === null ? [] : [fates.patterns[index] ?? 'no run']),
  ]);
  const lines = alignColumns([head, ...rows], '  ');
  if (shown.length < x.length) {
    lines.push(`  ${shown.length} of ${x.length} points; --csv and --json list them all`);
  }
  if (marks.length > 0)
    lines.push(
      '',
      '  Jumps, found by halving:',
      ...alignColumns(
        marks.slice(0, SHOWN_MARKS).map((mark) => markCells(mark, vary)),
        '  ',
      ),
    );
  if (marks.length > SHOWN_MARKS)
    lines.push(`  and ${marks.length - SHOWN_MARKS} more; --csv and --json list them all`);
  return [...lines, '', ...paragraph(sentence, '  ')];
}

/** The rules held against a reading. */
function rulesOf(name: string, against: SweepResult['against']): SweepResult['against'] {
  return against.filter(({ reading }) => reading === name);
}

function markCells({ above, changes }: SweepResult['marks'][number], { unit }: SweepResult['vary']): string[] {
  const words = changes.map(({ what, name, below, above: after }) => {
    if (what === 'run') return after === null ? 'from here there is a run' : `no run from here: ${after}`;
    const title = what === 'fates' ? `fates at ${name}` : name;
    return `${title}: ${below ?? 'no run'} -> ${after ?? 'no run'}`;
  });
  return [quantityText(above, unit, MARK_DIGITS), words.join('; ')];
}

/** Positions of at most {@link SHOWN_POINTS} of `count` points, the first and the last among them. */
function thinned(count: number): number[] {
  if (count <= SHOWN_POINTS) return Array.from({ length: count }, (_, index) => index);
  return Array.from({ length: SHOWN_POINTS }, (_, index) => Math.round((index * (count - 1)) / (SHOWN_POINTS - 1)));
}
