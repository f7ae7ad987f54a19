import { RESISTOR_RATING } from '../circuit/part-limits.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { GoodBoard } from './board-table.ts';
import type { ChooseResult } from './choose-results.ts';

/** Ratings that a board does not state: nothing can be said of them, or a usual one is used in their place. */
export function ratingsNotStated(board: GoodBoard): ChooseResult['notStated'] {
  return board.circuit.parts.flatMap(({ name, kind, values }): ChooseResult['notStated'] => {
    if (!name.startsWith(board.prefix)) return [];
    const part = name.slice(board.prefix.length);
    const written = board.parts.find((each) => isObject(each) && ownEntry(each, 'name') === part);
    const isStated = (field: string): boolean => isObject(written) && ownEntry(written, field) !== undefined;
    if (kind === 'resistor' && values.rating === undefined)
      return [{ part, what: 'power rating', used: `${RESISTOR_RATING} W` }];
    if (kind === 'capacitor' && values.rating === undefined) return [{ part, what: 'voltage rating', used: null }];
    if (kind === 'led' && !isStated('limit') && typeof values.limit === 'number')
      return [{ part, what: 'largest current', used: formatQuantity(values.limit, 'A', { exact: true }) }];
    return [];
  });
}
