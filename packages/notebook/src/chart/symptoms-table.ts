import type { SymptomsFault, SymptomsReading, SymptomsResult } from '@two-thirds/sim/document';
import type { BoardChange } from '../edit/board-change.ts';
import { pointText } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';

/** Digits of readings. */
const DIGITS = 4;

/** What one would see of a board, and everything that looks like that. */
export interface SymptomLook {
  /** Readings as the first of them has them, in the order of the result's `readings`. */
  readonly values: readonly (number | null)[];
  readonly reasons: Readonly<Record<string, string>>;
  /** What is different from the board as built, in a sentence. */
  readonly seen: string;
  readonly faults: readonly SymptomsFault[];
  /** Whether a board without any fault looks like that as well. */
  readonly isHealthy: boolean;
  /** The one further reading that tells most of them apart, and the faults by what it says. */
  readonly apart: { readonly reading: string; readonly parts: readonly LookPart[] } | null;
}

/** Faults that even the further reading does not tell apart. */
interface LookPart {
  /** What it says, as text. */
  readonly value: string;
  readonly faults: readonly SymptomsFault[];
  readonly hasHealthy: boolean;
}

/**
 * All faults by what one would see of them: looks of several faults and of single ones, those that are most unlike the
 * board as built first, and last what nobody would see.
 */
export function symptomLooks(result: SymptomsResult): readonly SymptomLook[] {
  const { rows, groups, readings, asBuilt } = result;
  const grouped = new Set(groups.flatMap(({ members }) => members));
  const looks = [
    ...groups.map(({ members, separator }) => look(result, members, separator)),
    ...rows.flatMap((_, index) => (grouped.has(index) ? [] : [look(result, [index], null)])),
  ].filter(({ faults }) => faults.length > 0);
  const strangeness = ({ values, isHealthy }: SymptomLook): number =>
    isHealthy
      ? -1
      : readings.reduce((sum, _, index) => sum + difference(asBuilt?.[index] ?? null, values[index] ?? null), 0);
  return looks
    .map((each, place) => ({ each, place, strange: strangeness(each) }))
    .sort((a, b) => b.strange - a.strange || a.place - b.place)
    .map(({ each }) => each);
}

function look(
  { rows, readings, further, asBuilt }: SymptomsResult,
  members: readonly number[],
  separator: SymptomsResult['groups'][number]['separator'],
): SymptomLook {
  const faultsOf = (positions: readonly number[]): SymptomsFault[] => positions.flatMap((each) => rows[each] ?? []);
  const valuesOf = (position: number): readonly (number | null)[] =>
    position < 0 ? (asBuilt ?? []) : (rows[position]?.values ?? []);
  const faults = faultsOf(members);
  const isHealthy = members.includes(-1);
  const at = further.findIndex(({ asked }) => asked === separator?.reading);
  return {
    values: readings.map((_, index) => valuesOf(members[0] ?? 0)[index] ?? null),
    reasons: faults[0]?.reasons ?? {},
    seen: isHealthy ? 'Nothing: every reading is as it should be.' : (faults[0]?.seen ?? ''),
    faults,
    isHealthy,
    apart:
      separator === null
        ? null
        : {
            reading: separator.reading,
            parts: separator.parts.map((part) => ({
              value: readingText(valuesOf(part[0] ?? 0)[readings.length + at] ?? null, further[at]),
              faults: faultsOf(part),
              hasHealthy: part.includes(-1),
            })),
          },
  };
}

/** How unlike two readings are, 0 to 1. */
function difference(one: number | null, other: number | null): number {
  if (one === other) return 0;
  if (one === null || other === null) return 1;
  return Math.min(1, Math.abs(one - other) / Math.max(Math.abs(one), Math.abs(other)));
}

/** A reading as text; a dash where there is none. */
export function readingText(value: number | null, reading: Pick<SymptomsReading, 'unit'> | undefined): string {
  return value === null ? 'none' : pointText(value, reading?.unit ?? null, DIGITS);
}

/** One fault and how well it fits what was seen. */
export interface FitLine {
  readonly title: string;
  /** How far off it is, 0 to 1. */
  readonly off: number;
  readonly build: boolean;
  /** What puts it on the board; undefined for the board as built, and for what must not be built. */
  readonly change: BoardChange | undefined;
  /** Why it must not be built. */
  readonly harm: string;
  /** What its readings would be, for each that was seen, and whether that is near. */
  readonly readings: readonly { readonly text: string; readonly fits: boolean }[];
}

/** A reading this near to what was seen speaks for a fault: a cheap meter twice over. */
const NEAR = 0.05;

/** Faults by how well they fit what was seen, the best first, with the readings that were seen. */
export function fitLines({ ranked, rows, readings, asBuilt, seen }: SymptomsResult): readonly FitLine[] {
  const measured = readings.flatMap((reading, index) =>
    Object.hasOwn(seen, reading.name) ? [{ reading, index }] : [],
  );
  return ranked.map(({ fault, off }) => {
    const row = rows[fault];
    const values = row?.values ?? asBuilt ?? [];
    return {
      title: row?.title ?? 'the board as built',
      off,
      build: row?.build ?? true,
      change: row?.build === true ? { fault: row.change, title: row.title } : undefined,
      harm: row?.harms[0] ?? '',
      readings: measured.map(({ reading, index }) => {
        const value = values[index] ?? null;
        return { text: readingText(value, reading), fits: difference(value, seen[reading.name] ?? null) <= NEAR };
      }),
    };
  });
}

/** Names of the readings that something was seen of. */
export function seenReadings({ readings, seen }: SymptomsResult): readonly SymptomsReading[] {
  return readings.filter(({ name }) => Object.hasOwn(seen, name));
}

/** Every fault with all its readings, as a table. */
export function symptomsTables({ readings, further, asBuilt, rows }: SymptomsResult): DataTable[] {
  const all = [...readings, ...further];
  const cells = (values: readonly (number | null)[]): string[] =>
    all.map((reading, index) => readingText(values[index] ?? null, reading));
  return [
    {
      caption: 'Every fault with all its readings',
      columns: ['fault', ...all.map(({ name }) => name), 'may be built'],
      rows: [
        ...(asBuilt === null ? [] : [['as built', ...cells(asBuilt), 'yes']]),
        ...rows.map(({ title, values, build, harms }) => [
          title,
          ...cells(values),
          build ? 'yes' : `no. ${harms.join(' ')}`,
        ]),
      ],
    },
  ];
}
