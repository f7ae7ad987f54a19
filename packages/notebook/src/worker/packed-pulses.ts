import type { Fate, PulseRow } from '@two-thirds/sim/document';

/** Rows of pulses in columns. */
export interface PackedPulses {
  /** The numbers of one row after those of the other; NaN for one that a row does not have. */
  readonly numbers: Float64Array;
  /** The fate of each row by its place in the list of fates; more by {@link OPEN} for a pulse still open. */
  readonly fates: Uint8Array;
  /** The sentences; absent where there are none. */
  readonly reasons?: readonly string[];
}

const FATES: readonly Fate[] = ['started', 'held', 'ignored', 'short', 'barred'];
/** Marks a pulse that is still open. */
const OPEN = 8;
/** Numbers of a row: time, end, heldFor, threshold, limit, toGo, interval. */
const WIDTH = 7;

/** Packs rows of pulses. */
export function packedPulses(pulses: readonly PulseRow[]): PackedPulses {
  const numbers = new Float64Array(pulses.length * WIDTH);
  const fates = new Uint8Array(pulses.length);
  let saysWhy = false;
  // Counted by hand, here as below: to go through entries makes a pair for each of thousands of rows.
  let index = 0;
  for (const pulse of pulses) {
    const { time, end, heldFor, threshold, limit, toGo, interval } = pulse;
    const at = index * WIDTH;
    numbers[at] = time;
    numbers[at + 1] = end ?? Number.NaN;
    numbers[at + 2] = heldFor ?? Number.NaN;
    numbers[at + 3] = threshold ?? Number.NaN;
    numbers[at + 4] = limit ?? Number.NaN;
    numbers[at + 5] = toGo ?? Number.NaN;
    numbers[at + 6] = interval ?? Number.NaN;
    fates[index] = FATES.indexOf(pulse.fate) + (pulse.open === true ? OPEN : 0);
    saysWhy ||= pulse.reason !== '';
    index += 1;
  }
  return saysWhy ? { numbers, fates, reasons: pulses.map(({ reason }) => reason) } : { numbers, fates };
}

/** The rows that were packed. */
export function unpackedPulses({ numbers, fates, reasons }: PackedPulses): PulseRow[] {
  const rows: PulseRow[] = [];
  for (let index = 0; index < fates.length; index += 1) {
    rows.push(unpackedPulse(numbers, index * WIDTH, fates[index] ?? 0, reasons?.[index] ?? ''));
  }
  return rows;
}

function unpackedPulse(numbers: Float64Array, at: number, code: number, reason: string): PulseRow {
  const told = (place: number): number | undefined => {
    const value = numbers[at + place];
    return Number.isNaN(value) ? undefined : value;
  };
  const time = numbers[at] ?? 0;
  const end = told(1) ?? null;
  const fate = FATES[code % OPEN] ?? 'short';
  const [heldFor, threshold, limit, toGo, interval] = [told(2), told(3), told(4), told(5), told(6)];
  // Nearly all are of one of these kinds. Each as a whole: fields that are put to an object later, or spread into it, take
  // longer than all the rest.
  if (code < OPEN && heldFor === undefined && limit !== undefined) {
    if (toGo === undefined && interval !== undefined) {
      return threshold === undefined
        ? { time, end, fate, reason, limit, interval }
        : { time, end, fate, reason, threshold, limit, interval };
    }
    if (toGo !== undefined && interval === undefined && threshold !== undefined) {
      return { time, end, fate, reason, threshold, limit, toGo };
    }
  }
  const row: { -readonly [Field in keyof PulseRow]: PulseRow[Field] } = { time, end, fate, reason };
  if (code >= OPEN) row.open = true;
  if (heldFor !== undefined) row.heldFor = heldFor;
  if (threshold !== undefined) row.threshold = threshold;
  if (limit !== undefined) row.limit = limit;
  if (toGo !== undefined) row.toGo = toGo;
  if (interval !== undefined) row.interval = interval;
  return row;
}
