import { boardNames } from './board-names.ts';
import { boardReadings, boardWindow, timerNets, timingParts } from './board-start.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';
import { chooseStart, claimStart, mapStart, spreadStart, sweepStart } from './starting-ranges.ts';
import { captureStart, swapsStart, symptomsStart } from './starting-studies.ts';
import { pageOf } from './page.ts';

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
    const window = boardWindow(document, board);
    return window === undefined ? undefined : { ...window, show: showOf(document, window.board) };
  },
};

const fates: CellStart = {
  kind: 'fates',
  words: 'the fates of pulses',
  content: (document, board) => {
    const window = boardWindow(document, board);
    const [timer] = window === undefined ? [] : boardNames(document, window.board).timers;
    return window === undefined || timer === undefined ? undefined : { ...window, timer };
  },
};

const reading: CellStart = {
  kind: 'reading',
  words: 'readings',
  content: (document, board) => {
    const window = boardWindow(document, board);
    return window === undefined ? undefined : { ...window, take: boardReadings(document, window.board) };
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

const sweep: CellStart = { kind: 'sweep', words: 'one value over a range', content: sweepStart };
const map: CellStart = { kind: 'map', words: 'a map of two values', content: mapStart };
const spread: CellStart = { kind: 'spread', words: 'what tolerances do', content: spreadStart };
const choose: CellStart = { kind: 'choose', words: 'values for a wanted time', content: chooseStart };
const claim: CellStart = { kind: 'claim', words: 'a claim to be tried', content: claimStart };
const swaps: CellStart = { kind: 'swaps', words: 'every combination of a kit', content: swapsStart };
const symptoms: CellStart = { kind: 'symptoms', words: 'faults and their symptoms', content: symptomsStart };
const capture: CellStart = { kind: 'capture', words: 'a measurement', content: captureStart };

const starts = [note, trace, fates, reading, formula, ask, sweep, map, spread, choose, claim, swaps, symptoms, capture];

/** Everything that can be added to a page now; without a board there is nothing to look at yet. */
export function cellStarts(document: Json, board: string | undefined): readonly CellStart[] {
  return starts.filter((start) => start.content(document, board) !== undefined);
}

/** The nets of the first timer that tell its story: what triggers it, what it times, what it puts out. */
export function showOf(document: Json, board: string): string[] {
  const pins = timerNets(document, board);
  const told = [pins['trigger'], pins['threshold'], pins['output']].filter((net) => net !== undefined);
  const { nets } = boardNames(document, board);
  return told.length > 0 ? [...new Set(told)] : nets.filter((net) => net !== 'ground').slice(0, 3);
}

/** Readings that give lists, which cannot be the answer to a question. */
const LISTS = /^(widths|lows|periods|edges)\b/;

/** The numbers that the readings of a page give, those of this board first. */
function readNumbers(document: Json, board: string | undefined): { name: string; place: string }[] {
  const readings = pageOf(document)
    .filter(isRecord)
    .filter((cell) => cell['kind'] === 'reading');
  const ordered = [...readings].sort((a, b) => Number(b['board'] === board) - Number(a['board'] === board));
  return ordered.flatMap(({ id, take }) =>
    Object.entries(isRecord(take) ? take : {})
      .filter(([, asked]) => typeof asked === 'string' && !LISTS.test(asked))
      .map(([name]) => ({ name, place: `${typeof id === 'string' ? id : ''}.${name}` })),
  );
}
