import type { Issue } from '../core/errors.ts';
import { formatQuantity, readQuantity, type Unit, withMinus } from '../quantity/index.ts';
import { type Axis, linearPoints, logarithmicPoints, preferredPoints } from '../study/axis.ts';
import { type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { fault, foundData } from './schema-wording.ts';
import { MOST_STEPS, STEPS, type Vary } from './vary-schema.ts';

/** A range of a value of a board, or what is wrong with it. */
export type ReadAxis =
  | { readonly ok: true; readonly axis: Axis; readonly value: BoardValue }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** Reads a range for a board. @param field the field of the cell it stands in, such as `vary`. */
export function readAxis(vary: Vary, board: GoodBoard, at: CellPlace, field: string): ReadAxis {
  const refuse = (step: string, rule: string, got: string, advice: string, code = 'bad-range'): ReadAxis => {
    const name = step === '' ? field : `${field}.${step}`;
    const issue = fault(code, `${at.place}.${name}`, { label: at.label, field: name, rule, got, advice });
    return { ok: false, issues: [issue] };
  };
  const pass = (step: string, code: string, words: string): ReadAxis => {
    const name = `${field}.${step}`;
    const message = `${at.label}: ${name} ${words}`;
    return { ok: false, issues: [{ code, severity: 'fault', where: `${at.place}.${name}`, field: name, message }] };
  };
  const found = boardValue(vary.value, board);
  if (!found.ok) return pass('value', 'unknown-value', found.message);
  const { value } = found;
  const form = formOf(vary);
  for (const step of LEFT_OUT[form]) {
    if (vary[step] === undefined) continue;
    return refuse(step, `be left out beside ${form}`, foundData(vary[step]), `Remove it, or remove ${form}.`);
  }
  const numbers = new Map<string, number>();
  const ends = [['from', vary.from] as const, ['to', vary.to] as const];
  const listed = (vary.values ?? []).map((each, index) => [`values[${index}]`, each] as const);
  for (const [step, data] of form === 'values' ? listed : ends) {
    const read = readNumber(data, value.unit);
    if (!read.ok) return pass(step, 'bad-range', read.message);
    numbers.set(step, read.value);
  }
  const text = (number: number): string =>
    value.unit === null ? withMinus(String(number)) : formatQuantity(number, value.unit);
  const axis = (points: readonly number[], scale: Axis['scale']): ReadAxis => ({
    ok: true,
    axis: { name: vary.value, unit: value.unit, points, scale },
    value,
  });
  if (form === 'values') {
    const points = [...numbers.values()].sort((a, b) => a - b);
    const twice = points.find((point, index) => index > 0 && points[index - 1] === point);
    if (twice !== undefined)
      return refuse('values', 'hold no value twice', `${text(twice)} twice`, 'Remove one of the two.');
    return axis(points, 'linear');
  }
  const from = numbers.get('from') ?? 0;
  const to = numbers.get('to') ?? 0;
  if (!(to > from)) return refuse('to', `be more than from (${text(from)})`, text(to), 'Move one of the two.');
  const scale = form === 'series' ? 'logarithmic' : (vary.scale ?? 'linear');
  if (scale === 'logarithmic' && from <= 0) {
    const advice = form === 'series' ? 'Preferred values are positive.' : 'Choose another, or "scale": "linear".';
    return refuse('from', 'be more than 0', text(from), advice);
  }
  if (form === 'series' && vary.series !== undefined) {
    const points = preferredPoints(from, to, vary.series);
    const rule = `reach over two to ${MOST_STEPS + 1} values of ${vary.series}`;
    if (points.length < 2 || points.length > MOST_STEPS + 1) return refuse('to', rule, `${points.length}`, 'Move it.');
    return axis(points, scale);
  }
  const steps = vary.steps ?? STEPS;
  return axis(scale === 'linear' ? linearPoints(from, to, steps) : logarithmicPoints(from, to, steps), scale);
}

type Form = 'values' | 'series' | 'steps';

/** What does not go with each form. */
const LEFT_OUT: Readonly<Record<Form, readonly (keyof Vary)[]>> = {
  values: ['from', 'to', 'steps', 'scale', 'series'],
  series: ['steps', 'scale'],
  steps: [],
};

function formOf({ values, series }: Vary): Form {
  if (values !== undefined) return 'values';
  return series === undefined ? 'steps' : 'series';
}

function readNumber(data: unknown, unit: Unit | null): { ok: true; value: number } | { ok: false; message: string } {
  if (unit !== null) return readQuantity(data, unit);
  if (typeof data === 'number' && Number.isFinite(data)) return { ok: true, value: data };
  return { ok: false, message: `must be a plain number; got ${foundData(data)}. Write for example 3.` };
}
