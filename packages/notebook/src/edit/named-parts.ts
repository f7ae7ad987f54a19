import { readQuantity, type Unit } from '@two-thirds/sim/quantity';
import type { JsonRecord } from './json.ts';

/** A part whose name is known. */
export type NamedPart = JsonRecord & { readonly name: string };

/** Whether a part has a name. */
export function isNamed(part: JsonRecord): part is NamedPart {
  return typeof part['name'] === 'string';
}

/** A quantity of a part in SI units, where it can be read. */
export function quantityOf(record: JsonRecord, field: string, unit: Unit): number | undefined {
  const raw = record[field];
  const read = raw === undefined ? undefined : readQuantity(raw, unit);
  return read?.ok === true ? read.value : undefined;
}

/** The names of parts as they are listed in a sentence. */
export function listed(parts: readonly NamedPart[]): string {
  const names = parts.map(({ name }) => name);
  const last = names.pop();
  return names.length === 0 ? (last ?? '') : `${names.join(', ')} and ${last ?? ''}`;
}
