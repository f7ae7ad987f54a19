import { listedText } from '../core/listed-text.ts';
import { formatQuantity, percentText, withMinus } from '../quantity/index.ts';
import { quantityText } from '../study/sweep-words.ts';
import type { ChooseResult, ChosenSetResult } from './choose-results.ts';

/** A reading that moves by more than this share of what it may be off, with large leakages, is told. */
const MOVED = 0.1;

/** What a choice found, in a few sentences built from its own numbers. */
export function chooseWords(result: Omit<ChooseResult, 'sentence'>): string {
  const { sets, counts, share } = result;
  if (counts.run === 0) return 'Nothing is computed yet.';
  const [best] = sets;
  const lines = best === undefined ? [`None of ${counts.run} sets can be ranked.`] : bestWords(result, best);
  if (share < 1) lines.push('Not all sets are run yet.');
  return [...lines, ...precisionWords(result), ...leftOutWords(result), ...ratingWords(result)].join(' ');
}

/** The values of a set: `R1 390 kΩ and C1 10 µF`. */
export function setText({ adjust }: Pick<ChooseResult, 'adjust'>, values: readonly number[]): string {
  const texts = adjust.map(({ value, unit }, index) => {
    const number = values[index] ?? NaN;
    return `${value} ${unit === null ? withMinus(String(number)) : formatQuantity(number, unit, { exact: true })}`;
  });
  return listedText(texts);
}

/** How far a reading is off: `0.3 % too long` has no meaning for all readings, so `+0.3 %`. */
export function offText(off: number | null): string {
  if (off === null) return 'off';
  return percentText(Number((off * 100).toPrecision(2)), { signed: true });
}

function bestWords(result: Omit<ChooseResult, 'sentence'>, best: ChosenSetResult): string[] {
  const { counts, want } = result;
  const readings = want.map(
    ({ name, unit }, index) =>
      `${name} ${quantityText(best.readings[index] ?? NaN, unit)} (${offText(best.off[index] ?? null)})`,
  );
  const wished = want.map(
    ({ name, unit, target, allowance }) =>
      `${name} ${quantityText(target, unit)} within ${quantityText(allowance, unit)}`,
  );
  const granted =
    counts.granted === 0
      ? `none comes as near as wanted (${listedText(wished)})`
      : `${counts.granted} grant what is wanted (${listedText(wished)})`;
  const nearest = `The nearest is ${setText(result, best.values)}: ${listedText(readings)}.`;
  return [`${triedWords(result)}; ${granted}.`, nearest, ...strainWords(result, best)];
}

/** Which sets were run, and what told that they are the nearest. */
function triedWords({ counts, rules, surveyed }: Omit<ChooseResult, 'sentence'>): string {
  if (counts.run >= counts.there) return `All ${counts.there} sets were run`;
  if (rules.length > 0) {
    return `Of ${counts.there} sets, those were run that ${listedText(rules)} puts nearest, set right by one run`;
  }
  return `Of ${counts.there} sets, those were run that a survey of ${surveyed} runs puts nearest`;
}

/** What the largest leakages would change. */
function strainWords({ want }: Omit<ChooseResult, 'sentence'>, best: ChosenSetResult): string[] {
  const { strained } = best;
  if (strained === null) return [];
  const moved = want.flatMap(({ name, unit, allowance }, index) => {
    const [plain = NaN, strain = NaN] = [best.readings[index], strained[index]];
    return Math.abs(strain - plain) > MOVED * allowance ? [`${name} ${quantityText(strain, unit)}`] : [];
  });
  if (moved.length === 0) return ['The largest input and leakage currents published for the timer hardly move it.'];
  return [`With the largest input and leakage currents published for the timer: ${listedText(moved)}.`];
}

function precisionWords({ precision, want }: Omit<ChooseResult, 'sentence'>): string[] {
  const told = precision.flatMap(({ series, best }) => (best === null ? [] : [{ series, best }]));
  if (told.length < 2) return [];
  const errors = told.map(({ best }) => best.error);
  if (Math.min(...errors) === Math.max(...errors)) {
    return [
      `Finer values gain nothing: the best set is as near with each of ${listedText(told.map(({ series }) => series))}.`,
    ];
  }
  const texts = told.map(({ series, best }) => {
    const offs = want.map((_, index) => offText(best.off[index] ?? null));
    return `with ${series} by ${offs.join(' and ')}`;
  });
  return [`What finer values are worth: the best set is off ${listedText(texts)}.`];
}

function leftOutWords(result: Omit<ChooseResult, 'sentence'>): string[] {
  const { harmful, without } = result;
  const [harm] = harmful.sets;
  const [none] = without.sets;
  return [
    ...(harm === undefined
      ? []
      : [
          `${countText(harmful.count)} left out, outside of what a part is made for: with ${setText(result, harm.values)}, ${harm.why}`,
        ]),
    ...(none === undefined
      ? []
      : [`${countText(without.count)} left out without a value: with ${setText(result, none.values)}, ${none.why}.`]),
  ];
}

function countText(count: number): string {
  return count === 1 ? '1 set is' : `${count} sets are`;
}

function ratingWords({ notStated }: Omit<ChooseResult, 'sentence'>): string[] {
  if (notStated.length === 0) return [];
  const texts = notStated.map(({ part, what, used }) => `${what} of ${part}${used === null ? '' : ` (${used} used)`}`);
  return [`Not stated: ${listedText(texts)}.`];
}
