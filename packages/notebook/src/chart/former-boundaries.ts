import { type MapScene, pixel } from '@two-thirds/sim/chart';
import type { MapResult } from '@two-thirds/sim/document';
import { isSameJson } from '../edit/json.ts';

type Line = MapResult['contours'][number]['lines'][number];
type Place = readonly [x: number, y: number];

/** A boundary that lies this near to where it was has not been moved for the eye (pixels). */
const STILL = 1;

/** Whether two maps are of the same reading over the same points, so that one can be told and drawn against the other. */
export function hasSamePoints(one: MapResult, other: MapResult): boolean {
  return isSameJson(one.x, other.x) && isSameJson(one.y, other.y) && one.asked === other.asked;
}

/**
 * The boundaries that a map had before, laid over the scene of the present one as path data. One that lies where one of its
 * kind still is has none, and a map over other points has none at all.
 */
export function formerBoundaries(scene: MapScene, now: MapResult, former: MapResult): string[] {
  if (!hasSamePoints(now, former)) return [];
  const place = ([x, y]: Line[number]): Place => [scene.x.scale(x), scene.y.scale(y)];
  return former.contours.flatMap(({ level, between, lines }) => {
    const own = now.contours.filter((each) => each.level === level && isSameJson(each.between, between));
    const present = own.flatMap((each) => each.lines.map((line) => line.map(place)));
    return lines.flatMap((line) => {
      const places = line.map(place);
      return present.some((other) => isNear(places, other)) ? [] : [pathOf(places)];
    });
  });
}

/** Whether every corner of each of two lines lies on the other, as far as the eye can tell. */
function isNear(one: readonly Place[], other: readonly Place[]): boolean {
  const lies = (corners: readonly Place[], on: readonly Place[]): boolean =>
    corners.every((corner) => on.some((end, index) => distance(corner, on[Math.max(0, index - 1)]!, end) < STILL));
  return lies(one, other) && lies(other, one);
}

/** How far a place is from a straight stretch (pixels). */
function distance([x, y]: Place, [x1, y1]: Place, [x2, y2]: Place): number {
  const [wide, high] = [x2 - x1, y2 - y1];
  const length = wide * wide + high * high;
  const share = length === 0 ? 0 : Math.max(0, Math.min(1, ((x - x1) * wide + (y - y1) * high) / length));
  return Math.hypot(x - x1 - share * wide, y - y1 - share * high);
}

function pathOf(places: readonly Place[]): string {
  return places.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${pixel(x)} ${pixel(y)}`).join('');
}
