import type { FaultyResult } from '@two-thirds/sim/document';
import { valuePlace } from '../edit/board-values.ts';
import type { JsonRecord } from '../edit/json.ts';

/** One thing wrong, with its place in the document. */
export interface Complaint {
  readonly where: string;
  readonly message: string;
  /** The value of a part it is about, where it is about one: `R1.resistance`. */
  readonly value?: string;
}

/** Everything a faulty result complains of, each place and message once. */
export function complaintsOf(fault: FaultyResult | undefined): readonly Complaint[] {
  if (fault === undefined) return [];
  const all =
    fault.issues?.map(({ where, message, part, field }): Complaint => {
      const value = part === undefined || field === undefined ? {} : { value: `${part}.${field}` };
      return { where, message, ...value };
    }) ?? [];
  return (all.length > 0 ? all : [fault.error]).map((each) => ({ ...each, message: withoutCell(each.message) }));
}

/** How a message names the cell it is about, by its place in the file: `page[5] (says): `. */
const CELL = /^page\[\d+\](?: \(\w+\): |: |\.)/;

/** A message without the cell it begins with: it stands at that cell, and the page counts no places. */
function withoutCell(message: string): string {
  return message.replace(CELL, '');
}

/** A message about a board as it stands at that board: `R1: b must be joined to some other part; ...`. */
export function saidAtBoard(message: string, board: string): string {
  const place = `boards.${board}.`;
  if (!message.startsWith(place)) return message;
  return message.slice(place.length).replace(/^(\w+: )pins\.(?=\w+ must )/, '$1');
}

/** What a ready board's value is named in places: `boards.counter.values.R1`, `boards.counter.values["G1.wave"]`. */
const STATED = /^boards\.[^.]+\.values(?:\.([\w.]+)|\["([^"]+)"\])/;

/** The field that a message is about: `boards.counter.G1: wave.period must …`. */
const TOLD = /^[^:]*: (\S+) must /;

/** The complaints as they stand at their board, those about values that a ready board is given at the parts they are of. */
export function placedAtParts(
  complaints: readonly Complaint[],
  board: string,
  parts: readonly JsonRecord[],
): readonly Complaint[] {
  return complaints.map(({ message, ...at }) => {
    const complaint = { ...at, message: saidAtBoard(message, board) };
    const stated = STATED.exec(complaint.where);
    const place = valuePlace(parts, stated?.[1] ?? stated?.[2] ?? '');
    if (place === undefined) return complaint;
    // Of a value with fields inside, a wave, the message names the very field.
    const whole = place.steps.join('.');
    const told = TOLD.exec(complaint.message)?.[1] ?? whole;
    return { ...complaint, where: `${place.part}.${told.startsWith(`${whole}.`) ? told : whole}` };
  });
}

/** Complaints with those about known fields told apart. */
export interface SortedComplaints {
  /** What is wrong with a field, by its name. */
  readonly atField: ReadonlyMap<string, string>;
  readonly others: readonly Complaint[];
}

/**
 * Splits complaints into those about one of these fields and the rest. A complaint belongs to the outermost, then the
 * longest field name that its place ends with or leads into (`boards.counter.G1.wave.period` to `G1.wave.period`,
 * `page[3].x.from` to `x`), or that it names.
 *
 * @param fields names as places are written, for example `R1.resistance` or `take.width`.
 */
export function sortComplaints(complaints: readonly Complaint[], fields: readonly string[]): SortedComplaints {
  const atField = new Map<string, string>();
  const others: Complaint[] = [];
  const longestFirst = [...fields].sort((a, b) => b.length - a.length);
  for (const complaint of complaints) {
    const led = longestFirst.filter((each) => placeOf(each, complaint.where) >= 0);
    const outermost = Math.min(...led.map((each) => placeOf(each, complaint.where)));
    const field =
      led.find((each) => placeOf(each, complaint.where) === outermost) ??
      longestFirst.find((each) => complaint.value === each);
    if (field === undefined) others.push(complaint);
    else atField.set(field, [atField.get(field), withoutPlace(complaint.message, field)].filter(Boolean).join(' '));
  }
  return { atField, others };
}

/** What fields of a file hold by name: `take.width`, where the page says width alone. */
const HOLDER = /^(?:take|over|vary)\.(?=[\w.]+ must )/;

/** A message without the place it begins with: beside its field it need not say where it is. */
function withoutPlace(message: string, field: string): string {
  const inside = message.startsWith(`${field}: `) ? message.slice(field.length + 2) : message;
  return inside.replace(/^[^:]*: (?=\S+ must )/, '').replace(HOLDER, '');
}

/** Whether a complaint is about a board or a link of boards, and therefore said at the board. */
export function isAboutBoard({ where }: Complaint): boolean {
  return /^(?:boards|links)[.[]/.test(where);
}

/** What keeps a cell from its result where that is said at a board; undefined where nothing is. */
export function boardFault(complaints: readonly Complaint[]): string | undefined {
  const about = complaints.filter(isAboutBoard);
  if (about.length === 0) return undefined;
  return about.every(({ where }) => where.startsWith('links'))
    ? 'stopped: a link between boards cannot be used, and the circuit says why'
    : 'the board has a value that cannot be used';
}

/** Where in a place a field begins that the place ends with or leads into; -1 for none. */
function placeOf(field: string, where: string): number {
  const at = `.${where}`.indexOf(`.${field}`);
  if (at < 0) return -1;
  const after = `.${where}`.charAt(at + 1 + field.length);
  return after === '' || after === '.' || after === '[' ? at : -1;
}
