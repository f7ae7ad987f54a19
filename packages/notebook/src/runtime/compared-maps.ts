import type { MapResult } from '@two-thirds/sim/document';
import { spokenName } from '@two-thirds/sim/quantity';
import { hasSamePoints } from '../chart/former-boundaries.ts';
import { pointText } from '../edit/load-point.ts';
import { type Comparison, joined, toldEntries } from './comparison.ts';
import { twoTexts } from './two-texts.ts';

/** Ways from one region to another that are told, the most frequent first, and boundaries, those that moved most first. */
const MOST_WAYS = 3;
const MOST_BOUNDARIES = 3;
/** Boundaries are found to 1e-6 of a value: what moves less than this has not moved. */
const STILL = 1e-5;

type Contour = MapResult['contours'][number];

/** Where a boundary crosses a line of the grid, now and before. */
interface Crossing {
  /** The value that is the same along the line, and the one that is crossed. */
  readonly along: 'x' | 'y';
  readonly at: number;
  readonly is: number;
  readonly was: number;
}

/**
 * What is different in a map against the one before: how many points changed their region and which way, or how far the
 * reading now reaches, and which boundaries moved, where they moved most. Undefined for maps over other points.
 */
export function comparedMaps(now: MapResult, before: MapResult): Comparison | undefined {
  if (!hasSamePoints(now, before)) return undefined;
  return joined([pointClauses(now, before), boundaryClauses(now, before)]);
}

function pointClauses(now: MapResult, before: MapResult): Comparison {
  const pairs = now.z.flatMap((row, y) => row.map((_, x) => [region(now, x, y), region(before, x, y)] as const));
  const moved = pairs.filter(([is, was]) => is !== was);
  const others = `${moved.length} of ${pairs.length} points`;
  if (now.uneven === null) {
    const all = (map: MapResult): number[] => map.z.flatMap((row) => row.filter((value) => value !== null));
    const end = (name: string, of: (values: readonly number[]) => number | null): [string, string, string] => [
      `${name} ${now.name}`,
      ...twoTexts(of(all(now)), of(all(before)), now.unit),
    ];
    const changed = moved.length === 0 ? [] : [`another ${now.name} at ${others}`];
    return joined([{ changed, same: [] }, toldEntries([end('least', lowest), end('greatest', highest)])]);
  }
  if (moved.length === 0) return { changed: [], same: [`${now.name} at all points`] };
  const ways = new Map<string, number>();
  for (const [is, was] of moved) ways.set(`from ${was} to ${is}`, (ways.get(`from ${was} to ${is}`) ?? 0) + 1);
  const sorted = [...ways].sort(([, one], [, other]) => other - one);
  const told = sorted.slice(0, MOST_WAYS).map(([way, count]) => `${count} ${way}`);
  const rest = sorted.length > MOST_WAYS ? [`${sorted.length - MOST_WAYS} other ways`] : [];
  return { changed: [`${others} in another region: ${[...told, ...rest].join(', ')}`], same: [] };
}

function lowest(values: readonly number[]): number | null {
  return values.reduce<number | null>((least, value) => (least === null || value < least ? value : least), null);
}

function highest(values: readonly number[]): number | null {
  return values.reduce<number | null>((most, value) => (most === null || value > most ? value : most), null);
}

/** What is at a point, as it is told: a ratio, or that there is none or that it is uneven. */
function region({ z, uneven, unit }: MapResult, x: number, y: number): string {
  const value = z[y]?.[x] ?? null;
  if (value === null) return 'none';
  return uneven?.[y]?.[x] === 1 ? 'uneven' : pointText(value, unit);
}

function boundaryClauses(now: MapResult, before: MapResult): Comparison {
  const formers = new Map(before.contours.map((contour) => [nameOf(now, contour), contour]));
  const names = new Set(now.contours.map((contour) => nameOf(now, contour)));
  const gone = [...formers.keys()].filter((name) => !names.has(name));
  const fresh = [...names].filter((name) => !formers.has(name));
  const same: string[] = [];
  const moves: { readonly clause: string; readonly by: number }[] = [];
  for (const contour of now.contours) {
    const name = nameOf(now, contour);
    const former = formers.get(name);
    if (former === undefined) continue;
    const farthest = farthestMove(now, contour, former);
    if (farthest === undefined) continue;
    const by = shift(farthest);
    if (by < STILL) same.push(name);
    else moves.push({ clause: `${name} ${moveWords(now, farthest)}`, by });
  }
  moves.sort((one, other) => other.by - one.by);
  const told = moves.slice(0, MOST_BOUNDARIES).map(({ clause }) => clause);
  const rest = moves.length - told.length;
  return {
    changed: [
      ...told,
      ...(rest === 1 ? ['another boundary elsewhere'] : rest > 1 ? [`${rest} more boundaries elsewhere`] : []),
      ...(fresh.length === 0 ? [] : [`new: ${fresh.join(', ')}`]),
      ...(gone.length === 0 ? [] : [`gone: ${gone.join(', ')}`]),
    ],
    same,
  };
}

function nameOf({ name, unit }: MapResult, { level, between }: Contour): string {
  if (between !== null) return `the boundary between ${between[0]} and ${between[1]}`;
  return `the line of ${name} ${level === null ? '' : pointText(level, unit)}`;
}

function moveWords({ vary }: MapResult, { along, at, is, was }: Crossing): string {
  const [fixed, crossed] = along === 'y' ? [vary.y, vary.x] : [vary.x, vary.y];
  const [isText, wasText] = twoTexts(is, was, crossed.unit);
  return `at ${spokenName(crossed.value)} ${isText}, was ${wasText} (${spokenName(fixed.value)} ${pointText(at, fixed.unit)})`;
}

/** Where a boundary has moved farthest, of the lines of the grid that it crosses once now and crossed once before. */
function farthestMove({ x, y }: MapResult, now: Contour, before: Contour): Crossing | undefined {
  const crossings = (['y', 'x'] as const).flatMap((along) => {
    const [is, was] = [crossingsOf(now, along), crossingsOf(before, along)];
    return (along === 'y' ? y : x).flatMap((at): Crossing[] => {
      const [one, other] = [is.get(at), was.get(at)];
      return one?.length === 1 && other?.length === 1 ? [{ along, at, is: one[0]!, was: other[0]! }] : [];
    });
  });
  return crossings.toSorted((one, other) => shift(other) - shift(one))[0];
}

/** How far a crossing has moved, as a share of where it was. */
function shift({ is, was }: Crossing): number {
  return Math.abs(is - was) / Math.max(Math.abs(was), Number.MIN_VALUE);
}

/** Where a boundary crosses the lines of the grid of one direction, by what is the same along them. */
function crossingsOf({ lines }: Contour, along: 'x' | 'y'): ReadonlyMap<number, readonly number[]> {
  const found = new Map<number, number[]>();
  for (const [px, py] of lines.flat()) {
    const [at, crossed] = along === 'y' ? [py, px] : [px, py];
    const own = found.get(at);
    if (own === undefined) found.set(at, [crossed]);
    else if (!own.includes(crossed)) own.push(crossed);
  }
  return found;
}
