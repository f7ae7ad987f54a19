import type { PartRow } from '@two-thirds/sim/document';
import type { LinkView } from '../edit/link-edits.ts';
import { boardDrawings, shapesWithLinks } from './board-drawings.ts';
import { describeCircuit } from './description.ts';
import type { Drawing } from './drawing.ts';
import { valueWidth } from './room.ts';
import { type Shape, timerShapesOf } from './shape.ts';

/** Lays a board out anew only when something other than its values has changed: a knob that is turned finds it laid out. */
export class KeptDrawings {
  private key = '';
  private drawings: readonly Drawing[] = [];

  /** The drawings of a board, as {@link boardDrawings} lays them out. */
  of(parts: readonly PartRow[], links: readonly LinkView[]): readonly Drawing[] {
    const shapes = shapesWithLinks(parts, links);
    const key = JSON.stringify([parts.map(({ name, kind, nets }) => [name, kind, nets]), shapes.map(layoutKey)]);
    if (key !== this.key) {
      this.key = key;
      this.drawings = boardDrawings(parts, links);
      return this.drawings;
    }
    const byName = new Map(shapes.map((shape) => [keyOf(shape.name, shape.kind), shape]));
    const timers = new Map(timerShapesOf(parts).map((timer) => [timer.name, timer]));
    this.drawings = this.drawings.map((drawing) => {
      const drawn = drawing.symbols.flatMap(({ part, kind }) => byName.get(keyOf(part, kind)) ?? []);
      const timer = timers.get(drawing.box?.part ?? '');
      return {
        ...drawing,
        symbols: drawing.symbols.map((symbol) => ({
          ...symbol,
          value: byName.get(keyOf(symbol.part, symbol.kind))?.value ?? '',
        })),
        box: drawing.box && { ...drawing.box, family: timer?.family ?? '' },
        description: describeCircuit(inOrder(drawn, shapes), timer),
      };
    });
    return this.drawings;
  }
}

/** A relay is drawn as two symbols of one name. */
function keyOf(name: string, kind: string): string {
  return `${name} ${kind}`;
}

/** What the layout takes from a shape: of its value how wide it may become, no more. */
function layoutKey({ name, label, kind, ends, side, value, polarised }: Shape): readonly unknown[] {
  return [name, label, kind, ends, side, polarised, valueWidth(kind, value), value === ''];
}

/** Shapes in the order of the parts list. */
function inOrder(drawn: readonly Shape[], all: readonly Shape[]): readonly Shape[] {
  return all.filter((shape) => drawn.includes(shape));
}
