import { apartText, type ClaimResult } from '@two-thirds/sim/document';
import { listedText, spokenName } from '@two-thirds/sim/quantity';
import { pointText } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';
import { percent } from './spread-words.ts';

type Verdict = ClaimResult['verdict'];
type Course = ClaimResult['over'][number];
type Box = ClaimResult['box'];

const whole: Readonly<Record<Verdict, string>> = {
  holds: 'It holds wherever it was tried.',
  fails: 'It does not hold everywhere.',
  open: 'Nothing was decided.',
};

/** The same before all of it is computed: one case against a claim is enough, none is not. */
const soFar: Readonly<Record<Verdict, string>> = {
  holds: 'So far it holds wherever it was tried.',
  fails: whole.fails,
  open: 'Nothing is decided yet.',
};

/** What a claim came to, in words for people who did not write it. */
export function verdictWords({ verdict, share }: ClaimResult): string {
  return (share < 1 ? soFar : whole)[verdict];
}

/** What became of the trials of a claim, in a sentence. */
export function trialWords({ trials, holds, fails, open }: ClaimResult): string {
  const told = [
    ...(holds > 0 ? [`it held in ${holds}`] : []),
    ...(fails > 0 ? [`${holds > 0 ? '' : 'it '}failed in ${fails}`] : []),
    ...(open > 0 ? [`${open} decided nothing`] : []),
  ];
  return told.length === 0 ? '' : `Of ${trials} trials ${listedText(told)}.`;
}

/** The simplest case in which a claim fails, in words. */
export function counterexampleWords(result: ClaimResult): string | undefined {
  const { counterexample, over, unit, relation } = result;
  if (counterexample === null) return undefined;
  const values = Object.entries(counterexample.values).map(([name, value]) => {
    const course = over.find((each) => each.value === name);
    return `${spokenName(name)} ${typeof value === 'string' ? value : pointText(value, course?.unit ?? null)}`;
  });
  const sides = [counterexample.left, counterexample.right].map((side) =>
    side === null ? 'no value' : pointText(side, unit, 4),
  );
  const where = values.length === 0 ? 'With the board as it stands' : `With ${values.join(', ')}`;
  const { error } = counterexample;
  const off = error === null ? '' : `, ${relation === '=' ? `off by ${percent(error)}` : apartText(error)}`;
  return `${where}: ${sides[0]} on the left, ${sides[1]} on the right${off}.`;
}

/** What is drawn of a claim, in words: an error only where it says that both sides are equal. */
export function distanceWords({ relation }: ClaimResult): string {
  return relation === '=' ? 'How far off the claim is' : 'How far the left side lies above the right';
}

/** How far a claim reaches along a value, alone and while others are changed as well, in words; a semicolon behind them. */
export function stretchWords({ value, unit, holds }: Course, box: Box): string {
  const range = ({ from, to }: { readonly from: number; readonly to: number }): string =>
    `${pointText(from, unit)} to ${pointText(to, unit)}`;
  const side = box?.sides.find((each) => each.value === value);
  const together = side === undefined || 'words' in side ? undefined : `together with others from ${range(side)}`;
  const alone = holds === null ? undefined : `it holds alone from ${range(holds)}`;
  const told = [alone, together].filter((words) => words !== undefined);
  return told.length === 0 ? '' : `${told.join(', ')}; `;
}

/** Whether a claim holds with a word while others are changed as well. */
export function isInBox({ value }: Course, box: Box, word: number | string): boolean {
  const side = box?.sides.find((each) => each.value === value);
  return side !== undefined && 'words' in side && side.words.includes(String(word));
}

/** A claim along each of its values, as tables. */
export function claimTables({ over, unit, says, relation }: ClaimResult): DataTable[] {
  const side = (value: number | null | undefined): string =>
    value === null || value === undefined ? '–' : pointText(value, unit, 4);
  return over.map((course) => ({
    caption: `${says}, over ${spokenName(course.value)} alone`,
    columns: [spokenName(course.value), 'left', 'right', relation === '=' ? 'error' : 'left above right', 'it'],
    rows: course.x.map((at, index) => {
      const error = course.error[index] ?? null;
      return [
        typeof at === 'string' ? at : pointText(at, course.unit),
        side(course.left[index]),
        side(course.right[index]),
        error === null ? (course.reasons[String(index)] ?? '–') : percent(error),
        course.verdicts[index] ?? 'open',
      ];
    }),
  }));
}
