import { placeColumns } from './columns.ts';
import { describeCircuit } from './description.ts';
import { drawSide } from './draw-side.ts';
import { type Drawing, type NetName, type PlacedBox, type PlacedPin, SYMBOL_REACH } from './drawing.ts';
import type { Ink } from './ink.ts';
import { GROUND } from './levels.ts';
import { linesOf, placeNames } from './net-names.ts';
import { roomsOf, textWidth } from './room.ts';
import type { Shape, TimerShape } from './shape.ts';
import { BOX_TOP, FIRST_PIN, leftNets, netsRightOfBox, PIN_GAP, pinsOn, placeSide, RAIL_Y, type Side } from './side.ts';
import { netsOf, type Stage } from './stages.ts';

/*
 * Every net is a level line, supply at the top, ground at the foot, and every part an upright symbol between two of
 * them. The timer is a box that the lines run into: inputs on its left, the output on its right, supply above, ground
 * below. Parts that hang on the output alone stand right of the box, all others left of it.
 */

const BOX_WIDTH = 154;
const BOX_MARGIN = 56;
/** From the box to the nearest column, beside the longest name of a net. */
const NAME_ROOM = 20;
/** Below the last pin: room for the timer's name and the pins at the lower edge, and from there to ground. */
const BOX_FOOT = 66;
const GROUND_GAP = 22;
const LEFT_MARGIN = 14;
/** The wire of an output that leads nowhere. */
const BARE_OUTPUT = 40;
/** Room for a voltage beside a name. */
const NAME_LEAST = 56;

/** Lays out one stage of a circuit. */
export function placeStage(stage: Stage): Drawing {
  return new Placement(stage).drawing();
}

class Placement {
  private readonly ink: Ink = { wires: [], dots: [], symbols: [] };
  private readonly timer: TimerShape | undefined;
  private readonly shapes: readonly Shape[];
  private readonly rail: string | undefined;
  private readonly stage: Stage;

  constructor(stage: Stage) {
    this.stage = stage;
    this.timer = stage.timer;
    this.shapes = stage.shapes;
    this.rail = stage.timer?.pins['supply'] ?? stage.shapes.find((shape) => shape.kind === 'supply')?.ends[0];
  }

  drawing(): Drawing {
    const rightNets = netsRightOfBox(this.stage, this.rail);
    const onRight = (shape: Shape): boolean => netsOf(shape).some((net) => rightNets.has(net));
    const leftShapes = this.shapes.filter((shape) => !onRight(shape));
    const left = placeSide(leftShapes, leftNets(this.timer, this.rail, rightNets), this.timer, this.rail);
    const output = this.timer?.pins['output'];
    const outputRight = output !== undefined && rightNets.has(output);
    const right = placeSide(this.shapes.filter(onRight), outputRight ? [output] : [], this.timer, this.rail);
    const boxFoot = this.timer === undefined ? 0 : this.lastPin([left, right]) + BOX_FOOT + GROUND_GAP;
    const foot = Math.max(left.foot, right.foot, boxFoot);

    const leftColumns = placeColumns(left.chains, left.order, LEFT_MARGIN);
    const boxX = leftColumns.end + (this.timer === undefined ? 0 : this.nameRoom(left));
    const boxEnd = this.timer === undefined ? boxX : boxX + BOX_WIDTH;
    const rightStart = boxEnd + (right.chains.length > 0 ? BOX_MARGIN : 0);
    const rightColumns = placeColumns(right.chains, right.order, rightStart);
    const hasBareOutput = outputRight && right.chains.length === 0;
    const width = Math.max(rightColumns.end, boxEnd + (hasBareOutput ? BARE_OUTPUT + NAME_LEAST : 0)) + LEFT_MARGIN;

    const box = this.timer === undefined ? undefined : this.placeBox(this.timer, boxX, [left, right], foot);
    const frame = { timer: this.timer, rail: this.rail, foot };
    const joints = [
      drawSide(this.ink, leftColumns.columns, left, { ...frame, boxEdge: boxX, isLeft: true }),
      drawSide(this.ink, rightColumns.columns, right, { ...frame, boxEdge: boxEnd, isLeft: false }),
    ];
    if (hasBareOutput)
      this.ink.wires.push({ net: output, path: `M${boxEnd} ${right.y.get(output) ?? RAIL_Y}h${BARE_OUTPUT}` });
    this.drawRails(foot, joints);
    const names = this.names([left, right], box);
    // What hangs from ground itself stands below its line.
    const lowest = Math.max(0, ...this.ink.symbols.map(({ y }) => y + SYMBOL_REACH + 8));
    return {
      width,
      height: Math.max(foot + 26, lowest),
      ...this.ink,
      names,
      box,
      description: describeCircuit(this.shapes, this.timer),
    };
  }

  /** Where the pins at the sides of the box are: net, height, and pin names from there downwards. */
  private sidePins(side: Side): { readonly net: string; readonly y: number; readonly names: readonly string[] }[] {
    return [...side.y]
      .filter(([net]) => net !== this.rail && net !== GROUND)
      .map(([net, y]) => ({ net, y, names: pinsOn(this.timer, net) }))
      .filter(({ names }) => names.length > 0);
  }

  private placeBox(timer: TimerShape, x: number, sides: readonly Side[], foot: number): PlacedBox {
    const pins: PlacedPin[] = [];
    const top = RAIL_Y + BOX_TOP;
    const last = this.lastPin(sides);
    for (const [index, side] of sides.entries()) {
      const isLeft = index === 0;
      const edge = isLeft ? x : x + BOX_WIDTH;
      for (const { net, y, names } of this.sidePins(side)) {
        for (const [row, name] of names.entries()) {
          const at = y + row * PIN_GAP;
          pins.push({ name, x: edge + (isLeft ? 7 : -7), y: at + 4, anchor: isLeft ? 'start' : 'end' });
          if (row === 0) continue;
          this.ink.wires.push({ net, path: `M${edge} ${at}h-12V${y}` });
          this.ink.dots.push({ net, x: edge - 12, y });
        }
      }
    }
    const bottom = Math.max(last + BOX_FOOT, Math.min(foot - GROUND_GAP, top + 150));
    this.edgePins(timer, this.rail, x, { edge: top, text: top + 15, rail: RAIL_Y }, pins);
    this.edgePins(timer, GROUND, x, { edge: bottom, text: bottom - 7, rail: foot }, pins);
    const nameY = last + 26;
    return { part: timer.name, family: timer.family, x, y: top, width: BOX_WIDTH, height: bottom - top, pins, nameY };
  }

  /** Room for the names of nets between the last column and the box. */
  private nameRoom(side: Side): number {
    const pinned = [...side.y.keys()].filter(
      (net) => net !== this.rail && net !== GROUND && pinsOn(this.timer, net).length > 0,
    );
    return NAME_ROOM + Math.max(NAME_LEAST, ...pinned.map((net) => textWidth(net)));
  }

  private lastPin(sides: readonly Side[]): number {
    const rows = sides.flatMap((side) => this.sidePins(side).map(({ y, names }) => y + (names.length - 1) * PIN_GAP));
    return Math.max(RAIL_Y + BOX_TOP + FIRST_PIN, ...rows);
  }

  /** Pins that leave the box upwards to the rail or downwards to ground. */
  private edgePins(
    timer: TimerShape,
    net: string | undefined,
    x: number,
    y: { readonly edge: number; readonly text: number; readonly rail: number },
    pins: PlacedPin[],
  ): void {
    if (net === undefined) return;
    const names = Object.keys(timer.pins).filter((pin) => timer.pins[pin] === net);
    spread(names.length, x).forEach((at, index) => {
      pins.push({ name: names[index] ?? '', x: at, y: y.text, anchor: 'middle' });
      this.ink.wires.push({ net, path: `M${at} ${y.edge}V${y.rail}` });
      this.ink.dots.push({ net, x: at, y: y.rail });
    });
  }

  private drawRails(foot: number, joints: readonly ReadonlyMap<string, number[]>[]): void {
    const pinXs = (y: number): number[] => this.ink.dots.filter((dot) => dot.y === y).map(({ x }) => x);
    for (const [net, y] of [
      [this.rail, RAIL_Y],
      [GROUND, foot],
    ] as const) {
      if (net === undefined) continue;
      const parts = joints.flatMap((each) => each.get(net) ?? []);
      const pins = pinXs(y);
      const ends = [...parts, ...pins];
      if (ends.length === 0) continue;
      const [from, until] = [Math.min(...ends), Math.max(...ends)];
      this.ink.wires.push({ net, path: `M${from} ${y}H${until}` });
      const dots = this.ink.dots.filter((dot) => dot.y !== y || (dot.x > from && dot.x < until));
      this.ink.dots.splice(0, this.ink.dots.length, ...dots);
      this.ink.dots.push(...parts.filter((x) => x > from && x < until).map((x) => ({ net, x, y })));
    }
  }

  /** The names of all nets that have a line, those on pins first. */
  private names(sides: readonly Side[], box: PlacedBox | undefined): NetName[] {
    const levels = [...new Set(sides.flatMap(({ order }) => order))];
    const pinned = levels.filter((net) => pinsOn(this.timer, net).length > 0);
    const rails = new Map([
      [this.rail ?? GROUND, 'above' as const],
      [GROUND, 'below' as const],
    ]);
    const nets = [...new Set([...rails.keys(), ...pinned, ...levels])];
    return placeNames(nets, this.ink.wires.flatMap(linesOf), roomsOf({ symbols: this.ink.symbols, box }), rails);
  }
}

/** Places for pins along an upper or lower edge of the box. */
function spread(count: number, x: number): number[] {
  return Array.from({ length: count }, (_, index) => x + (BOX_WIDTH * (index + 0.5)) / count);
}
