import type { Dot, PlacedSymbol, Wire } from './drawing.ts';

/** What has been drawn so far. */
export interface Ink {
  readonly wires: Wire[];
  readonly dots: Dot[];
  readonly symbols: PlacedSymbol[];
}
