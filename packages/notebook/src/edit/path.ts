import { isList, isRecord, type Json } from './json.ts';

/** The way from the top of a document to one place in it: field names and list positions. */
export type Path = readonly (string | number)[];

/** The value at a place, or `undefined` where there is none. Never throws. */
export function valueAt(json: Json | undefined, path: Path): Json | undefined {
  let here = json;
  for (const step of path) {
    if (typeof step === 'number' && isList(here)) here = here[step];
    else if (typeof step === 'string' && isRecord(here) && Object.hasOwn(here, step)) here = here[step];
    else return undefined;
  }
  return here;
}

/**
 * A copy of the document with another value at one place; everything off the path is shared with the original, so that
 * "did this change?" is a comparison of references. `undefined` removes a field. Missing objects on the way are made.
 *
 * @throws RangeError if the path leads through something that is neither object nor list, or past the end of a list.
 */
export function withValue(json: Json | undefined, path: Path, value: Json | undefined): Json {
  const [step, ...rest] = path;
  if (step === undefined) {
    if (value === undefined) throw new RangeError('path: the path must not be empty to remove a value; got [].');
    return value;
  }
  if (typeof step === 'number') return withItem(json, step, rest, value, path);
  const record = json ?? {};
  if (!isRecord(record)) throw cannotEnter(path, json);
  if (rest.length === 0 && value === undefined) {
    return Object.fromEntries(Object.entries(record).filter(([name]) => name !== step));
  }
  return { ...record, [step]: withValue(Object.hasOwn(record, step) ? record[step] : undefined, rest, value) };
}

/** The path as people write it: `boards.counter.parts[2].resistance`. */
export function pathText(path: Path): string {
  return path.map((step, index) => (typeof step === 'number' ? `[${step}]` : index === 0 ? step : `.${step}`)).join('');
}

function withItem(json: Json | undefined, step: number, rest: Path, value: Json | undefined, path: Path): Json {
  if (!isList(json) || !(step >= 0 && step < json.length)) throw cannotEnter(path, json);
  if (rest.length === 0 && value === undefined) return json.filter((_, index) => index !== step);
  return json.map((item, index) => (index === step ? withValue(item, rest, value) : item));
}

function cannotEnter(path: Path, json: Json | undefined): RangeError {
  return new RangeError(`path: ${pathText(path)} must lead to a place in the document; got ${JSON.stringify(json)}.`);
}
