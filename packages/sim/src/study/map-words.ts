import { percentText, spokenName, type Unit } from '../quantity/index.ts';
import type { Axis } from './axis.ts';
import type { MapOutcome, MapPlan, MapPoint } from './map.ts';
import type { PlacedOrder } from './map-uneven.ts';
import { nearlySameText } from './nearly-same.ts';
import { isUneven, stepsText } from './ratio-steps.ts';
import { quantityText } from './sweep-words.ts';

/** Regions told one by one; more are counted. */
const TOLD_REGIONS = 8;

/**
 * What a map found, in a few sentences built from its own numbers.
 *
 * @param name what the reading is called.
 */
export function mapWords({ x, y }: Pick<MapPlan, 'x' | 'y'>, name: string, outcome: MapOutcome): string {
  const points = placed(x, y, outcome);
  if (points.length === 0) return 'Nothing is computed yet.';
  const size = `${x.points.length} by ${y.points.length} points`;
  const seen = points.filter(({ point }) => point.z !== null);
  return [
    `${name} over ${rangeText(x)} and ${rangeText(y)} (${size})${outcome.share < 1 ? `, ${shareText(outcome.share)} of it computed` : ''}:`,
    spanWords(x, y, name, seen),
    ...regionWords(seen),
    ...unevenWords(x, y, seen, outcome),
    ...missingWords(name, points),
  ].join(' ');
}

interface Placed {
  readonly x: number;
  readonly y: number;
  readonly point: MapPoint;
}

function placed(x: Axis, y: Axis, { points }: MapOutcome): Placed[] {
  return points.flatMap((line, row) =>
    line.flatMap((point, column) => (point === null ? [] : [{ x: x.points[column]!, y: y.points[row]!, point }])),
  );
}

function rangeText({ name, unit, points }: Axis): string {
  return `${spokenName(name)} from ${quantityText(points[0] ?? NaN, unit)} to ${quantityText(points.at(-1) ?? NaN, unit)}`;
}

function shareText(share: number): string {
  return percentText(Number((share * 100).toPrecision(2)));
}

function spanWords(x: Axis, y: Axis, name: string, seen: readonly Placed[]): string {
  const [first] = seen;
  if (first === undefined) return `${name} has no value anywhere.`;
  const value = ({ point }: Placed): number => point.z ?? NaN;
  const least = seen.reduce((a, b) => (value(b) < value(a) ? b : a));
  const most = seen.reduce((a, b) => (value(b) > value(a) ? b : a));
  const text = (at: Placed): string => quantityText(value(at), unitOf(seen));
  if (text(least) === text(most)) return `it is ${text(first)} ${nearlySameText(value(least), value(most))}.`;
  return `it goes from ${text(least)} (at ${placeText(x, y, least)}) to ${text(most)} (at ${placeText(x, y, most)}).`;
}

function unitOf(seen: readonly Placed[]): Unit | null {
  return seen[0]?.point.unit ?? null;
}

function placeText(x: Axis, y: Axis, at: { readonly x: number; readonly y: number }): string {
  return `${spokenName(x.name)} ${quantityText(at.x, x.unit)} and ${spokenName(y.name)} ${quantityText(at.y, y.unit)}`;
}

/** The ratios that hold over the largest parts of the map. */
function regionWords(seen: readonly Placed[]): string[] {
  const counts = new Map<number, number>();
  for (const { steps } of seen.map(({ point }) => point)) {
    if (steps === null || isUneven(steps)) continue;
    counts.set(steps.least, (counts.get(steps.least) ?? 0) + 1);
  }
  if (counts.size < 2) return [];
  const largest = [...counts].sort(([a, m], [b, n]) => n - m || a - b).slice(0, TOLD_REGIONS);
  const texts = largest
    .sort(([a], [b]) => a - b)
    .map(([ratio, count]) => `${ratio} in ${shareText(count / seen.length)}`);
  const rest = counts.size - largest.length;
  return [
    `Of the points it is ${texts.join(', ')}${rest > 0 ? `, and ${rest === 1 ? 'another whole number' : `${rest} other whole numbers`} elsewhere` : ''}.`,
  ];
}

function unevenWords(x: Axis, y: Axis, seen: readonly Placed[], { sample, orders }: MapOutcome): string[] {
  const uneven = seen.filter(({ point }) => isUneven(point.steps)).length;
  if (uneven === 0) return [];
  const said = `At ${uneven} of ${seen.length} points (${shareText(uneven / seen.length)}) it is not the same from output to output.`;
  if (sample === null) return [said];
  const at = `So at ${placeText(x, y, sample)}, ${stepsText(sample.steps)} pulses a step: ${sample.explanation}`;
  return [said, at, ...orderWords(x, y, orders)];
}

/** Whether anybody could know beforehand which step comes when. */
function orderWords(x: Axis, y: Axis, orders: readonly PlacedOrder[]): string[] {
  const parting = orders.flatMap((order) => (order.partsAt === null ? [] : [{ ...order, partsAt: order.partsAt }]));
  const [first] = parting;
  const compared = Math.min(...orders.map((order) => order.compared));
  if (orders.length === 0 || (first === undefined && compared === 0)) return [];
  const points = orders.length === 1 ? 'one such point' : `${orders.length} such points`;
  const changed = `with ${spokenName(x.name)} larger by a millionth`;
  if (first === undefined) {
    return [
      `Where it was tried, at ${points}, its steps can be foretold: ${changed}, the first ${compared} are the same.`,
    ];
  }
  const all =
    orders.length === 1 ? points : `${parting.length === orders.length ? 'all' : parting.length} of ${points}`;
  return [
    `At ${all} tried, nobody can foretell in which order its steps come, only their range: ${changed}, step ${first.partsAt} is another one already (${placeText(x, y, first)}).`,
  ];
}

function missingWords(name: string, points: readonly Placed[]): string[] {
  const missing = points.filter(({ point }) => point.z === null);
  const [first] = missing;
  if (first === undefined || missing.length === points.length)
    return first === undefined ? [] : [`${first.point.reason}.`];
  return [`${name} has no value at ${missing.length} points (${first.point.reason ?? 'unknown'}).`];
}
