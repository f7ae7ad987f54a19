import type { Field } from '../../circuit/description.ts';
import { readRecord } from '../../field/record.ts';
import { quantity, wholeNumber } from '../../field/value-readers.ts';

/** Seeds are 32 bits wide. */
const MOST_SEED = 2 ** 32 - 1;

/** The field `bounce` of a part with a contact. @param title what it says of the part. */
export function bounceField(title: string): Field {
  return {
    name: 'bounce',
    title,
    read: (input) =>
      readRecord(
        input,
        [
          { name: 'for', read: quantity('s', { above: 0 }) },
          { name: 'seed', read: wholeNumber(MOST_SEED), default: 1 },
        ],
        '{ "for": "5 ms", "seed": 1 }',
      ),
  };
}
