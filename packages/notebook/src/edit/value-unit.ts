import { innerUnit, kindFields } from '@two-thirds/sim/document';
import type { Unit } from '@two-thirds/sim/quantity';
import { boardParts, valuePlace } from './board-values.ts';
import type { Json } from './json.ts';

/** The unit of a value of a board by its short name, such as `R1` or `G1.wave.period`; `undefined` for what has none. */
export function valueUnit(document: Json, board: string, name: string): Unit | undefined {
  const parts = boardParts(document, board);
  const place = valuePlace(parts, name);
  if (place === undefined) return undefined;
  const [field, ...inner] = place.steps.map(String);
  if (inner.length > 0) return innerUnit(place.steps.map(String));
  const kind = parts.find((each) => each['name'] === place.part)?.['kind'];
  return kindFields(typeof kind === 'string' ? kind : '').find((each) => each.name === field)?.unit;
}
