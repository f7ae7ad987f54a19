import type { PlacedBox, PlacedSymbol } from './drawing.ts';
import { boxRoom, overlap, type Room, symbolRooms } from './room.ts';
import { STEP } from './wire-grid.ts';

/** Symbols and the box beside them. */
interface LaidOut {
  readonly symbols: readonly PlacedSymbol[];
  readonly box: PlacedBox;
}

/**
 * Makes room for names and values that are longer than a layout was made for: whatever stands right of one that is too
 * long moves to the right by whole steps.
 *
 * @returns undefined where things overlap whatever moves.
 */
export function spreadOut(symbols: readonly PlacedSymbol[], box: PlacedBox): LaidOut | undefined {
  let laidOut: LaidOut = { symbols, box };
  // One move lets two things come apart, which then stay apart.
  const mostMoves = symbols.length * symbols.length + symbols.length;
  for (let moves = 0; moves <= mostMoves; moves += 1) {
    const clash = firstClash(laidOut);
    if (clash === undefined) return laidOut;
    if (clash.from === undefined) return undefined;
    laidOut = moved(laidOut, clash.from, Math.ceil(clash.by / STEP) * STEP);
  }
  return undefined;
}

interface Thing {
  /** Where it stands: its middle, or the left edge of the box. */
  readonly x: number;
  readonly rooms: readonly Room[];
}

/** Two things that overlap: what stands from `from` on has to move. */
function firstClash({ symbols, box }: LaidOut): { from: number | undefined; by: number } | undefined {
  const things: Thing[] = [
    { x: box.x, rooms: [boxRoom(box)] },
    ...symbols.map((symbol) => {
      const { body, texts } = symbolRooms(symbol);
      return { x: symbol.x, rooms: [body, ...texts] };
    }),
  ];
  for (const [index, one] of things.entries()) {
    for (const other of things.slice(index + 1)) {
      const [left, right] = one.x <= other.x ? [one, other] : [other, one];
      for (const room of left.rooms) {
        const met = right.rooms.find((each) => overlap(each, room));
        if (met !== undefined) return { from: left.x === right.x ? undefined : right.x, by: room.right - met.left };
      }
    }
  }
  return undefined;
}

function moved({ symbols, box }: LaidOut, from: number, by: number): LaidOut {
  const place = (x: number): number => (x >= from ? x + by : x);
  const shift = place(box.x) - box.x;
  return {
    symbols: symbols.map((symbol) => ({ ...symbol, x: place(symbol.x) })),
    box: { ...box, x: box.x + shift, pins: box.pins.map((pin) => ({ ...pin, x: pin.x + shift })) },
  };
}
