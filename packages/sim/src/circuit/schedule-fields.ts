import { type FieldFault, type FieldReader, fault } from '../field/field-reader.ts';
import { gather, readList, readRecord } from '../field/record.ts';
import { quantity } from '../field/value-readers.ts';
import { formatQuantity } from '../quantity/index.ts';

/** One press of a button, or one touch of a finger: when it begins and how long it lasts, in seconds. */
interface Press {
  readonly at: number;
  readonly for: number;
}

/** A new voltage of a supply: when it begins, the voltage (V), and the time it takes to get there (s, 0 for a step). */
export interface SupplyChange {
  readonly at: number;
  readonly voltage: number;
  readonly over: number;
}

/** Longest list of presses, touches or changes. */
const MOST_ENTRIES = 100_000;

/** Reads a list of presses or touches, one after the other, into {@link Press} objects. */
export function presses(): FieldReader {
  const example = '[{ "at": "1 s", "for": "200 ms" }]';
  const readPress: FieldReader = (input) =>
    readRecord(
      input,
      [
        { name: 'at', read: quantity('s', { atLeast: 0 }) },
        { name: 'for', read: quantity('s', { above: 0 }) },
      ],
      '{ "at": "1 s", "for": "200 ms" }',
    );
  return (input) => {
    const list = readList(input, readPress, MOST_ENTRIES, example);
    if (!list.ok) return list;
    const entries = list.value as readonly Press[];
    return orderFault(entries, (press) => press.at + press.for, 'begin after the one before it has ended') ?? list;
  };
}

/** Reads a list of changes of a supply, one after the other, into {@link SupplyChange} objects. */
export function changes(): FieldReader {
  const example = '[{ "at": "2 s", "voltage": "9 V", "over": "100 ms" }]';
  const readChange: FieldReader = (input) =>
    readRecord(
      input,
      [
        { name: 'at', read: quantity('s', { atLeast: 0 }) },
        { name: 'voltage', read: quantity('V') },
        { name: 'over', read: quantity('s', { atLeast: 0 }), default: 0 },
      ],
      '{ "at": "2 s", "voltage": "9 V", "over": "100 ms" }',
    );
  return (input) => {
    const list = readList(input, readChange, MOST_ENTRIES, example);
    if (!list.ok) return list;
    const entries = list.value as readonly SupplyChange[];
    return orderFault(entries, (change) => change.at + change.over, 'come after the one before it is done') ?? list;
  };
}

/** Every entry must begin after the one before it ended; one that begins at that very instant would make it one entry. */
function orderFault<Entry extends { readonly at: number }>(
  entries: readonly Entry[],
  endOf: (entry: Entry) => number,
  rule: string,
): FieldFault | undefined {
  const faults: FieldFault[] = [];
  for (const [index, entry] of entries.entries()) {
    const before = entries[index - 1];
    if (before === undefined || entry.at > endOf(before)) continue;
    const at = formatQuantity(entry.at, 's', { exact: true });
    const end = formatQuantity(endOf(before), 's', { exact: true });
    faults.push(
      fault(`must ${rule}; got ${at}, while that end is at ${end}. Put the list in order of time.`, `[${index}].at`),
    );
    if (faults.length >= FAULTS_SHOWN) break;
  }
  return gather(faults);
}

/** A list in the wrong order is wrong all along; a few places show it. */
const FAULTS_SHOWN = 20;
