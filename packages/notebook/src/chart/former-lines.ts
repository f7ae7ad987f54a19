import { envelopePath, type Scene } from '@two-thirds/sim/chart';
import type { Lane, TraceResult } from '@two-thirds/sim/document';

/**
 * The lines that a trace had before, laid over the lanes of a scene as path data. A lane whose line is as before has none,
 * and neither has one whose line would leave it: its axis belongs to what is drawn now.
 */
export function formerLines(scene: Scene, former: TraceResult): string[] {
  const [start, end] = [scene.x(former.from), scene.x(former.until)];
  return scene.lanes.flatMap((lane) => {
    if (lane.kind !== 'analog') return [];
    const old = former.lanes.find(({ show, role }) => show === lane.show && role !== 'contact');
    if (old === undefined || !fits(old, lane.y.invert(lane.bottom), lane.y.invert(lane.top))) return [];
    const path = envelopePath(old, lane.y, start, end, { left: scene.left, right: scene.right });
    return path === lane.path ? [] : [path];
  });
}

function fits({ low, high }: Lane, least: number, most: number): boolean {
  return low.every((value) => value >= least) && high.every((value) => value <= most);
}
