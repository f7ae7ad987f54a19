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

/** A symbol, upright, with its centre here; its ends lie {@link SYMBOL_REACH} above and below. */
export interface PlacedSymbol {
  readonly part: string;
  /** What stands beside it in place of its name. */
  readonly label?: string;
  readonly kind: string;
  readonly title: string;
  readonly value: string;
  readonly x: number;
  readonly y: number;
  /** Drawn upside down: the second end is on top. */
  readonly turned: boolean;
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

/** The name of a net, above its wire. */
export interface NetName {
  readonly net: string;
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'end';
}

/** From the centre of a symbol to the end of its wires (pixels). */
export const SYMBOL_REACH = 20;
