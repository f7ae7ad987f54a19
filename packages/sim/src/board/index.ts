import { astable } from './astable.ts';
import { frequencyDivider } from './frequency-divider.ts';
import { monostable } from './monostable.ts';
import type { ReadyBoard } from './ready-board.ts';
import { touchSwitch } from './touch-switch.ts';

export type { BoardLayout, Direction, PartPlace, TimerPlace } from './board-layout.ts';
export { type NamedValue, type Prediction, type PredictedValue, predictBoard, type ReadyBoard } from './ready-board.ts';

/** All ready boards by the name that documents use. */
export const readyBoards: ReadonlyMap<string, ReadyBoard> = new Map(
  [frequencyDivider, astable, monostable, touchSwitch].map((board) => [board.name, board]),
);
