import type { Direction } from '@two-thirds/sim/board';

/** A circuit laid out in pixels: everything but the drawing itself. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly wires: readonly Wire[];
  readonly dots: readonly Dot[];
  readonly symbols: readonly PlacedSymbol[];
  readonly box: PlacedBox | undefined;
  readonly names: readonly NetName[];
  /** The drawing in words. */
  readonly description: string;
  /** Where its nets go on in other drawings of the board, a sentence each. */
  readonly goesOn?: readonly string[];
}

/** A wire, and the net it is of. */
export interface Wire {
  readonly net: string;
  /** SVG path data. */
  readonly path: string;
}

/** A junction: where wires of a net that cross or meet are joined. */
export interface Dot {
  readonly net: string;
  readonly x: number;
  readonly y: number;
}

/** A symbol with its centre here; its ends lie {@link SYMBOL_REACH} from there. */
export interface PlacedSymbol {
  readonly part: string;
  /** What stands beside it in place of its name. */
  readonly label?: string;
  readonly kind: string;
  readonly title: string;
  readonly value: string;
  readonly x: number;
  readonly y: number;
  /** Where its first end points; the second one points the other way. */
  readonly first: Direction;
  /** Where its name and value stand while it is upright. */
  readonly textOn: 'left' | 'right';
  readonly polarised: boolean;
}

/** The timer. */
export interface PlacedBox {
  readonly part: string;
  readonly family: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly pins: readonly PlacedPin[];
  /** Where its name stands. */
  readonly nameY: number;
}

/** The name of a pin inside the box. */
export interface PlacedPin {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** The name of a net, beside its wire. */
export interface NetName {
  readonly net: string;
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'end';
  /** Where its voltage at the cursor stands. */
  readonly voltage: { readonly x: number; readonly y: number; readonly anchor: 'start' | 'end' };
}

/** From the centre of a symbol to the end of its wires (pixels). */
export const SYMBOL_REACH = 20;
