import type { Part } from '../circuit/description.ts';
import type { Issue } from '../core/errors.ts';
import { familyTable } from '../device/family-table.ts';
import type { TimerFamily } from '../device/timer-parameters.ts';
import { formatQuantity, readQuantity, readTolerance, type Unit } from '../quantity/index.ts';
import type { SpreadQuantity } from '../study/spread-quantity.ts';
import { type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { isLeakage, parameterUnits } from './spread-units.ts';
import { listedNames } from './name-help.ts';
import type { SpreadCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { fault, foundData } from './schema-wording.ts';
import { MOST_SPREAD } from './spread-schema.ts';

/** A value that a spread varies, and where its range comes from. */
export interface SpreadPart {
  readonly value: BoardValue;
  readonly quantity: SpreadQuantity;
  /** `tolerance of R1, 5 %`, `stated in the cell`, or the source of a family's parameter. */
  readonly source: string;
}

/** Digits of the ends of a tolerance, so that they are what one would write: 10.1 µF, not 10.100000000000001 µF. */
const DIGITS = 12;

/** The word that stands for the range a part itself brings along. */
const OWN = 'own';

/** The values that a spread cell varies, or what is wrong with them. */
export function readSpreadParts(
  cell: Pick<SpreadCell, 'parts'>,
  board: GoodBoard,
  at: CellPlace,
): { parts: SpreadPart[]; issues: Issue[] } {
  const asked = askedRanges(cell, board);
  const parts: SpreadPart[] = [];
  const issues: Issue[] = [];
  for (const { name, range, field } of asked) {
    const read = range === OWN ? ownRanges(name, board) : [statedRange(name, range, board)];
    for (const each of read) {
      if (typeof each !== 'string') parts.push(each);
      else {
        const message = `${at.label}: ${field} ${each}`;
        issues.push({ code: 'bad-range', severity: 'fault', where: `${at.place}.${field}`, field, message });
      }
    }
  }
  const pathOf = ({ value }: SpreadPart): string => [value.part, ...value.steps].join('.');
  const twice = parts.find((part, index) => parts.findIndex((each) => pathOf(each) === pathOf(part)) < index);
  if (twice !== undefined) issues.push(partsFault(at, 'name no value twice', twice.value.name, 'Take one out.'));
  if (parts.length === 0 && issues.length === 0) {
    const advice =
      'Give resistors or capacitors a tolerance, for example "tolerance": "5 %", or state ranges in parts.';
    issues.push(partsFault(at, 'leave something to vary', 'no part with a tolerance', advice));
  }
  if (parts.length > MOST_SPREAD)
    issues.push(partsFault(at, `vary at most ${MOST_SPREAD} values`, String(parts.length), 'Name fewer.'));
  return { parts, issues };
}

function partsFault(at: CellPlace, rule: string, got: string, advice: string): Issue {
  return fault('bad-range', `${at.place}.parts`, { label: at.label, field: 'parts', rule, got, advice });
}

interface AskedRange {
  readonly name: string;
  readonly range: unknown;
  readonly field: string;
}

/** Without `parts`, every part of the board that has a tolerance. */
function askedRanges({ parts }: Pick<SpreadCell, 'parts'>, board: GoodBoard): AskedRange[] {
  if (parts === undefined) {
    return ownParts(board)
      .filter(({ values }) => typeof values.tolerance === 'number' && values.tolerance > 0)
      .map(({ name }) => ({ name: name.slice(board.prefix.length), range: OWN, field: 'parts' }));
  }
  if (isList(parts)) return parts.map((name, index) => ({ name, range: OWN, field: `parts[${index}]` }));
  return Object.entries(parts).map(([name, range]) => ({ name, range, field: placeInside('parts', name) }));
}

function isList(parts: NonNullable<SpreadCell['parts']>): parts is readonly string[] {
  return Array.isArray(parts);
}

function ownParts(board: GoodBoard): Part[] {
  return board.circuit.parts.filter(({ name }) => name.startsWith(board.prefix));
}

/** The tolerance of a resistor or capacitor, or the published ranges of a timer's family; else what is wrong. */
function ownRanges(name: string, board: GoodBoard): (SpreadPart | string)[] {
  const part = ownParts(board).find((each) => each.name === board.prefix + name);
  if (part === undefined) {
    const names = ownParts(board).map((each) => each.name.slice(board.prefix.length));
    return [`must name a part of the board (${listedNames(names)}); got "${name}". Correct the name.`];
  }
  if (part.kind === 'timer') return familyRanges(name, part, board);
  const { tolerance } = part.values;
  const found = boardValue(name, board);
  if (!found.ok || found.value.now === null || typeof tolerance !== 'number') {
    const advice = `Add a tolerance to ${name}, or state a range: { "${name}": "5 %" }.`;
    return [`must have a tolerance of its own; got ${name} without one. ${advice}`];
  }
  return [tolerated(found.value, found.value.now, tolerance, `tolerance of ${name}`)];
}

function tolerated(value: BoardValue, now: number, tolerance: number, source: string): SpreadPart {
  const reach = tolerance * Math.abs(now);
  const [from, to] = [now - reach, now + reach].map((end) => Number(end.toPrecision(DIGITS))) as [number, number];
  return {
    value,
    quantity: quantityOf(value, from, to, false),
    source: `${source}, ${formatQuantity(tolerance, 'share', { exact: true })}`,
  };
}

function quantityOf(value: BoardValue, from: number, to: number, reciprocal: boolean): SpreadQuantity {
  return { name: value.name, unit: value.unit, nominal: value.now, from, to, reciprocal };
}

/** What is published of a family around its usual values; parameters that the board itself states are left alone. */
function familyRanges(name: string, part: Part, board: GoodBoard): (SpreadPart | string)[] {
  const family = part.values.family as TimerFamily;
  const stated = (part.values.with ?? {}) as Readonly<Record<string, unknown>>;
  const ranges = Object.entries(familyTable[family]).flatMap(([parameter, entry]): SpreadPart[] => {
    const { nominal, least, greatest, source } = entry;
    if (typeof nominal !== 'number' || stated[parameter] !== undefined) return [];
    if (least === undefined && greatest === undefined) return [];
    const found = boardValue(`${name}.with.${parameter}`, board);
    if (!found.ok) return [];
    const value = { ...found.value, unit: parameterUnits[parameter] ?? found.value.unit };
    return [{ value, quantity: quantityOf(value, least ?? nominal, greatest ?? nominal, false), source }];
  });
  if (ranges.length > 0) return ranges;
  return [`must have published ranges; got ${name} of the family ${family}, which has none. Take ${name} out.`];
}

/** A range stated in the cell: a tolerance, or the two ends. */
function statedRange(name: string, range: unknown, board: GoodBoard): SpreadPart | string {
  const found = boardValue(name, board);
  if (!found.ok) return found.message;
  const { value } = found;
  if (!Array.isArray(range)) {
    const read = readTolerance(range);
    if (!read.ok) return `${read.message} Or write the two ends, ["10 V", "14 V"], or "${OWN}".`;
    if (value.now === null)
      return `must be given as two ends; got a tolerance of ${name}, which is none now. Write both.`;
    return tolerated(value, value.now, read.value, 'stated in the cell');
  }
  const ends = range as readonly unknown[];
  if (ends.length !== 2) return `must have two ends; got ${foundData(range)}. Write the least and the greatest.`;
  const leaks = isLeakage(value);
  const numbers: number[] = [];
  for (const end of ends) {
    const read = readEnd(end, value.unit, leaks);
    if (!read.ok) return read.message;
    numbers.push(read.value);
  }
  const [a = 0, b = 0] = numbers;
  if (a === b) return `must have two ends; got ${foundData(ends[0])} twice. Leave out what does not change.`;
  if (!(a < b))
    return `must go from the smaller to the larger end; got ${foundData(ends[0])} before ${foundData(ends[1])}. Swap the two.`;
  const quantity = leaks ? quantityOf(value, 1 / b, 1 / a, true) : quantityOf(value, a, b, false);
  return { value, quantity, source: 'stated in the cell' };
}

function readEnd(end: unknown, unit: Unit | null, leaks: boolean): ReturnType<typeof readQuantity> {
  if (leaks && end === 'none') return { ok: true, value: Infinity };
  if (unit !== null) return readQuantity(end, unit);
  if (typeof end === 'number' && Number.isFinite(end)) return { ok: true, value: end };
  return { ok: false, message: `must hold plain numbers; got ${foundData(end)}. Write for example [0.4, 0.6].` };
}
