import { familyParameters, kindFields, mainFields, type TimerFamily, timerFamilies } from '@two-thirds/sim/document';
import { boardParts, placeName } from './board-values.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { waveFields } from './wave-shapes.ts';

/** Fields that hold lists of numbers. */
const LISTS = ['presses', 'touches', 'changes'];
/** Fields of waves that are words. */
const WORDS = ['shape', 'between'];

/**
 * Full names of the values of a board that are numbers, as ranges take them: `R1`, `C1.leakage`, `G1.wave.period`,
 * `S1.presses[0].for`, `U1.with.delay`. A part's main value goes by the name of the part; tolerances are no values of a run.
 */
export function valueNames(document: Json, board: string): readonly string[] {
  return boardParts(document, board).flatMap((part) => namesOf(part, ['tolerance']));
}

/** The same as knobs take them: tolerances too. */
export function knobNames(document: Json, board: string): readonly string[] {
  return boardParts(document, board).flatMap((part) => namesOf(part, []));
}

/** Names of everything a claim can be tried over: values, and the families of timers. */
export function choosableNames(document: Json, board: string): readonly string[] {
  const timers = boardParts(document, board).filter(({ kind }) => kind === 'timer');
  const families = timers.flatMap(({ name }) => (typeof name === 'string' ? [`${name}.family`] : []));
  return [...valueNames(document, board), ...families];
}

function namesOf(part: JsonRecord, without: readonly string[]): string[] {
  const { name, kind } = part;
  if (typeof name !== 'string' || typeof kind !== 'string') return [];
  const main = mainFields.get(kind);
  const fields = kindFields(kind).filter(
    ({ name: field, unit }) => !without.includes(field) && (unit !== undefined || typeof part[field] === 'number'),
  );
  return [
    ...fields.map(({ name: field }) => (field === main ? name : `${name}.${field}`)),
    ...waveNames(name, part),
    ...LISTS.flatMap((list) => entryNames(name, [list], part[list])),
    ...(kind === 'timer' ? parameterNames(name, part) : []),
  ];
}

function waveNames(name: string, { wave }: JsonRecord): string[] {
  if (!isRecord(wave)) return [];
  const fields = waveFields(wave).filter(({ name: field }) => !WORDS.includes(field));
  return [
    ...fields.map(({ name: field }) => `${name}.wave.${field}`),
    ...entryNames(name, ['wave', 'points'], wave['points']),
  ];
}

/** The values in the entries of a list, those that are given. */
function entryNames(part: string, steps: readonly string[], entries: Json | undefined): string[] {
  return (isList(entries) ? entries : []).flatMap((entry, index) => {
    const members: readonly (string | number)[] = isList(entry) ? [0, 1] : isRecord(entry) ? Object.keys(entry) : [];
    return members.map((member) => placeName({ part, steps: [...steps, index, member] }));
  });
}

function parameterNames(name: string, { family = 'bipolar' }: JsonRecord): string[] {
  const known = timerFamilies.find((each: TimerFamily) => each === family);
  const parameters = known === undefined ? [] : familyParameters(known);
  return parameters.flatMap(({ name: each, unit }) => (unit === undefined ? [] : [`${name}.with.${each}`]));
}
