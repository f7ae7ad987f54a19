import { type Drawing, SYMBOL_REACH } from '#notebook/schematic/drawing.ts';
import { nameRooms } from '#notebook/schematic/net-names.ts';
import { boxRoom, overlap, type Room, symbolRooms } from '#notebook/schematic/room.ts';
import type { Stage } from '#notebook/schematic/stages.ts';

/*
 * Reads a drawing back as a person does: wires join where one ends on the other, and at dots; a plain crossing joins
 * nothing. What is read must be the circuit that was to be drawn.
 */

type Point = readonly [x: number, y: number];

interface Line {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** The groups of ends (`R1.0`, `R1.1`, `P1.side`, `U1.trigger`) that the circuit joins, in a fixed order. */
export function joinsAsMeant({ shapes, timer }: Stage): string[][] {
  const nets = new Map<string, string[]>();
  const add = (net: string | undefined, end: string): void => {
    if (net !== undefined) nets.set(net, [...(nets.get(net) ?? []), end]);
  };
  for (const { name, ends, side } of shapes) {
    add(ends[0], `${name}.0`);
    add(ends[1], `${name}.1`);
    add(side, `${name}.side`);
  }
  for (const [pin, net] of Object.entries(timer?.pins ?? {})) add(net, `${timer?.name}.${pin}`);
  return sorted([...nets.values()]);
}

/** The groups of ends that the wires of a drawing join, in a fixed order. */
export function joinsAsDrawn(drawing: Drawing, stage: Stage): string[][] {
  const lines = drawing.wires.flatMap(({ path }) => segments(path));
  const root = groups(
    lines,
    drawing.dots.map(({ x, y }): Point => [x, y]),
  );
  const found = new Map<Line | string, string[]>();
  for (const [end, point] of endsOf(drawing, stage)) {
    const line = lines.find((each) => lies(point, each));
    const group = line === undefined ? end : root(line);
    found.set(group, [...(found.get(group) ?? []), end]);
  }
  return sorted([...found.values()]);
}

/** Where the ends of all symbols and pins are. */
function endsOf({ symbols, box }: Drawing, { shapes }: Stage): [string, Point][] {
  const found: [string, Point][] = [];
  for (const { part, x, y, first } of symbols) {
    const shape = shapes.find((each) => each.name === part);
    const [dx, dy] = { up: [0, -1], down: [0, 1], left: [-1, 0], right: [1, 0] }[first] as [number, number];
    found.push([`${part}.0`, [x + dx * SYMBOL_REACH, y + dy * SYMBOL_REACH]]);
    if (shape?.ends[1] !== undefined) found.push([`${part}.1`, [x - dx * SYMBOL_REACH, y - dy * SYMBOL_REACH]]);
    if (shape?.side !== undefined) found.push([`${part}.side`, dx === 0 ? [x - 8, y] : [x, y + 8]]);
  }
  for (const { name, x, y, anchor } of box?.pins ?? []) {
    if (box === undefined) continue;
    const isUpper = y < box.y + 20;
    const point: Point =
      anchor === 'middle'
        ? [x, isUpper ? box.y : box.y + box.height]
        : [anchor === 'start' ? box.x : box.x + box.width, y - 4];
    found.push([`${box.part}.${name}`, point]);
  }
  return found;
}

/** For every line, the one that stands for all lines joined to it. */
function groups(lines: readonly Line[], dots: readonly Point[]): (line: Line) => Line {
  const parents = new Map(lines.map((line) => [line, line]));
  const root = (line: Line): Line => {
    const parent = parents.get(line) ?? line;
    return parent === line ? line : root(parent);
  };
  for (const a of lines) {
    for (const b of lines) {
      const isJoined =
        [[a.x1, a.y1] as const, [a.x2, a.y2] as const].some((end) => lies(end, b)) ||
        dots.some((dot) => lies(dot, a) && lies(dot, b));
      if (isJoined) parents.set(root(a), root(b));
    }
  }
  return root;
}

/** The straight pieces of a path of moves, level and upright lines. */
function segments(path: string): Line[] {
  const found: Line[] = [];
  let [x, y] = [0, 0];
  for (const [, command, text] of path.matchAll(/([MHVh])([-\d. ]+)/g)) {
    const numbers = (text ?? '').trim().split(/ +/).map(Number);
    const [x1, y1] = [x, y];
    if (command === 'M') [x = 0, y = 0] = numbers;
    else if (command === 'H') [x = 0] = numbers;
    else if (command === 'h') x += numbers[0] ?? 0;
    else [y = 0] = numbers;
    if (command === 'M') continue;
    found.push({ x1: Math.min(x1, x), y1: Math.min(y1, y), x2: Math.max(x1, x), y2: Math.max(y1, y) });
  }
  return found;
}

function lies([x, y]: Point, { x1, y1, x2, y2 }: Line): boolean {
  // Pixels are written in full; only the sums differ by rounding.
  const slack = 0.01;
  return x >= x1 - slack && x <= x2 + slack && y >= y1 - slack && y <= y2 + slack;
}

/** What lies on something else: symbols, texts, names of nets with their voltages, and wires under texts. */
export function clashes(drawing: Drawing): string[] {
  const { box } = drawing;
  const things: { readonly name: string; readonly of: string; readonly room: Room }[] = [
    ...(box === undefined ? [] : [{ name: `box ${box.part}`, of: box.part, room: boxRoom(box) }]),
    ...drawing.symbols.flatMap((symbol) => {
      const { body, texts } = symbolRooms(symbol);
      return [
        { name: symbol.part, of: symbol.part, room: body },
        ...texts.map((room) => ({ name: `text of ${symbol.part}`, of: symbol.part, room })),
      ];
    }),
    ...drawing.names.flatMap((name) =>
      nameRooms(name).map((room) => ({ name: `name of ${name.net}`, of: name.net, room })),
    ),
  ];
  const found = things.flatMap((one, index) =>
    things
      .slice(index + 1)
      .filter((other) => (one.of !== other.of || one.name === other.name) && overlap(one.room, other.room))
      .map((other) => `${one.name} and ${other.name}`),
  );
  const lines = drawing.wires.flatMap((wire) => segments(wire.path));
  const crossed = things
    .filter(({ name }) => name.includes(' of '))
    .filter(({ room }) =>
      lines.some(({ x1, y1, x2, y2 }) =>
        overlap(room, { left: x1 - 0.5, top: y1 - 0.5, right: x2 + 0.5, bottom: y2 + 0.5 }),
      ),
    )
    .map(({ name }) => `wire through ${name}`);
  return [...found, ...crossed];
}

function sorted(joined: readonly string[][]): string[][] {
  return joined.map((ends) => [...ends].sort()).sort((a, b) => (a[0] ?? '').localeCompare(b[0] ?? ''));
}

/** The nets that the wires joined to an end of a part say they are of. */
export function netsOfEnds(drawing: Drawing, stage: Stage): ReadonlyMap<string, ReadonlySet<string>> {
  const lines = drawing.wires.flatMap(({ net, path }) => segments(path).map((line) => ({ ...line, net })));
  return new Map(
    endsOf(drawing, stage).map(([end, point]) => [
      end,
      new Set(lines.filter((line) => lies(point, line)).map(({ net }) => net)),
    ]),
  );
}
