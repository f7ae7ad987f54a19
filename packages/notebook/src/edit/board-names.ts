import { boardParts } from './board-values.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';

/** What may be named when a cell asks something of a board. */
export interface BoardNames {
  /** Nets, in the order in which the parts list names them. */
  readonly nets: readonly string[];
  readonly parts: readonly string[];
  readonly timers: readonly string[];
  /** Parts whose current can be shown: all but timers. */
  readonly currents: readonly string[];
}

/** The ends of a relay's contact. */
const CONTACT_ENDS = ['common', 'normallyOpen', 'normallyClosed'];
/** Kinds whose one contact is called as the part. */
const BY_HAND = ['button', 'switch', 'jumper', 'finger'];
/** Fields of a part that hold a net; a timer has its nets in `pins`. */
const TERMINALS = ['plus', 'minus', 'a', 'wiper', 'b', 'base', 'collector', 'emitter', ...CONTACT_ENDS];

/** The names on a board as the document has it, whether or not the board can be computed. */
export function boardNames(document: Json, board: string): BoardNames {
  const named = boardParts(document, board).filter(isNamed);
  const names = (parts: readonly NamedPart[]): string[] => parts.map((part) => part.name);
  return {
    nets: [...new Set(named.flatMap((part) => Object.values(terminalNets(part))))],
    parts: names(named),
    timers: names(named.filter((part) => part['kind'] === 'timer')),
    currents: names(named.filter((part) => part['kind'] !== 'timer')),
  };
}

type NamedPart = JsonRecord & { readonly name: string };

function isNamed(part: JsonRecord): part is NamedPart {
  return typeof part['name'] === 'string';
}

/**
 * The contacts of a part as `contact(…)` takes them: the part itself, and both of a relay that changes over.
 */
export function contactNames(document: Json, board: string, name: string): string[] {
  const part = boardParts(document, board).find((each) => each['name'] === name);
  if (part === undefined) return [];
  if (BY_HAND.includes(typeof part['kind'] === 'string' ? part['kind'] : '')) return [name];
  const joined = ['normallyOpen', 'normallyClosed'].filter((end) => typeof part[end] === 'string');
  if (part['kind'] !== 'relay' || joined.length === 0) return [];
  return [name, ...joined.map((end) => `${name}.${end}`)];
}

/** What a trace of a board can show: its nets, the currents of its parts, and whether contacts conduct. */
export function signalNames(document: Json, board: string | undefined): string[] {
  const { nets, parts, currents } = boardNames(document, board ?? '');
  const contacts = parts.flatMap((part) => contactNames(document, board ?? '', part));
  return [...nets, ...currents.map((part) => `current(${part})`), ...contacts.map((contact) => `contact(${contact})`)];
}

/** The net of every terminal of a part that names one. */
export function terminalNets(part: JsonRecord): Readonly<Record<string, string>> {
  const pins = isRecord(part['pins']) ? part['pins'] : {};
  const own = TERMINALS.map((terminal) => [terminal, part[terminal]] as const);
  const all = [...own, ...Object.entries(pins)];
  return Object.fromEntries(all.filter((entry): entry is [string, string] => typeof entry[1] === 'string'));
}
