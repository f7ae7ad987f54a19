import type { Drawing } from './drawing.ts';
import { symbolRooms, symbolTexts, textRoom, textWidth } from './room.ts';

/** As wide as the voltage of a net becomes. */
const WIDEST_VOLTAGE = '−88.8 mV';

/** A part of a drawing, or a net by its name, and what it takes up along it with its texts as they are, as shares of its width. */
export interface PartPlace {
  readonly part: string;
  readonly from: number;
  readonly to: number;
}

/** Where the parts of a drawing are along it, the timer first. */
export function partPlaces({ symbols, box, width }: Pick<Drawing, 'symbols' | 'box' | 'width'>): PartPlace[] {
  const timer = box === undefined ? [] : [{ part: box.part, from: box.x / width, to: (box.x + box.width) / width }];
  const parts = symbols.map((symbol): PartPlace => {
    const { part, label, value, x } = symbol;
    const texts = symbolTexts(symbol);
    const rooms = [
      symbolRooms(symbol).body,
      textRoom({ ...texts.name, x: x + texts.name.x }, textWidth(label ?? part, true)),
      ...(value === '' ? [] : [textRoom({ ...texts.value, x: x + texts.value.x }, textWidth(value))]),
    ];
    return {
      part: label ?? part,
      from: Math.min(...rooms.map(({ left }) => left)) / width,
      to: Math.max(...rooms.map(({ right }) => right)) / width,
    };
  });
  return [...timer, ...parts];
}

/** Where the names of the nets are along a drawing, and voltages as wide as they become; none reaches beyond the drawing. */
export function netPlaces({ names, width }: Pick<Drawing, 'names' | 'width'>): PartPlace[] {
  return names.map(({ net, voltage, ...name }) => {
    const rooms = [textRoom(name, textWidth(net)), textRoom(voltage, textWidth(WIDEST_VOLTAGE))];
    return {
      part: net,
      from: Math.max(Math.min(...rooms.map(({ left }) => left)) / width, 0),
      to: Math.min(Math.max(...rooms.map(({ right }) => right)) / width, 1),
    };
  });
}
