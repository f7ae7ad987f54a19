import { readQuantity, typedQuantity, type Unit } from '@two-thirds/sim/quantity';
import { terminalNets } from './board-names.ts';
import { boardReadings, boardWindow, timerNets, timingParts } from './board-start.ts';
import { boardParts, valuePlace } from './board-values.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';
import { valueAt, withValue } from './path.ts';
import { startingWindow } from './starting-window.ts';
import { timingRule } from './timing-rule.ts';

/** Samples of a spread that is begun: enough to see its shape, few enough to be there at once. */
const SAMPLES = 300;
/** Trials of a claim that is begun. */
const TRIALS = 100;
/** Steps of a range that is begun. */
const STEPS = 12;
/** Steps to either side of a map that is begun; fewer where its regions are looked for with many pulses each. */
const MAP_STEPS = 8;
const DRIVEN_STEPS = 6;
/** Periods of an input that must fit into the window for its period to be worth a map. */
const PERIODS_SEEN = 4;
/** How far a choice looks around the present values: half a decade each way. */
const HALF_DECADE = Math.sqrt(10);
/** Most values that one spread takes. */
const MOST_SPREAD = 40;

/** Tolerances of parts that state none: what is usually bought; common practice, no source. */
const USUAL_TOLERANCES = { resistor: '5 %', capacitor: '10 %', polarised: '20 %' } as const;

/** A value of a board with what it is now (SI). */
interface NumberHere {
  readonly name: string;
  readonly unit: Unit;
  readonly value: number;
}

/**
 * The first part that sets the time of a board, from a tenth of what it is to ten times that; a third and three times
 * where an input drives it, as every jump of the ratio is looked for.
 */
export function sweepStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  if (window === undefined) return undefined;
  const [first] = variable(document, window.board);
  const take = boardReadings(document, window.board);
  if (first === undefined) return undefined;
  if (first.unit === 'V') return { ...window, vary: { value: first.name, ...around(first, 2), steps: STEPS }, take };
  const times = take['ratio'] === undefined ? 10 : 3;
  return {
    ...window,
    until: lateEnough(document, window, first, times),
    vary: { value: first.name, ...around(first, times), series: 'E12' },
    take,
  };
}

/** The time of a board against the period of its input, or its two timing parts against each other. */
export function mapStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  if (window === undefined) return undefined;
  const [first, second] = variable(document, window.board);
  if (first === undefined || first.unit === 'V') return undefined;
  const end = readQuantity(window.until, 's');
  const period = inputPeriod(document, window.board);
  const isDriven = period !== undefined && end.ok && PERIODS_SEEN * period.value <= end.value;
  const other = isDriven ? period : second;
  if (other === undefined) return undefined;
  const readings = Object.entries(boardReadings(document, window.board));
  const told = (isDriven ? readings.find(([name]) => name === 'ratio') : undefined) ?? readings[0];
  const steps = isDriven ? DRIVEN_STEPS : MAP_STEPS;
  const scale = isDriven ? {} : { scale: 'logarithmic' };
  const axis = (each: NumberHere): JsonRecord => ({ value: each.name, ...around(each, 2), steps, ...scale });
  const y = isDriven ? { ...axis(period), from: aboveWidth(period) } : axis(other);
  return { ...window, x: axis(first), y, take: told === undefined ? {} : { [told[0]]: told[1] } };
}

/** All resistors and capacitors of a board within their tolerances; those that state none within usual ones. */
export function spreadStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  if (window === undefined) return undefined;
  const parts = boardParts(document, window.board).flatMap((part): [string, Json][] => {
    const usual = usualTolerance(part);
    const name = part['name'];
    if (usual === undefined || typeof name !== 'string' || numberOf(document, window.board, name) === undefined)
      return [];
    return [[name, part['tolerance'] === undefined ? usual : 'own']];
  });
  if (parts.length === 0) return undefined;
  const take = boardReadings(document, window.board);
  const rule = timingRule(document, window.board);
  const named = Object.entries(take).find(([, asked]) => asked === rule?.reading)?.[0];
  const limits =
    rule === undefined || named === undefined
      ? {}
      : { limits: { [named]: [0.9, 1.1].map((share) => text(share * rule.value, rule.unit)) } };
  return { ...window, parts: Object.fromEntries(parts.slice(0, MOST_SPREAD)), take, ...limits, samples: SAMPLES };
}

/** The tolerance of a part that states none; undefined for parts that have none. */
export function usualTolerance(part: JsonRecord): string | undefined {
  if (part['kind'] === 'resistor') return USUAL_TOLERANCES.resistor;
  if (part['kind'] !== 'capacitor') return undefined;
  return part['polarised'] === true ? USUAL_TOLERANCES.polarised : USUAL_TOLERANCES.capacitor;
}

/** Preferred values for the time that a board has now, within 5 %, to be changed to the time that is wanted. */
export function chooseStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  const rule = window === undefined ? undefined : timingRule(document, window.board);
  if (window === undefined || rule === undefined) return undefined;
  const adjust = timingParts(document, window.board).flatMap((name): [string, Json][] => {
    const now = numberOf(document, window.board, name);
    const series = now?.unit === 'F' ? 'E6' : 'E12';
    return now === undefined ? [] : [[name, { series, ...around(now, HALF_DECADE) }]];
  });
  const name = rule.reading.replace(/\(.*/, '');
  const wish = { reading: rule.reading, value: text(rule.value, rule.unit), within: '5 %' };
  return { ...window, want: { [name]: wish }, adjust: Object.fromEntries(adjust) };
}

/** The rule of thumb for the time of a board, tried over a decade to either side of its parts. */
export function claimStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const rule = board === undefined ? undefined : timingRule(document, board);
  if (board === undefined || rule === undefined) return undefined;
  const over = rule.parts.flatMap((name): [string, Json][] => {
    const now = numberOf(document, board, name);
    return now === undefined ? [] : [[name, { ...around(now, 10), series: 'E6' }]];
  });
  const from = rule.from === undefined ? {} : { from: rule.from };
  const says = `${rule.reading} = ${rule.text} within 5 %`;
  return { board, ...from, until: rule.until, says, over: Object.fromEntries(over), trials: TRIALS };
}

/**
 * A range around what a value of a board is now: preferred values half a decade each way for a resistor or a capacitor,
 * half to double of a voltage; undefined for other values.
 */
export function startingRange(document: Json, board: string, name: string): JsonRecord | undefined {
  const now = numberOf(document, board, name);
  if (now === undefined) return undefined;
  return now.unit === 'V' ? { ...around(now, 2), steps: STEPS } : { ...around(now, HALF_DECADE), series: 'E12' };
}

/** Values worth varying, the best first: those that set the time, other resistors and capacitors, the supply. */
function variable(document: Json, board: string): NumberHere[] {
  const kinds = ['resistor', 'capacitor', 'supply'];
  const parts = boardParts(document, board);
  const others = kinds.flatMap((kind) => parts.filter((part) => part['kind'] === kind).map((part) => part['name']));
  const names = [...timingParts(document, board), ...others.filter((name) => typeof name === 'string')];
  return [...new Set(names)].flatMap((name) => numberOf(document, board, name) ?? []);
}

const units: Readonly<Record<string, Unit>> = { resistance: 'Ω', capacitance: 'F', voltage: 'V' };

function numberOf(document: Json, board: string, name: string): NumberHere | undefined {
  const parts = boardParts(document, board);
  const place = valuePlace(parts, name);
  const unit = units[String(place?.steps[0])];
  const raw = valueAt(
    parts.find((part) => part['name'] === place?.part),
    place?.steps ?? [],
  );
  const read = unit === undefined || raw === undefined ? undefined : readQuantity(raw, unit);
  return unit !== undefined && read?.ok === true && read.value > 0 ? { name, unit, value: read.value } : undefined;
}

function around({ value, unit }: NumberHere, times: number): { from: string; to: string } {
  return { from: text(value / times, unit), to: text(value * times, unit) };
}

/** Three digits: what one would write. */
function text(value: number, unit: Unit): string {
  return typedQuantity(Number(value.toPrecision(3)), unit);
}

/** The window of a sweep that goes to so many times a value: long enough for the slowest of its runs. */
function lateEnough(
  document: Json,
  { board, until }: { board: string; until: Json },
  first: NumberHere,
  times: number,
): Json {
  const place = valuePlace(boardParts(document, board), first.name);
  const slowest = boardParts(document, board).map((part): JsonRecord => {
    if (part['name'] !== place?.part) return part;
    const changed = withValue(part, place?.steps ?? [], text(times * first.value, first.unit));
    return isRecord(changed) ? changed : part;
  });
  const late = startingWindow(slowest);
  const [a, b] = [readQuantity(until, 's'), readQuantity(late, 's')];
  return a.ok && b.ok && b.value > a.value ? late : until;
}

/** The period of the signal that triggers the first timer. */
function inputPeriod(document: Json, board: string): (NumberHere & { readonly width: number }) | undefined {
  const { trigger } = timerNets(document, board);
  const signal = boardParts(document, board).find(
    (part) => part['kind'] === 'signal' && Object.values(terminalNets(part)).includes(trigger ?? ''),
  );
  const [period, width] = ['period', 'width'].map((field) => {
    const raw = valueAt(signal, ['wave', field]);
    const read = raw === undefined ? undefined : readQuantity(raw, 's');
    return read?.ok === true ? read.value : 0;
  }) as [number, number];
  if (typeof signal?.['name'] !== 'string' || !(period > 0)) return undefined;
  return { name: `${signal['name']}.wave.period`, unit: 's', value: period, width };
}

/** Half a period, or as much as its pulse needs. */
function aboveWidth({ value, width }: { readonly value: number; readonly width: number }): string {
  return text(Math.max(value / 2, Math.min(1.2 * width, value)), 's');
}
