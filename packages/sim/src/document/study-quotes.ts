import { isObject, ownEntry } from '../field/record.ts';
import { shortText, type Unit } from '../quantity/index.ts';
import type { RemarkCode } from '../study/remark.ts';
import type { ChooseResult, ClaimResult, SpreadResult, StudyResult, SwapsResult, SweepResult } from './results.ts';
import { valueText } from './value-text.ts';

/** Kinds of studies whose numbers notes can quote. */
const QUOTED = ['sweep', 'spread', 'choose', 'claim', 'swaps'] as const;
type QuotedKind = (typeof QUOTED)[number];
type QuotedResult = Extract<StudyResult, { kind: QuotedKind }>;

/** What a note shows in the place of a name: a number with its unit, or words. */
type Quoted = { readonly value: number | null; readonly unit: Unit | null } | { readonly text: string };

/** Flags of combinations by the name under which their number is quoted. */
const FLAGS: Readonly<Record<string, RemarkCode>> = {
  unsafe: 'unsafe',
  over_limit: 'over-limit',
  supply_low: 'supply-low',
  never_starts: 'never-starts',
  never_ends: 'never-ends',
  unfinished: 'unfinished',
  too_fast: 'too-fast',
  flashing: 'flashing',
  inaudible: 'inaudible',
};

/** Quantiles of a spread between which nine tenths of the boards are. */
const LOW = 0.05;
const MIDDLE = 0.5;
const HIGH = 0.95;

/** Whether a cell is a study whose numbers notes can quote, and formulas cannot. */
export function isQuotedStudy(kind: unknown): kind is QuotedKind {
  return QUOTED.some((each) => each === kind);
}

/**
 * Names of what a study gives to notes, known from its text alone:
 *
 * - sweep: `jumps`, `first_jump`, `last_jump`; of each reading `least`, `greatest`, and, held against a rule, `error`
 * - spread: `share`, `samples`; of each reading `share`, `mean`, `median`, `low`, `high`, `least`, `greatest`
 * - choose: the values and the readings of the nearest set, of each reading `off`; `granted`
 * - claim: `verdict`, `trials`, `holds`, `fails`, `open`; `left`, `right`, `error`; each value, and its `from` and `to`
 * - swaps: `combinations`, `ranked`, `same`, and each flag; of each reading `least`, `greatest`
 */
export function studyNames(data: Readonly<Record<string, unknown>>): readonly string[] {
  const of = (field: string, ...names: readonly string[]): string[] =>
    keysOf(data, field).flatMap((key) => names.map((name) => (name === '' ? key : `${key}.${name}`)));
  const kind = ownEntry(data, 'kind');
  switch (isQuotedStudy(kind) ? kind : undefined) {
    case 'sweep': {
      const rules = ownEntry(data, 'against') === undefined ? [] : ['error'];
      return ['jumps', 'first_jump', 'last_jump', ...of('take', 'least', 'greatest', ...rules)];
    }
    case 'spread':
      return ['share', 'samples', ...of('take', 'share', 'mean', 'median', 'low', 'high', 'least', 'greatest')];
    case 'choose':
      return [...of('adjust', ''), ...of('want', '', 'off'), 'granted'];
    case 'claim':
      return ['verdict', 'trials', 'holds', 'fails', 'open', 'left', 'right', 'error', ...of('over', '', 'from', 'to')];
    case 'swaps':
      return ['combinations', 'ranked', 'same', ...Object.keys(FLAGS), ...of('take', 'least', 'greatest')];
    case undefined:
      return [];
  }
}

/** What a note shows for one of {@link studyNames}; `no value` where the study has none. */
export function studyQuote(result: QuotedResult, name: string): string {
  const found = quoted(result, name);
  if (found === undefined) return 'no value';
  return 'text' in found ? found.text : valueText(found.value, found.unit);
}

function quoted(result: QuotedResult, name: string): Quoted | undefined {
  switch (result.kind) {
    case 'sweep':
      return ofSweep(result, name);
    case 'spread':
      return ofSpread(result, name);
    case 'choose':
      return ofChoice(result, name);
    case 'claim':
      return ofClaim(result, name);
    case 'swaps':
      return ofSwaps(result, name);
  }
}

function ofSweep({ vary, series, against, marks }: SweepResult, name: string): Quoted | undefined {
  if (name === 'jumps') return plain(marks.length);
  if (name === 'first_jump') return { value: marks[0]?.above ?? null, unit: vary.unit };
  if (name === 'last_jump') return { value: marks.at(-1)?.above ?? null, unit: vary.unit };
  const [reading, what] = apart(name);
  const found = series.find((each) => each.name === reading);
  if (what === 'error') return share(against.find((each) => each.reading === reading)?.greatest?.error);
  return found && extreme(found.values, what, found.unit);
}

function ofSpread({ readings, inside, samples }: SpreadResult, name: string): Quoted | undefined {
  if (name === 'share') return insideShare(inside);
  if (name === 'samples') return plain(samples);
  const [reading, what] = apart(name);
  const found = readings.find((each) => each.name === reading);
  if (found === undefined) return undefined;
  const quantile = (at: number): number | undefined => found.quantiles.find((each) => each.share === at)?.value;
  const numbers: Readonly<Record<string, number | null | undefined>> = {
    mean: found.mean,
    median: quantile(MIDDLE),
    low: quantile(LOW),
    high: quantile(HIGH),
    least: found.worst.least?.value,
    greatest: found.worst.greatest?.value,
  };
  return what === 'share' ? insideShare(found.limits) : { value: numbers[what] ?? null, unit: found.unit };
}

function ofChoice({ adjust, want, sets, counts }: ChooseResult, name: string): Quoted | undefined {
  const [best] = sets;
  const place = adjust.findIndex(({ value }) => value === name);
  const chosen = adjust[place];
  if (chosen !== undefined) return exact(best?.values[place], chosen.unit);
  const wish = want.findIndex((each) => each.name === name);
  if (wish >= 0) return { value: best?.readings[wish] ?? null, unit: want[wish]?.unit ?? null };
  if (name === 'granted') return plain(counts.granted);
  const [reading] = apart(name);
  return share(best?.off[want.findIndex((each) => each.name === reading)]);
}

function ofClaim(result: ClaimResult, name: string): Quoted | undefined {
  const { verdict, unit, nominal, counterexample, over } = result;
  const sides = counterexample ?? nominal;
  switch (name) {
    case 'verdict':
      return { text: verdict === 'open' ? 'not decided' : verdict };
    case 'trials':
    case 'holds':
    case 'fails':
    case 'open':
      return plain(result[name]);
    case 'left':
    case 'right':
      return { value: sides?.[name] ?? null, unit };
    case 'error':
      return share(sides?.error);
  }
  const whole = over.find(({ value }) => value === name);
  if (whole !== undefined) {
    const value = counterexample?.values[name] ?? whole.now;
    return typeof value === 'string' ? { text: value } : exact(value, whole.unit);
  }
  const [of, end] = apart(name);
  const course = over.find(({ value }) => value === of);
  return course && exact(end === 'from' ? course.holds?.from : course.holds?.to, course.unit);
}

function ofSwaps({ readings, rows, ranked, count }: SwapsResult, name: string): Quoted | undefined {
  if (name === 'combinations') return plain(count);
  if (name === 'ranked') return plain(ranked.length);
  if (name === 'same') return plain(rows.filter(({ sameAs }) => sameAs !== null).length);
  const flag = Object.hasOwn(FLAGS, name) ? FLAGS[name] : undefined;
  if (flag !== undefined) return plain(rows.filter(({ flags }) => flags.some(({ what }) => what === flag)).length);
  const [reading, what] = apart(name);
  const place = readings.findIndex((each) => each.name === reading);
  const values = ranked.map((row) => rows[row]?.values[place] ?? null);
  return extreme(values, what, readings[place]?.unit ?? null);
}

/** The reading or value and what of it is meant; names of values may hold dots. */
function apart(name: string): readonly [of: string, what: string] {
  const dot = name.lastIndexOf('.');
  return [name.slice(0, dot), name.slice(dot + 1)];
}

function extreme(values: readonly (number | null)[], what: string, unit: Unit | null): Quoted {
  const found = values.filter((value) => value !== null);
  const value = what === 'least' ? Math.min(...found) : Math.max(...found);
  return { value: Number.isFinite(value) ? value : null, unit };
}

function share(value: number | null | undefined): Quoted {
  return { value: value ?? null, unit: 'share' };
}

/** Of no samples at all none is inside, which says nothing. */
function insideShare(found: { readonly of: number; readonly share: number } | null): Quoted {
  return share(found === null || found.of === 0 ? null : found.share);
}

function plain(value: number): Quoted {
  return { value, unit: null };
}

/** A value of a part, which is written with no more digits than it has. */
function exact(value: number | null | undefined, unit: Unit | null): Quoted {
  return { text: value === null || value === undefined ? 'no value' : shortText(value, unit) };
}

function keysOf(data: Readonly<Record<string, unknown>>, field: string): string[] {
  const found = ownEntry(data, field);
  return isObject(found) ? Object.keys(found) : [];
}
