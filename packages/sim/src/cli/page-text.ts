import {
  cellKey,
  type CellResult,
  type DocumentResults,
  type FaultyResult,
  type NotebookDocument,
} from '../document/index.ts';
import { spokenName } from '../quantity/index.ts';
import { askText } from './ask-text.ts';
import { boardText } from './board-text.ts';
import { captureText } from './capture-text.ts';
import { claimText } from './claim-text.ts';
import { chooseText } from './choose-text.ts';
import { paragraph } from './columns.ts';
import { fatesText } from './fates-text.ts';
import { faultsText } from './faults-text.ts';
import { formulaText } from './formula-text.ts';
import { mapText } from './map-text.ts';
import { noteText } from './note-text.ts';
import { timeText } from './number-words.ts';
import { readingText } from './reading-text.ts';
import { spreadText } from './spread-text.ts';
import { swapsText } from './swaps-text.ts';
import { symptomsText } from './symptoms-text.ts';
import { sweepText } from './sweep-text.ts';
import { Told } from './told.ts';
import { traceText } from './trace-text.ts';

/** A computed page as text for people: title, sections, cells in order, and all cautions once at the end. */
export function pageText(document: NotebookDocument, { results }: DocumentResults): string {
  const title = document.title ?? 'Untitled page';
  const lines = [title, '='.repeat([...title].length)];
  const told = new Told();
  let section: unknown;
  for (const [index, cell] of document.page.entries()) {
    const key = cellKey(cell, index);
    const result = Object.hasOwn(results, key) ? results[key] : undefined;
    if (result === undefined) continue;
    const written = (cell ?? {}) as { section?: unknown; text?: unknown };
    if (typeof written.section === 'string' && written.section !== section) {
      lines.push('', `[ ${written.section.slice(0, 1).toUpperCase()}${written.section.slice(1, 20)} ]`);
    }
    section = written.section;
    lines.push('', ...cellText(key, result, typeof written.text === 'string' ? written.text : '', told));
  }
  return `${[...lines, ...cautionsText(results)].join('\n')}\n`;
}

function cellText(key: string, result: CellResult, written: string, told: Told): string[] {
  if (!result.ok) return faultyText(key, result, written, told);
  switch (result.kind) {
    case 'note':
      return noteText(written, result);
    case 'board':
      told.boards.push(result);
      return [`${key}: board ${result.board}`, ...boardText(result, told.boards.slice(0, -1))];
    case 'trace':
      return [
        `${key}: trace of ${result.board}, ${windowText(result)}`,
        ...traceText(result),
        ...faultsText(told.newFaults(result), told.newCautions(result), result.powerUp, result.grazes),
      ];
    case 'fates':
      return [
        `${key}: what became of the pulses at ${result.timer} of ${result.board}, ${windowText(result)}`,
        ...fatesText(result),
        ...faultsText(told.newFaults(result), told.newCautions(result), result.powerUp, result.grazes),
      ];
    case 'formula':
      return [`${key}: formula`, ...formulaText(result)];
    case 'ask':
      return [`${key}: question`, ...askText(result)];
    case 'reading':
      return [
        `${key}: readings of ${result.board}, ${windowText(result)}`,
        ...readingText(result, told.boardNamed(result.board)),
        ...faultsText(told.newFaults(result), told.newCautions(result), result.powerUp, result.grazes),
      ];
    case 'capture':
      return [
        `${key}: ${result.board} as measured and as predicted, the run ${windowText(result)}`,
        ...captureText(result),
      ];
    case 'claim':
      return [
        `${key}: claim about ${result.board}, each run from ${momentText(result.from)} until ${momentText(result.until)}`,
        ...claimText(result),
      ];
    case 'map':
      return [
        `${key}: ${result.board} over ${spokenName(result.vary.x.value)} and ${spokenName(result.vary.y.value)}, each run ${windowText(result)}`,
        ...mapText(result),
      ];
    case 'choose':
      return [
        `${key}: values for ${result.board}, ${result.counts.run} sets, each run ${windowText(result)}`,
        ...chooseText(result),
      ];
    case 'spread':
      return [
        `${key}: ${result.board} within its tolerances, ${result.samples} samples, each run ${windowText(result)}`,
        ...spreadText(result),
      ];
    case 'symptoms':
      return [
        `${key}: what single faults of ${result.board} look like, each run ${windowText(result)}`,
        ...symptomsText(result),
      ];
    case 'swaps':
      return [`${key}: what can be plugged into ${result.board}, each run ${windowText(result)}`, ...swapsText(result)];
    case 'sweep':
      return [
        `${key}: ${result.board} over ${spokenName(result.vary.value)}, each run ${windowText(result)}`,
        ...sweepText(result),
      ];
  }
}

/** A cell that could not be computed: why, or which cell above has said so; then what was computed before it stopped. */
function faultyText(key: string, result: FaultyResult, written: string, told: Told): string[] {
  const { partial } = result;
  const what = partial === undefined ? 'cannot be computed' : 'stopped early';
  const above = told.sameError(key, result);
  const why = result.issues?.filter(({ severity }) => severity === 'fault').map(({ message }) => message);
  const lines =
    above === undefined
      ? [`${key}: ${what}`, ...(why ?? [result.error.message]).flatMap((message) => paragraph(message, '  '))]
      : [`${key}: ${what}, for the reason given at ${above}`];
  return partial === undefined ? lines : [...lines, '', ...cellText(key, partial, written, told)];
}

function windowText({ from, until }: { from: number; until: number }): string {
  return `${timeText(from)} to ${timeText(until)}`;
}

function momentText(time: number | string): string {
  return typeof time === 'number' ? timeText(time) : time;
}

/** Every caution once: first those about all boards, then the others with the boards they are about. */
function cautionsText(results: DocumentResults['results']): string[] {
  const boards = Object.values(results).flatMap((result) => (result.ok && result.kind === 'board' ? [result] : []));
  const about = new Map<string, Set<string>>();
  for (const { board, cautions } of boards) {
    for (const caution of cautions) about.set(caution, (about.get(caution) ?? new Set()).add(board));
  }
  if (about.size === 0) return [];
  const all = new Set(boards.map(({ board }) => board)).size;
  const general = [...about].filter(([, names]) => names.size === all);
  const particular = [...about].filter(([, names]) => names.size < all);
  const lines = [...general, ...particular].flatMap(([caution, names]) => {
    const start = names.size === all ? '' : `${[...names].join(', ')}: `;
    const [first = '', ...rest] = paragraph(start + caution, '  ');
    return [`- ${first.slice(2)}`, ...rest];
  });
  return ['', 'Cautions', ...lines];
}
