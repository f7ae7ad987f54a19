import { readQuantity, stepPreferred, typedQuantity } from '@two-thirds/sim/quantity';
import { boardParts, valuePlace } from './board-values.ts';
import type { Json } from './json.ts';
import { valueAt } from './path.ts';

/** Preferred values away from the present one that a kit begins with. */
const STEPS = [-2, 0, 2];

/**
 * What a kit may offer for a value of a board at first: the present value with a smaller and a larger preferred one, a
 * meter or none, the families of a timer, else the present value alone; empty where the board has no such value.
 */
export function startingChoices(document: Json, board: string, name: string): readonly Json[] {
  const parts = boardParts(document, board);
  const place = valuePlace(parts, name);
  const part = parts.find((each) => each['name'] === place?.part);
  const now = place === undefined ? undefined : valueAt(part, place.steps);
  const [field] = place?.steps ?? [];
  if (part?.['kind'] === 'probe' && field === 'resistance') return ['none', now ?? '10 MΩ'];
  if (field === 'family') return ['bipolar', 'cmos'];
  if (now === undefined) return [];
  const unit = field === 'resistance' ? 'Ω' : field === 'capacitance' ? 'F' : undefined;
  const read = unit === undefined ? undefined : readQuantity(now, unit);
  if (unit === undefined || read?.ok !== true || !(read.value > 0)) return [now];
  const { value } = read;
  return STEPS.map((steps) => (steps === 0 ? now : typedQuantity(stepPreferred(value, 'E6', steps), unit)));
}
