import type { PartPlace } from '@two-thirds/sim/board';
import type { PlacedSymbol } from './drawing.ts';
import type { Shape } from './shape.ts';
import { STEP } from './wire-grid.ts';

/** A part in its place. */
export function symbolAt(shape: Shape, { x, y, first = 'up', text = 'right' }: PartPlace): PlacedSymbol {
  const { name, label, kind, title, value, polarised } = shape;
  return {
    part: name,
    ...(label === undefined ? {} : { label }),
    kind,
    title,
    value,
    x: x * STEP,
    y: y * STEP,
    first,
    textOn: text,
    polarised,
  };
}
