/** A direction in a drawing. */
export type Direction = 'up' | 'down' | 'left' | 'right';

/** Where a part stands in the drawing of a board. */
export interface PartPlace {
  /** The middle of its symbol, which reaches two steps from there to either end. */
  readonly x: number;
  readonly y: number;
  /** Where its first end points; up unless stated. */
  readonly first?: Direction;
  /** Where its name and value stand beside an upright symbol; on the right unless stated. */
  readonly text?: 'left' | 'right';
}

/** Where a timer stands in the drawing of a board. */
export interface TimerPlace {
  /** Its upper left corner. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** The middle of its name. */
  readonly name: number;
  /** On which side each pin leaves, and how far from the left or from the top of the drawing. */
  readonly pins: Readonly<Record<string, { readonly side: Direction; readonly at: number }>>;
}

/**
 * How a ready board is drawn: places of its parts, laid out by hand. All lengths are in steps, a quarter of a symbol's
 * length each, from the upper left corner of the drawing. Wires are not part of it: they follow from the circuit.
 */
export interface BoardLayout {
  /** Heights of the supply line and of the 0 V line. */
  readonly rail: number;
  readonly ground: number;
  readonly timer: TimerPlace;
  readonly parts: Readonly<Record<string, PartPlace>>;
}

/** Pins of the timer of a monostable, seen from the upper left corner of its box: inputs on the left, output on the right. */
export function monostablePins(x: number): TimerPlace['pins'] {
  return {
    supply: { side: 'up', at: x + 3 },
    reset: { side: 'up', at: x + 8 },
    discharge: { side: 'left', at: 11 },
    threshold: { side: 'left', at: 13 },
    trigger: { side: 'left', at: 17 },
    control: { side: 'left', at: 21 },
    output: { side: 'right', at: 15 },
    ground: { side: 'down', at: x + 5 },
  };
}
