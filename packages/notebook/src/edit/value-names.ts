import { kindFields, mainFields } from '@two-thirds/sim/document';
import { readQuantity } from '@two-thirds/sim/quantity';
import { boardParts } from './board-values.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';

/** Units that the numbers inside a wave have. */
const WAVE_UNITS = ['s', 'Hz', 'V', 'share', 'rad'] as const;

/**
 * Full names of the values of a board that are numbers with a unit, as knobs and ranges take them: `R1`, `C1.leakage`,
 * `G1.wave.period`. A part's main value goes by the name of the part; tolerances are no values of a run.
 */
export function valueNames(document: Json, board: string): readonly string[] {
  return boardParts(document, board).flatMap((part) => {
    const { name, kind } = part;
    if (typeof name !== 'string' || typeof kind !== 'string') return [];
    const main = mainFields.get(kind);
    const fields = kindFields(kind).filter(({ name: field, unit }) => unit !== undefined && field !== 'tolerance');
    const names = fields.map(({ name: field }) => (field === main ? name : `${name}.${field}`));
    return [...names, ...waveNames(name, part)];
  });
}

/** Names of everything a claim can be tried over: values, and the families of timers. */
export function choosableNames(document: Json, board: string): readonly string[] {
  const timers = boardParts(document, board).filter(({ kind }) => kind === 'timer');
  const families = timers.flatMap(({ name }) => (typeof name === 'string' ? [`${name}.family`] : []));
  return [...valueNames(document, board), ...families];
}

function waveNames(name: string, { wave }: JsonRecord): string[] {
  return Object.entries(isRecord(wave) ? wave : {}).flatMap(([field, raw]) =>
    raw !== undefined && WAVE_UNITS.some((unit) => readQuantity(raw, unit).ok) ? [`${name}.wave.${field}`] : [],
  );
}
