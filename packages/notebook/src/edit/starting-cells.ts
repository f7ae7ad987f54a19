import { boardNames, terminalNets } from './board-names.ts';
import { boardParts } from './board-values.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { startingWindow } from './starting-window.ts';
import { valueAt } from './path.ts';

/** A kind of cell that can be added to a page. */
export interface CellStart {
  readonly kind: string;
  /** What is added, as it stands in a sentence: `a note`. */
  readonly words: string;
  /** The field without its `id` and `kind`, ready to compute; `undefined` where there is nothing to begin with. */
  content(document: Json, board: string | undefined): JsonRecord | undefined;
}

const note: CellStart = { kind: 'note', words: 'a note', content: () => ({ text: '' }) };

const trace: CellStart = {
  kind: 'trace',
  words: 'a trace',
  content: (document, board) => {
    const window = windowOf(document, board);
    return window === undefined ? undefined : { ...window, show: showOf(document, window.board) };
  },
};

const fates: CellStart = {
  kind: 'fates',
  words: 'the fates of pulses',
  content: (document, board) => {
    const window = windowOf(document, board);
    const [timer] = window === undefined ? [] : boardNames(document, window.board).timers;
    return window === undefined || timer === undefined ? undefined : { ...window, timer };
  },
};

const reading: CellStart = {
  kind: 'reading',
  words: 'readings',
  content: (document, board) => {
    const window = windowOf(document, board);
    return window === undefined ? undefined : { ...window, take: takeOf(document, window.board) };
  },
};

const formula: CellStart = {
  kind: 'formula',
  words: 'a formula',
  content: (document, board) => {
    const parts = board === undefined ? [] : timingParts(document, board);
    return parts.length === 0 ? undefined : { text: parts.map((part) => `${board ?? ''}.${part}`).join(' * ') };
  },
};

const ask: CellStart = {
  kind: 'ask',
  words: 'a question',
  content: (document, board) => {
    const [number] = readNumbers(document, board);
    return number === undefined ? undefined : { question: `How large is ${number.name}?`, answer: number.place };
  },
};

const starts = [note, trace, fates, reading, formula, ask];

/** Everything that can be added to a page now; without a board there is nothing to look at yet. */
export function cellStarts(document: Json, board: string | undefined): readonly CellStart[] {
  return starts.filter((start) => start.content(document, board) !== undefined);
}

/** The board of a new cell, and how long it looks: as long as another cell of the page does, if there is one. */
function windowOf(document: Json, board: string | undefined): { board: string; until: Json } | undefined {
  if (board === undefined || valueAt(document, ['boards', board]) === undefined) return undefined;
  const page = valueAt(document, ['page']);
  const known = (isList(page) ? page : []).filter(isRecord).find((cell) => cell['board'] === board && cell['until']);
  return { board, until: known?.['until'] ?? startingWindow(boardParts(document, board)) };
}

/** The nets of the first timer that tell its story: what triggers it, what it times, what it puts out. */
function showOf(document: Json, board: string): string[] {
  const pins = timerNets(document, board);
  const told = [pins['trigger'], pins['threshold'], pins['output']].filter((net) => net !== undefined);
  const { nets } = boardNames(document, board);
  return told.length > 0 ? [...new Set(told)] : nets.filter((net) => net !== 'ground').slice(0, 3);
}

function takeOf(document: Json, board: string): JsonRecord {
  const { trigger, output, threshold } = timerNets(document, board);
  if (output === undefined) {
    const [net] = boardNames(document, board).nets.filter((each) => each !== 'ground');
    return { mean: `mean(${net ?? 'ground'})` };
  }
  const runsByItself = trigger === threshold;
  if (runsByItself) return { frequency: `frequency(${output})`, duty: `duty(${output})` };
  const isDriven = boardParts(document, board).some(
    (part) => part['kind'] === 'signal' && Object.values(terminalNets(part)).includes(trigger ?? ''),
  );
  return { width: `width(${output})`, ...(isDriven ? { ratio: `ratio(${output}, ${trigger ?? output})` } : {}) };
}

/** The resistor and the capacitor that meet at the threshold of the first timer: their product is its time. */
function timingParts(document: Json, board: string): string[] {
  const { threshold } = timerNets(document, board);
  const meeting = boardParts(document, board).filter((part) =>
    Object.values(terminalNets(part)).includes(threshold ?? ''),
  );
  return ['resistor', 'capacitor'].flatMap((kind) => {
    const name = meeting.find((part) => part['kind'] === kind)?.['name'];
    return typeof name === 'string' ? [name] : [];
  });
}

/** Readings that give lists, which cannot be the answer to a question. */
const LISTS = /^(widths|lows|periods|edges)\b/;

/** The numbers that the readings of a page give, those of this board first. */
function readNumbers(document: Json, board: string | undefined): { name: string; place: string }[] {
  const page = valueAt(document, ['page']);
  const readings = (isList(page) ? page : []).filter(isRecord).filter((cell) => cell['kind'] === 'reading');
  const ordered = [...readings].sort((a, b) => Number(b['board'] === board) - Number(a['board'] === board));
  return ordered.flatMap(({ id, take }) =>
    Object.entries(isRecord(take) ? take : {})
      .filter(([, asked]) => typeof asked === 'string' && !LISTS.test(asked))
      .map(([name]) => ({ name, place: `${typeof id === 'string' ? id : ''}.${name}` })),
  );
}

function timerNets(document: Json, board: string): Readonly<Record<string, string | undefined>> {
  const timer = boardParts(document, board).find((part) => part['kind'] === 'timer');
  return timer === undefined ? {} : terminalNets(timer);
}
