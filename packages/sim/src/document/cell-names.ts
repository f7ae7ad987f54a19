import type { Part } from '../circuit/description.ts';
import { GROUND } from '../circuit/names.ts';
import { IssueError, type Issue } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { contactsOf } from '../measure/contacts.ts';
import { checkReading } from '../measure/check-reading.ts';
import type { MeasureContext } from '../measure/context.ts';
import { type ParsedReading, parseReading } from '../measure/parse-reading.ts';
import { formatQuantity } from '../quantity/index.ts';
import { highLevel, timersOf } from '../run/simulate.ts';
import type { ContactWatch } from '../trace/contact-observer.ts';
import { readContactName, readSignalName, type SignalName } from '../trace/signal-name.ts';
import type { GoodBoard } from './board-table.ts';
import { findCellNumber, isCellKnob } from './cell-knob.ts';
import { findValue, partValue } from './knob.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { BoardCell, FatesCell, ReadingCell, RunCell, TraceCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { fault } from './schema-wording.ts';

/** Where a cell stands: its place for programs, and how messages name it. */
export interface CellPlace {
  readonly place: string;
  readonly label: string;
}

/** What a run of a board can be asked about, with names as they are in the circuit that is run. */
export interface RunNames {
  readonly context: MeasureContext;
  /** All nets, internal ones of timers included. */
  readonly nets: readonly string[];
  /** Parts whose current a trace can show. */
  readonly currents: readonly string[];
  /** Contacts that a trace can show, by name. */
  readonly contacts: ReadonlyMap<string, ContactWatch>;
  /** A name as written in a cell, as it is in the circuit: on a linked board, its own names come first. */
  resolve(name: string): string;
}

/** Gathers what cells may name on a board. */
export function runNames(board: GoodBoard): RunNames {
  const { circuit, prefix } = board;
  const timers = timersOf(circuit);
  const nets = [...new Set([GROUND, ...circuit.nets, ...timers.flatMap((timer) => [timer.control, timer.lower])])];
  const contacts = new Map(circuit.parts.flatMap((part) => [...contactsOf(part)]));
  const parts = new Set([...circuit.parts.map((part) => part.name), ...contacts.keys()]);
  // The board's own first timer decides, not the first one of the boards it is linked to.
  const ownFirst = [...circuit.parts].sort((a, b) => Number(isOwn(b, prefix)) - Number(isOwn(a, prefix)));
  return {
    context: { circuit, timers, highLevel: highLevel({ ...circuit, parts: ownFirst }) },
    nets,
    currents: circuit.parts.filter((part) => part.kind !== 'timer').map((part) => part.name),
    contacts,
    resolve: (name) => (nets.includes(prefix + name) || parts.has(prefix + name) ? prefix + name : name),
  };
}

function isOwn(part: Part, prefix: string): boolean {
  return part.name.startsWith(prefix);
}

/**
 * Checks the knobs of a board cell: each must name a value of the board, or a number of a cell that looks at it.
 *
 * @param cells the cells of the page as they stand in the file, by id.
 */
export function checkKnobs(
  cell: BoardCell,
  board: GoodBoard,
  at: CellPlace,
  cells: ReadonlyMap<string, unknown>,
): Issue[] {
  return cell.knobs.flatMap((knob, index) => {
    const where = `${at.place}.knobs[${index}]`;
    if (isCellKnob(knob)) {
      const number = findCellNumber(knob, cell.board, cells);
      return number.ok ? [] : [refused('unknown-value', where, at, `knobs[${index}]`, number.message)];
    }
    const found = findValue(knob, board.parts, standardKinds);
    if (!found.ok) return [refused('unknown-value', where, at, `knobs[${index}]`, found.message)];
    const { part, steps } = found.path;
    const owner = board.circuit.parts.find(({ name }) => name === board.prefix + part);
    if (steps.length === 1 || partValue(owner, steps) !== undefined) return [];
    const message = `must name a value that ${part} has; got ${foundText(knob)}. Name it as it stands in the parts list.`;
    return [refused('unknown-value', where, at, `knobs[${index}]`, message)];
  });
}

/** What a lane of a trace shows: a signal of the circuit, or whether a contact conducts. */
export type ShownSignal = SignalName | { readonly contact: ContactWatch };

/** The signals of a trace cell as they are in the circuit, or what is wrong with them. */
export function readShow(cell: TraceCell, names: RunNames, at: CellPlace): { signals: ShownSignal[]; issues: Issue[] } {
  const signals: ShownSignal[] = [];
  const issues: Issue[] = [];
  const refuse = (index: number, rule: string, name: string, known: readonly string[]): void => {
    const advice = nameAdvice(name, known, known.length === 0 ? 'Choose a net or a current.' : 'Choose one of them.');
    const message = `must ${rule}; got ${foundText(cell.show[index])}. ${advice}`;
    issues.push(refused('unknown-signal', `${at.place}.show[${index}]`, at, `show[${index}]`, message));
  };
  for (const [index, show] of cell.show.entries()) {
    const asked = readContactName(show);
    if (asked !== undefined) {
      const name = names.resolve(asked);
      const contact = names.contacts.get(name);
      const known = [...names.contacts.keys()];
      if (contact !== undefined) signals.push({ contact });
      else refuse(index, contactRule(known), name, known);
      continue;
    }
    const written = readSignalName(show);
    const isNet = 'net' in written;
    const name = names.resolve(isNet ? written.net : written.current);
    const known = isNet ? names.nets : names.currents;
    if (known.includes(name)) signals.push(isNet ? { net: name } : { current: name });
    else {
      const rule = isNet
        ? `name a net of the board (${listedNames(known)})`
        : `name a part with a current (${listedNames(known)})`;
      refuse(index, rule, name, known);
    }
  }
  return { signals, issues };
}

function contactRule(known: readonly string[]): string {
  if (known.length === 0) return 'name a contact of the board, which has none';
  return `name a contact of the board (${listedNames(known)})`;
}

/** The name of the timer a fates cell is about, as it is in the circuit, or what is wrong with it. */
export function readTimer(
  cell: Pick<FatesCell, 'timer'>,
  board: GoodBoard,
  at: CellPlace,
): { timer: string } | { issues: Issue[] } {
  const timers = board.circuit.parts.filter((part) => part.kind === 'timer').map((part) => part.name);
  const own = timers.filter((timer) => timer.startsWith(board.prefix));
  if (cell.timer === undefined) {
    const [only] = own;
    if (own.length === 1 && only !== undefined) return { timer: only };
    const message = `must name the timer on a board with ${own.length === 0 ? 'none' : 'several'} (${listedNames(own)}); got nothing. Add it.`;
    return { issues: [refused('unknown-timer', `${at.place}.timer`, at, 'timer', message)] };
  }
  const found = [board.prefix + cell.timer, cell.timer].find((name) => timers.includes(name));
  if (found !== undefined) return { timer: found };
  const advice = nameAdvice(cell.timer, timers, 'Correct the name.');
  const rule =
    timers.length === 0
      ? 'name a timer of the board, which has none'
      : `name a timer of the board (${listedNames(timers)})`;
  return {
    issues: [
      refused(
        'unknown-timer',
        `${at.place}.timer`,
        at,
        'timer',
        `must ${rule}; got ${foundText(cell.timer)}. ${advice}`,
      ),
    ],
  };
}

/** The readings of a cell, names as they are in the circuit, or what is wrong with them. */
export function readTake(
  cell: Pick<ReadingCell, 'take'>,
  names: RunNames,
  at: CellPlace,
): { readings: Map<string, ParsedReading>; issues: Issue[] } {
  const readings = new Map<string, ParsedReading>();
  const issues: Issue[] = [];
  for (const [name, text] of Object.entries(cell.take)) {
    const where = placeInside(`${at.place}.take`, name);
    const label = `${at.label}: take.${name}`;
    const found = readOne(text, names, label).map((issue) => ({ ...issue, where }));
    if (found.length > 0) issues.push(...found);
    else readings.set(name, resolved(parseReading(text, label), names));
  }
  return { readings, issues };
}

function readOne(text: string, names: RunNames, label: string): readonly Issue[] {
  try {
    return checkReading(resolved(parseReading(text, label), names), names.context, label);
  } catch (error) {
    if (error instanceof IssueError) return error.issues;
    throw error;
  }
}

function resolved(reading: ParsedReading, names: RunNames): ParsedReading {
  const nets = reading.nets.map((net) => names.resolve(net));
  return reading.part === undefined ? { ...reading, nets } : { ...reading, nets, part: names.resolve(reading.part) };
}

/** Pulses are counted in doubles: beyond this many, k and k + 1 are one number and edges cannot be told apart. */
const MOST_PULSES = 2 ** 53;

/** Refuses a window with more periods of some signal than can be counted, naming both fields. */
export function checkPeriods(cell: Pick<RunCell, 'until'>, board: GoodBoard, at: CellPlace): Issue[] {
  return board.circuit.parts.flatMap((part) => {
    const period = periodOf(part);
    if (period === undefined || cell.until / period.seconds <= MOST_PULSES) return [];
    const rule = `be at most 2^53 times ${period.field} of ${part.name} (${period.text})`;
    const got = formatQuantity(cell.until, 's');
    const advice = `Make until shorter or ${period.field} ${period.longer}.`;
    return [fault('too-many-pulses', `${at.place}.until`, { label: at.label, field: 'until', rule, got, advice })];
  });
}

function periodOf(part: Part): { field: string; seconds: number; text: string; longer: string } | undefined {
  const wave = part.values.wave;
  if (part.kind !== 'signal' || typeof wave !== 'object' || wave === null) return undefined;
  const { period, frequency } = wave as { period?: unknown; frequency?: unknown };
  if (typeof period === 'number') {
    return { field: 'wave.period', seconds: period, text: formatQuantity(period, 's'), longer: 'longer' };
  }
  if (typeof frequency === 'number') {
    return { field: 'wave.frequency', seconds: 1 / frequency, text: formatQuantity(frequency, 'Hz'), longer: 'lower' };
  }
  return undefined;
}

function refused(code: string, where: string, at: CellPlace, field: string, message: string): Issue {
  return { code, severity: 'fault', where, field, message: `${at.label}: ${field} ${message}` };
}
