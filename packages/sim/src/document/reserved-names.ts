import { type Issue, issueText } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import { isObject } from '../field/record.ts';
import { placeInside } from './place.ts';

/** Whether every object already has something of this name, so that setting it would not just hold data. */
function isReservedName(name: string): boolean {
  return name in Object.prototype || name === 'prototype';
}

/**
 * Finds a field of one object whose name every object already has (`__proto__`, `constructor` and their like). Such a
 * name could reach into the program instead of the data, so no object in a file may use it.
 *
 * @param place where the object stands in the file; empty for the document itself.
 * @returns the fault, or `undefined` if there is no such name.
 */
export function reservedFieldFault(object: Readonly<Record<string, unknown>>, place: string): Issue | undefined {
  const name = Object.keys(object).find(isReservedName);
  if (name === undefined) return undefined;
  const message = issueText({
    where: place === '' ? 'the document' : place,
    rule: 'hold no field with a reserved name',
    got: quotedText(name),
    advice: 'Remove it, or give it another name.',
  });
  return { code: 'reserved-name', severity: 'fault', where: placeInside(place, name), field: name, message };
}

/** Finds the first fault of {@link reservedFieldFault} anywhere inside plain data. */
export function reservedNameFault(data: unknown, place: string): Issue | undefined {
  const found = isObject(data) ? reservedFieldFault(data, place) : undefined;
  if (found !== undefined || typeof data !== 'object' || data === null) return found;
  for (const [step, value] of Array.isArray(data) ? data.entries() : Object.entries(data)) {
    const inside = reservedNameFault(value, placeInside(place, step));
    if (inside !== undefined) return inside;
  }
  return undefined;
}
