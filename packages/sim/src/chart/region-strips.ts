import type { Fate, SweepResult } from '../document/index.ts';
import { fates } from './fate-marks.ts';
import { pixel, type Scale } from './scale.ts';

/** A stretch over which something stays what it is. */
export interface Region {
  readonly from: number;
  readonly until: number;
  /** What it is there: `3`, `uneven`, a pattern of fates. */
  readonly text: string;
  /** Whether it is not the same from output to output. */
  readonly isUneven: boolean;
  /** What becomes of the pulses from one start to the next, one fate each, where that is known and the same. */
  readonly pulses: readonly Fate[] | undefined;
  /** Whether text or pulses find room in it. */
  readonly hasRoom: boolean;
}

/** A row of regions: one ratio, or the fates at one timer, over the whole range. */
export interface RegionStrip {
  readonly name: string;
  readonly kind: 'ratio' | 'fates' | 'run';
  readonly regions: readonly Region[];
  readonly top: number;
  readonly bottom: number;
}

/** Width of a mark of a pulse in a strip, with what is left free beside it; of a letter (pixels). */
export const PULSE_STEP = 9;
const LETTER = 7.4;
const RIM = 8;

/**
 * What the marks of a sweep divide: for everything that jumps somewhere, a row of the regions between its jumps. Where
 * nothing jumps there is no row. Not yet placed one below the other.
 *
 * @param ends the ends of the plot (pixels).
 */
export function regionStrips(
  { marks }: SweepResult,
  x: Scale,
  [left, right]: readonly [number, number],
): Omit<RegionStrip, 'top' | 'bottom'>[] {
  const rows = new Map<string, { kind: RegionStrip['kind']; name: string; changes: Change[] }>();
  for (const { below, changes } of marks) {
    for (const { what, name, ...sides } of changes) {
      const key = `${what} ${name}`;
      const row = rows.get(key) ?? { kind: what, name, changes: [] };
      row.changes.push({ at: pixel(x(below)), below: sides.below ?? 'runs', above: sides.above ?? 'runs' });
      rows.set(key, row);
    }
  }
  return [...rows.values()].map(({ kind, name, changes }) => ({
    kind,
    name: kind === 'run' ? 'runs' : name,
    regions: [...changes, undefined].map((change, index): Region => {
      const before = changes[index - 1];
      const from = before?.at ?? left;
      const until = change?.at ?? right;
      return region(from, until, change?.below ?? before?.above ?? '', kind);
    }),
  }));
}

interface Change {
  readonly at: number;
  readonly below: string;
  readonly above: string;
}

function region(from: number, until: number, text: string, kind: RegionStrip['kind']): Region {
  const isUneven = text === 'uneven' || / to /.test(text);
  const pulses = kind === 'fates' && !isUneven ? pulsesOf(text) : undefined;
  const needed = pulses === undefined ? text.length * LETTER : pulses.length * PULSE_STEP;
  return { from, until, text, isUneven, pulses, hasRoom: until - from >= needed + RIM };
}

/** `started, 1 held, 2 ignored` as one fate for each pulse; undefined for what is no such pattern. */
function pulsesOf(pattern: string): Fate[] | undefined {
  const pulses = pattern.split(', ').flatMap((part): (Fate | undefined)[] => {
    const [, count = '1', name = ''] = /^(?:(\d+) )?([a-z]+)$/.exec(part) ?? [];
    const fate = fates.find((each) => each === name);
    return Array.from({ length: Math.min(Number(count), 100) }, () => fate);
  });
  if (!pulses.every((each) => each !== undefined)) return undefined;
  // A pattern counts; in time, a pulse that holds the output on is the last before the next start.
  return [...pulses.filter((fate) => fate !== 'held'), ...pulses.filter((fate) => fate === 'held')];
}
