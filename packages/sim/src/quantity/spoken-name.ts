import { fieldWords } from './field-words.ts';

/** Fields that only hold others: that the period of a signal stands in its wave matters to the document alone. */
const AROUND: readonly string[] = ['wave', 'with'];
/** What one entry of a list is called. */
const ENTRIES: Readonly<Record<string, string>> = {
  points: 'point',
  presses: 'press',
  touches: 'touch',
  changes: 'change',
};
/** The two values of a point of a wave. */
const SIDES: readonly string[] = ['time', 'voltage'];
/** Values whose names say too little by themselves. */
const WHOLE: Readonly<Record<string, string>> = { 'bounce.for': 'bounces for', 'bounce.seed': 'bounces by seed' };

/**
 * What a value is called in a sentence: `R1`, `C1 leakage`, `G1 period` for `G1.wave.period`, `G1 point 3 voltage` for
 * `G1.wave.points[2][1]`, `S1 press 1 for` for `S1.presses[0].for`.
 */
export function spokenName(name: string): string {
  const [part = '', ...fields] = name.split('.');
  const steps = fields
    .flatMap((field) => field.split(/[[\]]+/u))
    .filter((step) => step !== '')
    .map((step) => (/^\d+$/u.test(step) ? Number(step) : step));
  const words = placeWords(steps);
  return words === '' ? part : `${part} ${words}`;
}

/**
 * What a value of a part is called beside the name of the part: `leakage`, `period`, `point 3 voltage`.
 *
 * @param steps the way to it from its part: names of fields, and numbers in lists from 0 on.
 */
export function placeWords(steps: readonly (string | number)[]): string {
  const whole = WHOLE[steps.join('.')];
  if (whole !== undefined) return whole;
  const inner = steps.length > 1 && AROUND.includes(String(steps[0])) ? steps.slice(1) : steps;
  return inner.map((step, index) => stepWords(inner, step, index)).join(' ');
}

function stepWords(steps: readonly (string | number)[], step: string | number, index: number): string {
  const [before, next] = [steps[index - 1], steps[index + 1]];
  if (typeof step === 'number') return (typeof before === 'number' ? SIDES[step] : undefined) ?? String(step + 1);
  return (typeof next === 'number' ? ENTRIES[step] : undefined) ?? fieldWords(step.replaceAll('_', ' '));
}
