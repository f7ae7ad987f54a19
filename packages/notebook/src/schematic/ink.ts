import type { NetName, PlacedSymbol } from './drawing.ts';

/** What has been drawn so far. */
export interface Ink {
  readonly wires: string[];
  readonly dots: [number, number][];
  readonly symbols: PlacedSymbol[];
  readonly names: NetName[];
}
