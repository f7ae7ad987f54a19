import type { PartRow } from '@two-thirds/sim/document';
import { linkName, type LinkView } from '../edit/link-edits.ts';
import type { Drawing } from './drawing.ts';
import { GROUND } from './levels.ts';
import { placeStage } from './place.ts';
import { type Shape, shapesOf, timerShapesOf } from './shape.ts';
import { stagesOf } from './stages.ts';

/** Lays a board out: one drawing for each of its timers. @param links the jumpers that lead from it to other boards. */
export function boardDrawings(parts: readonly PartRow[], links: readonly LinkView[] = []): readonly Drawing[] {
  const own = shapesOf(parts);
  const nets = new Set(parts.flatMap((part) => Object.values(part.nets)));
  const shapes = [...own, ...links.filter(({ net }) => nets.has(net)).map(linkShape)];
  const rails = new Set([GROUND, ...own.filter((shape) => shape.kind === 'supply').map((shape) => shape.ends[0])]);
  return stagesOf(shapes, timerShapesOf(parts), rails).map(placeStage);
}

/** A jumper that hangs from the net it leads from. */
function linkShape({ index, net, other }: LinkView): Shape {
  return {
    name: linkName(index),
    label: `to ${other}`,
    kind: 'jumper',
    title: `jumper to ${other}`,
    ends: [net, undefined],
    value: '',
    polarised: false,
  };
}
