import type { PartRow } from '@two-thirds/sim/document';
import { linkLabel, linkName, type LinkView } from '../edit/link-edits.ts';
import type { Drawing } from './drawing.ts';
import { GROUND } from './levels.ts';
import { keptLayout } from './kept-layout.ts';
import { placeByHand } from './place-by-hand.ts';
import { placeStage } from './place.ts';
import { type Shape, shapesOf, timerShapesOf } from './shape.ts';
import { stageJoins } from './stage-joins.ts';
import { stagesOf } from './stages.ts';

/**
 * Lays a board out: as a ready board's layout has it where that is still true of it, else one drawing for each of its
 * timers.
 *
 * @param links the jumpers that lead from it to other boards.
 */
export function boardDrawings(parts: readonly PartRow[], links: readonly LinkView[] = []): readonly Drawing[] {
  const shapes = shapesWithLinks(parts, links);
  const [timer] = timerShapesOf(parts);
  const kept = keptLayout(parts);
  const byHand = timer === undefined || kept === undefined ? undefined : placeByHand(shapes, timer, kept);
  if (byHand !== undefined) return [byHand];
  const rails = new Set([GROUND, ...shapes.filter((shape) => shape.kind === 'supply').map((shape) => shape.ends[0])]);
  const stages = stagesOf(shapes, timerShapesOf(parts), rails);
  const joins = stageJoins(stages, rails);
  return stages.map((stage, index): Drawing => {
    const goesOn = joins[index] ?? [];
    return goesOn.length === 0 ? placeStage(stage) : { ...placeStage(stage), goesOn };
  });
}

/** The parts of a board with two or three ends, and the jumpers that lead from nets it has to other boards. */
export function shapesWithLinks(parts: readonly PartRow[], links: readonly LinkView[]): readonly Shape[] {
  const nets = new Set(parts.flatMap((part) => Object.values(part.nets)));
  return [...shapesOf(parts), ...links.filter(({ net }) => nets.has(net)).map(linkShape)];
}

/** A jumper that hangs from the net it leads from. */
function linkShape({ index, net, other }: LinkView): Shape {
  return {
    name: linkName(index),
    label: linkLabel(index),
    kind: 'jumper',
    title: 'jumper',
    ends: [net, undefined],
    value: `to ${other}`,
    polarised: false,
  };
}
