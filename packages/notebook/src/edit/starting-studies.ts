import { boardNames, terminalNets } from './board-names.ts';
import { boardReadings, boardWindow, timerNets, timingParts } from './board-start.ts';
import { boardParts } from './board-values.ts';
import type { Json, JsonRecord } from './json.ts';
import { startingChoices } from './starting-choices.ts';

/** Most places of a kit that is begun: four make at most 54 combinations. */
const MOST_PLACES = 4;

/** What a kit of this board may let people exchange: what sets its time, what limits its lamp, a meter, the timer's family. */
export function swapsStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  if (window === undefined) return undefined;
  const parts = boardParts(document, window.board);
  const named = (kind: string): string[] =>
    parts.flatMap(({ kind: each, name }) => (each === kind && typeof name === 'string' ? [name] : []));
  const probes = named('probe');
  const timers = named('timer').map((name) => `${name}.family`);
  const names = [...timingParts(document, window.board), ...seriesResistors(parts), ...probes, ...timers];
  const places = [...new Set(names)].slice(0, MOST_PLACES).flatMap((name): [string, Json][] => {
    const choices = startingChoices(document, window.board, name);
    return choices.length < 2 ? [] : [[name, choices]];
  });
  if (places.length === 0) return undefined;
  return { ...window, parts: Object.fromEntries(places), take: boardReadings(document, window.board) };
}

/** Every single fault of a board, by what one would read of it with a stopwatch and a meter. */
export function symptomsStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  if (window === undefined || boardNames(document, window.board).parts.length === 0) return undefined;
  const parts = boardParts(document, window.board);
  const { threshold } = timerNets(document, window.board);
  const lamp = parts.find(({ kind }) => kind === 'led')?.['name'];
  return {
    ...window,
    take: {
      ...boardReadings(document, window.board),
      ...(typeof lamp === 'string' ? { lamp: `peak_current(${lamp})` } : {}),
      ...(threshold === undefined ? {} : { mean: `mean(${threshold})` }),
    },
  };
}

/** A measurement of a board that is still to be chosen; what sets its time is to be estimated. */
export function captureStart(document: Json, board: string | undefined): JsonRecord | undefined {
  const window = boardWindow(document, board);
  if (window === undefined) return undefined;
  const capacitor = timingParts(document, window.board).at(-1);
  return { ...window, data: '', ...(capacitor === undefined ? {} : { adjust: [capacitor] }) };
}

/** Resistors that share a net with a lamp: they keep its current small. */
function seriesResistors(parts: readonly JsonRecord[]): string[] {
  const lamps = new Set(
    parts.filter(({ kind }) => kind === 'led').flatMap((part) => Object.values(terminalNets(part))),
  );
  lamps.delete('ground');
  return parts.flatMap((part) =>
    part['kind'] === 'resistor' &&
    typeof part['name'] === 'string' &&
    Object.values(terminalNets(part)).some((net) => lamps.has(net))
      ? [part['name']]
      : [],
  );
}
