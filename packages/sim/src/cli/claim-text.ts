import { shortText } from '../quantity/index.ts';
import { type ClaimCourseResult, type ClaimResult, isPlainNumber, numberText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** A claim: how it came out, the simplest case that breaks it, and how it fares over each value alone. */
export function claimText(result: ClaimResult): string[] {
  const { says, verdict, over, unit, left, relation, right, counterexample, sentence } = result;
  const title = { holds: 'Holds', fails: 'Fails', open: 'Not decided' }[verdict];
  const lines = [...paragraph(`${title}: ${says}`, '  '), ''];
  if (counterexample !== null) {
    const { values } = counterexample;
    const changed = Object.entries(values).map(([name, value]) => [name, valueText(over, name, value)]);
    const side = (value: number | null): string => (value === null ? 'no value' : numberText(value, unit));
    lines.push(
      '  Counterexample:',
      ...alignColumns(
        [
          ...(changed.length === 0 ? [['the board as it stands', '']] : changed),
          [left, side(counterexample.left)],
          ...(isPlainNumber(right) ? [] : [[right, side(counterexample.right)]]),
        ],
        '    ',
      ),
      '',
    );
  }
  const rows = over.map((course) => courseCells(course));
  if (rows.length > 0) {
    const head = ['one value alone', 'tried', 'holds', relation === '=' ? 'largest error' : 'farthest apart'];
    lines.push(...alignColumns([head, ...rows], '  '), '');
  }
  return [...lines, ...paragraph(sentence, '  ')];
}

/** What a claim that fails has to say on the side: one message. */
export function claimMessages(id: string, { verdict, says, counterexample }: ClaimResult): string[] {
  if (verdict !== 'fails') return [];
  const values = Object.entries(counterexample?.values ?? {}).map(([name]) => name);
  const where = values.length === 0 ? 'for the board as it stands' : `with ${values.join(', ')} changed`;
  return [`${id}: the claim "${says}" fails, ${where}.`];
}

function valueText(over: readonly ClaimCourseResult[], name: string, value: number | string): string {
  if (typeof value === 'string') return value;
  return shortText(value, over.find((course) => course.value === name)?.unit ?? null);
}

function courseCells({ value, unit, x, verdicts, error, holds }: ClaimCourseResult): string[] {
  const text = (at: number | string): string => (typeof at === 'string' ? at : shortText(at, unit));
  const [first, last] = [x[0], x.at(-1)];
  const words = typeof first === 'string';
  const tried = words
    ? x.join(', ')
    : first === undefined || last === undefined
      ? ''
      : `${text(first)} to ${text(last)}`;
  const holding = x.filter((_, index) => verdicts[index] === 'holds');
  const held = words ? holding.join(', ') : holds === null ? '' : `${text(holds.from)} to ${text(holds.to)}`;
  const errors = error.flatMap((each) => (each === null ? [] : [Math.abs(each)]));
  const none = holding.length === 0 ? 'nowhere' : `at ${holding.length} of ${x.length} points`;
  return [value, tried, held === '' ? none : held, errors.length === 0 ? '' : numberText(Math.max(...errors), 'share')];
}
