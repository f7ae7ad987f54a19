import type { Direction, TimerPlace } from '@two-thirds/sim/board';
import { describeCircuit } from './description.ts';
import type { Drawing, PlacedBox, PlacedPin } from './drawing.ts';
import type { KeptLayout } from './kept-layout.ts';
import { wire, withNewParts } from './new-places.ts';
import { linesOf, nameRooms } from './net-names.ts';
import { roomsOf, textWidth } from './room.ts';
import type { Shape, TimerShape } from './shape.ts';
import { spreadOut } from './spread-out.ts';
import { symbolAt } from './symbol-at.ts';
import { STEP } from './wire-grid.ts';

/** Around the drawing (pixels). */
const MARGIN = 14;
/** From the edge of the box to the name of a pin, from its line of writing to the wire (pixels). */
const PIN_TEXT = 7;
const PIN_LINE = 4;
const UPPER_PIN = 15;
const LOWER_PIN = 7;

/**
 * Draws a circuit in the places of a layout that was made by hand. Parts that are not in it are put where there is room
 * near their nets, and wires are laid as the circuit has them.
 *
 * @returns undefined where not every part finds a place or not every wire a way.
 */
export function placeByHand(
  shapes: readonly Shape[],
  timer: TimerShape,
  { layout, places }: KeptLayout,
): Drawing | undefined {
  if (Object.keys(timer.pins).some((pin) => layout.timer.pins[pin] === undefined)) return undefined;
  const kept = shapes.flatMap((shape) => {
    const place = shape.label === undefined ? places.get(shape.name) : undefined;
    return place === undefined ? [] : [{ shape, symbol: symbolAt(shape, place) }];
  });
  const added = shapes.filter((shape) => !kept.some((each) => each.shape === shape));
  const pinned = [...new Set(Object.values(timer.pins))];
  const longest = Math.max(...pinned.map((net) => textWidth(net)));
  const around = {
    timer,
    place: layout.timer,
    rails: { rail: timer.pins['supply'], railY: layout.rail, groundY: layout.ground },
  };
  let narrow: Drawing | undefined;
  // Where the name of a net on a pin finds no room, the box moves away from the parts on its left.
  for (const room of [0, Math.ceil(longest / STEP) * STEP]) {
    const apart = kept.map(({ symbol }) =>
      symbol.x < layout.timer.x * STEP ? symbol : { ...symbol, x: symbol.x + room },
    );
    const laidOut = spreadOut(apart, boxAt(timer, layout.timer, room));
    if (laidOut === undefined) return narrow;
    const placed = laidOut.symbols.flatMap((symbol, index) => {
      const shape = kept[index]?.shape;
      return shape === undefined ? [] : [{ shape, symbol }];
    });
    const start = wire(placed, laidOut.box, around);
    const whole = start === undefined ? undefined : withNewParts(added, start, around);
    if (whole === undefined) return narrow;
    const symbols = whole.placed.map(({ symbol }) => symbol);
    const ink = whole.wires.ink(symbols, whole.box);
    if (ink === undefined) return narrow;
    const isNamed = pinned.every((net) => ink.names.some((name) => name.net === net));
    const drawing = framed({ ...ink, symbols, box: whole.box }, describeCircuit(shapes, timer));
    if (isNamed) return drawing;
    narrow ??= drawing;
  }
  return narrow;
}

function boxAt(timer: TimerShape, place: TimerPlace, room: number): PlacedBox {
  const [x, y] = [place.x * STEP + room, place.y * STEP];
  const [width, height] = [place.width * STEP, place.height * STEP];
  const pins = Object.keys(timer.pins).flatMap((name): PlacedPin[] => {
    const pin = place.pins[name];
    return pin === undefined ? [] : [placedPin(name, pin)];
  });
  return { part: timer.name, family: timer.family, x, y, width, height, pins, nameY: place.name * STEP };

  function placedPin(name: string, { side, at }: { readonly side: Direction; readonly at: number }): PlacedPin {
    if (side === 'up') return { name, x: at * STEP + room, y: y + UPPER_PIN, anchor: 'middle' };
    if (side === 'down') return { name, x: at * STEP + room, y: y + height - LOWER_PIN, anchor: 'middle' };
    const isLeft = side === 'left';
    const edge = isLeft ? x + PIN_TEXT : x + width - PIN_TEXT;
    return { name, x: edge, y: at * STEP + PIN_LINE, anchor: isLeft ? 'start' : 'end' };
  }
}

/** Gives a drawing the frame that everything in it lies in. */
function framed(drawing: Omit<Drawing, 'width' | 'height' | 'description'>, description: string): Drawing {
  const lines = drawing.wires.flatMap(linesOf);
  const rooms = [...roomsOf(drawing), ...drawing.names.flatMap(nameRooms)];
  const right = Math.max(...rooms.map((room) => room.right), ...lines.map(({ x2 }) => x2));
  const bottom = Math.max(...rooms.map((room) => room.bottom), ...lines.map(({ y2 }) => y2));
  return { ...drawing, width: Math.ceil(right) + MARGIN, height: Math.ceil(bottom) + MARGIN / 2, description };
}
