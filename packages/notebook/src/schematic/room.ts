import type { Drawing, PlacedBox, PlacedPin, PlacedSymbol } from './drawing.ts';

/** An upright rectangle that something in a drawing takes up (pixels). */
export interface Room {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Text in a drawing: where it begins, ends or has its middle, on its line of writing, and how wide it may become. */
export interface TextPlace {
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** Roughly one character of a text, and of a bold one, in the type of drawings (pixels). */
const CHARACTER = 7.1;
const BOLD_CHARACTER = 8.4;
/** One character of the name of a pin (pixels). */
const PIN_CHARACTER = 6.7;
/** Above and below the line of writing (pixels). */
const ASCENT = 10;
const DESCENT = 3;
/** Figures are as long as this or longer: a knob that is turned through its range moves nothing in the drawing. */
const VALUE_LENGTH = 6;
const VOLTAGE_LENGTH = 5;
/** Half the width and length of a symbol without its wires (pixels). */
const HALF_WIDTH = 13;
const HALF_LENGTH = 17;

/** How wide a text is, roughly (pixels). */
export function textWidth(text: string, isBold = false): number {
  return text.length * (isBold ? BOLD_CHARACTER : CHARACTER);
}

/** How wide the value beside a symbol may become (pixels). */
export function valueWidth(kind: string, value: string): number {
  const least = kind === 'supply' ? VOLTAGE_LENGTH : VALUE_LENGTH;
  return textWidth(/^\d/.test(value) ? value.padEnd(least) : value);
}

/** From the middle of a symbol to the text on its right (pixels): clear of its light, its sound, the frame around it. */
export function besideSymbol(kind: string): number {
  return kind === 'led' || kind === 'speaker' || kind === 'buzzer' ? 25 : isWorked(kind) ? 22 : 18;
}

/** Whether a symbol is worked in the drawing itself, and then has a frame around it. */
function isWorked(kind: string): boolean {
  return kind === 'button' || kind === 'finger' || kind === 'switch' || kind === 'jumper';
}

/** What the small contact takes up that stands behind the name of the pin DISCHARGE. @param size as in `pinText`. */
export function dischargeContact({ name, x, y }: PlacedPin, size: number): Room {
  const left = x + name.length * PIN_CHARACTER * size + 4;
  return { left, top: y - 10, right: left + 20, bottom: y - 4 };
}

/** Where name and value of a symbol stand, from its middle: beside it, or above and below one that lies level. */
export function symbolTexts({ kind, value, first, textOn }: PlacedSymbol): { name: TextPlace; value: TextPlace } {
  if (first === 'left' || first === 'right') {
    return { name: { x: 0, y: -13, anchor: 'middle' }, value: { x: 0, y: 23, anchor: 'middle' } };
  }
  const isLeft = textOn === 'left';
  const x = isLeft ? -(isWorked(kind) ? 25 : kind === 'supply' ? 22 : 18) : besideSymbol(kind);
  const anchor = isLeft ? 'end' : 'start';
  return { name: { x, y: value === '' ? 4 : -2, anchor }, value: { x, y: 13, anchor } };
}

/** What a symbol and the texts beside it take up. */
export function symbolRooms(symbol: PlacedSymbol): { readonly body: Room; readonly texts: readonly Room[] } {
  const { part, label, kind, value, x, y, first } = symbol;
  const isLevel = first === 'left' || first === 'right';
  const [across, along] = isLevel ? [HALF_LENGTH, HALF_WIDTH] : [HALF_WIDTH, HALF_LENGTH];
  const light = kind === 'led' ? 7 : 0;
  const body = {
    left: x - across,
    top: y - along - (isLevel ? light : 0),
    right: x + across + light,
    bottom: y + along,
  };
  const places = symbolTexts(symbol);
  const name = textRoom({ ...places.name, x: x + places.name.x, y: y + places.name.y }, textWidth(label ?? part, true));
  if (value === '') return { body, texts: [name] };
  const below = textRoom({ ...places.value, x: x + places.value.x, y: y + places.value.y }, valueWidth(kind, value));
  return { body, texts: [name, below] };
}

/** What a text takes up. */
export function textRoom({ x, y, anchor }: TextPlace, width: number): Room {
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return { left, top: y - ASCENT, right: left + width, bottom: y + DESCENT };
}

/** What the box of a timer takes up. */
export function boxRoom({ x, y, width, height }: PlacedBox): Room {
  return { left: x, top: y, right: x + width, bottom: y + height };
}

/** What the symbols, texts and boxes of a drawing take up. */
export function roomsOf({ symbols, box }: Pick<Drawing, 'symbols' | 'box'>): Room[] {
  const rooms = symbols.flatMap((symbol) => {
    const { body, texts } = symbolRooms(symbol);
    return [body, ...texts];
  });
  return box === undefined ? rooms : [boxRoom(box), ...rooms];
}

/** Whether two share more than a border. */
export function overlap(a: Room, b: Room): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
