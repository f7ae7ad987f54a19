import type { MapResult } from '../document/index.ts';
import { NOTHING } from './map-raster.ts';
import { RAMP_STEPS, rampStep } from './ramp.ts';

/** Class of places where a ratio is not the same from output to output. */
export const UNEVEN = 1000;
/** Class of places without a value. */
export const WITHOUT = 1001;

/** What the colours of a map stand for. */
export interface Classes {
  /** Whether every class is a region with a name, not a stretch of a scale. */
  readonly isNamed: boolean;
  /** The class of a point of the grid: UNEVEN, WITHOUT, NOTHING where nothing is computed, or one that has a colour. */
  at(column: number, row: number): number;
  /** The class of a region by its name in the boundaries of the result. */
  named(region: string): number;
  /** The step of the ramp of a class that has a colour. */
  stepOf(value: number): number;
  /** What is written on a class: the ratio of a region; empty for others. */
  nameOf(value: number): string;
  /** Classes that occur, in the order of a legend. */
  readonly legend: readonly { readonly value: number; readonly text: string }[];
  /** Least and greatest value where colours are a scale. */
  readonly span: readonly [number, number];
  /** Whether each step of that scale multiplies rather than adds. */
  readonly isByRatio: boolean;
}

/** Values that differ by more than this factor are coloured by ratio: else all but the greatest would look alike. */
const BY_RATIO = 20;

/** Sorts the points of a map into classes: regions of one ratio each, or else even steps from the least value to the greatest. */
export function mapClasses(result: MapResult): Classes {
  const values = result.z.flat().filter((z) => z !== null);
  const span = [Math.min(...values), Math.max(...values)] as const;
  const isNamed = result.uneven !== null && result.contours.every(({ level }) => level === null);
  const isUneven = (column: number, row: number): boolean => result.uneven?.[row]?.[column] === 1;
  const ratios = isNamed ? wholeRatios(result) : [];
  const ranks = new Map(ratios.map((ratio, index) => [ratio, index]));
  const isByRatio = !isNamed && span[0] > 0 && span[1] / span[0] > BY_RATIO;
  const height = isByRatio ? Math.log : (z: number): number => z;
  const scaled = (z: number): number => {
    const [low, high] = [height(span[0]), height(span[1])];
    return low === high ? rampStep(0, 1) : Math.round(((height(z) - low) / (high - low)) * (RAMP_STEPS - 1));
  };
  const at = (column: number, row: number): number => {
    const z = result.z[row]?.[column] ?? null;
    if (z === null) return result.share < 1 ? NOTHING : WITHOUT;
    if (isUneven(column, row)) return UNEVEN;
    return isNamed ? (ranks.get(z) ?? UNEVEN) : scaled(z);
  };
  const met = new Set(result.y.flatMap((_, row) => result.x.map((__, column) => at(column, row))));
  const between = new Set(result.contours.flatMap((contour) => contour.between ?? []));
  return {
    isNamed,
    at,
    named: (region) =>
      region === 'uneven' ? UNEVEN : region === 'none' ? WITHOUT : (ranks.get(Number(region)) ?? WITHOUT),
    stepOf: (value) => (isNamed ? rampStep(value, ratios.length) : value),
    nameOf: (value) => String(ratios[value] ?? ''),
    legend: [
      ...ratios.map((ratio, value) => ({ value, text: String(ratio) })),
      ...(met.has(UNEVEN) || between.has('uneven')
        ? [{ value: UNEVEN, text: 'not the same from output to output' }]
        : []),
      ...(met.has(WITHOUT) || between.has('none') ? [{ value: WITHOUT, text: 'no value' }] : []),
    ],
    span,
    isByRatio,
  };
}

/** The whole ratios of a map, those of regions between its points included, ascending. */
function wholeRatios(result: MapResult): number[] {
  const found = new Set<number>();
  for (const [row, line] of result.z.entries()) {
    for (const [column, z] of line.entries()) if (z !== null && result.uneven?.[row]?.[column] !== 1) found.add(z);
  }
  for (const { between } of result.contours) {
    for (const name of between ?? []) if (Number.isFinite(Number(name))) found.add(Number(name));
  }
  return [...found].sort((a, b) => a - b);
}
