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

/** Fields of a part that hold a net; a timer has its nets in `pins`. */
const TERMINALS = ['plus', 'minus', 'a', 'wiper', 'b', 'base', 'collector', 'emitter'];

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

/** What a trace of a board can show: its nets, and the currents of its parts. */
export function signalNames(document: Json, board: string | undefined): string[] {
  const { nets, currents } = boardNames(document, board ?? '');
  return [...nets, ...currents.map((part) => `current(${part})`)];
}

/** The net of every terminal of a part that names one. */
export function terminalNets(part: JsonRecord): Readonly<Record<string, string>> {
  const pins = isRecord(part['pins']) ? part['pins'] : {};
  const own = TERMINALS.map((terminal) => [terminal, part[terminal]] as const);
  const all = [...own, ...Object.entries(pins)];
  return Object.fromEntries(all.filter((entry): entry is [string, string] => typeof entry[1] === 'string'));
}
