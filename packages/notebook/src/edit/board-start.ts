import { boardNames, terminalNets } from './board-names.ts';
import { boardParts } from './board-values.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt } from './path.ts';
import { startingWindow } from './starting-window.ts';

/** The board of a new cell, and how long it looks: as long as another cell of the page does, if there is one. */
export function boardWindow(document: Json, board: string | undefined): { board: string; until: Json } | undefined {
  if (board === undefined || valueAt(document, ['boards', board]) === undefined) return undefined;
  const known = pageOf(document)
    .filter(isRecord)
    .find((cell) => cell['board'] === board && cell['until']);
  return { board, until: known?.['until'] ?? startingWindow(boardParts(document, board)) };
}

/** The readings that say most of a board: how long, how often, by what ratio. */
export function boardReadings(document: Json, board: string): JsonRecord {
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
export function timingParts(document: Json, board: string): string[] {
  const { threshold } = timerNets(document, board);
  const meeting = boardParts(document, board).filter((part) =>
    Object.values(terminalNets(part)).includes(threshold ?? ''),
  );
  return ['resistor', 'capacitor'].flatMap((kind) => {
    const name = meeting.find((part) => part['kind'] === kind)?.['name'];
    return typeof name === 'string' ? [name] : [];
  });
}

/** The net of every pin of the first timer of a board. */
export function timerNets(document: Json, board: string): Readonly<Record<string, string | undefined>> {
  const timer = boardParts(document, board).find((part) => part['kind'] === 'timer');
  return timer === undefined ? {} : terminalNets(timer);
}
