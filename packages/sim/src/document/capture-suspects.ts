import { type Part } from '../circuit/description.ts';
import { GROUND } from '../circuit/names.ts';
import { readPart } from '../circuit/read-part.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { timerFamilies } from '../device/families.ts';
import { isObject } from '../field/record.ts';
import type { FreeValue } from '../study/capture-fit.ts';
import type { Suspect, Trial } from '../study/capture-study.ts';
import { boardSubject, type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import { withValue } from './knob.ts';
import { shortName } from './short-name.ts';

/** Resistances tried for a leak or a load before the search (Ω): where they matter differs from board to board. */
const LEAK_TRIES = [1e4, 1e5, 1e6, 1e7, 1e8];
/** Resistors that are suspected, and whose exchange is thought through; of more, the first. */
const MOST_RESISTORS = 6;
/** Suspects of one kind; of boards with more parts, the first. */
const MOST_OF_A_KIND = 12;

/** A value to be estimated, from what the board states; undefined where it can never be more than 0. */
export function freeValue({ name, now, unit }: BoardValue): FreeValue | undefined {
  if (now !== null) return now > 0 ? { name, marked: now, tries: [] } : undefined;
  return unit === 'Ω' ? { name, marked: null, tries: LEAK_TRIES } : undefined;
}

/** What may stand behind a capture of a board, and trials that would tell. @param measured nets measured, as the cell names them. */
export function suspectsOf(board: GoodBoard, measured: readonly string[]): { suspects: Suspect[]; trials: Trial[] } {
  const own = board.circuit.parts.filter(({ name }) => name.startsWith(board.prefix));
  const ofKind = (kind: string): Part[] => own.filter((part) => part.kind === kind).slice(0, MOST_OF_A_KIND);
  const resistors = timingResistors(own).flatMap((part) => valueOf(shortName(part.name, board.prefix), board));
  const probed = measured.filter((net) => isLoadable(net, own, board.prefix)).slice(0, MOST_OF_A_KIND);
  const suspect = (kind: Suspect['kind'], part: Part, name: string): Suspect[] => {
    return valueOf(name, board).flatMap((value) => {
      const free = freeValue(value);
      if (free === undefined) return [];
      const tolerance = typeof part.values.tolerance === 'number' ? part.values.tolerance : null;
      const values = [...resistors.filter((resistor) => resistor.name !== value.name), value];
      const subject = boardSubject(board, values);
      return [{ kind, part: shortName(part.name, board.prefix), unit: value.unit, tolerance, free, subject }];
    });
  };
  const suspects = [
    ...ofKind('capacitor').flatMap((part) => suspect('capacitance', part, shortName(part.name, board.prefix))),
    ...ofKind('capacitor').flatMap((part) => suspect('leakage', part, `${shortName(part.name, board.prefix)}.leakage`)),
    ...timingResistors(own).flatMap((part) => suspect('resistance', part, shortName(part.name, board.prefix))),
    ...ofKind('supply').flatMap((part) => suspect('supply', part, shortName(part.name, board.prefix))),
    ...probed.flatMap((net) => probeSuspect(board, net, resistors)),
    ...ofKind('timer').flatMap((part) => familySuspects(board, part, resistors)),
  ];
  const doubled = resistors.flatMap(({ name, now }): Trial[] =>
    now === null || now <= 0 ? [] : [{ kind: 'resistance', part: name, value: 2 * now }],
  );
  return { suspects, trials: [...doubled, ...probed.map((part): Trial => ({ kind: 'probe', part, value: null }))] };
}

function valueOf(name: string, board: GoodBoard): BoardValue[] {
  const found = boardValue(name, board);
  return found.ok ? [found.value] : [];
}

/** Resistors that share a net other than ground with a capacitor: those that can set a time. */
function timingResistors(own: readonly Part[]): Part[] {
  const nets = new Set(
    own
      .filter(({ kind }) => kind === 'capacitor')
      .flatMap((part) => Object.values(part.nets).filter((net) => net !== GROUND)),
  );
  return own
    .filter(({ kind, nets: ends }) => kind === 'resistor' && Object.values(ends).some((net) => nets.has(net)))
    .slice(0, MOST_RESISTORS);
}

/** Whether an instrument's resistance can matter at a net: not where a supply, a source or an output holds it. */
function isLoadable(net: string, own: readonly Part[], prefix: string): boolean {
  return !own.some(
    ({ kind, nets }) =>
      (kind === 'supply' && [nets.plus, nets.minus].includes(prefix + net)) ||
      (kind === 'timer' && nets.output === prefix + net) ||
      net === GROUND,
  );
}

/** The board with an instrument at one of its nets. */
function probeSuspect(board: GoodBoard, net: string, resistors: readonly BoardValue[]): Suspect[] {
  const taken = new Set(board.circuit.parts.map(({ name }) => name));
  let name = 'instrument';
  while (taken.has(board.prefix + name)) name += '_';
  const data = { name, kind: 'probe', a: 'probed', b: GROUND, resistance: LEAK_TRIES.at(-1), capacitance: 0 };
  const { part } = readPart(data, standardKinds, { place: '', index: board.circuit.parts.length });
  if (part === undefined) return [];
  const added = { ...part, name: board.prefix + name, nets: { a: board.prefix + net, b: GROUND } };
  const probed: GoodBoard = {
    ...board,
    parts: [...board.parts, data],
    circuit: { ...board.circuit, parts: [...board.circuit.parts, added] },
  };
  return valueOf(name, probed).map((value) => ({
    kind: 'probe',
    part: net,
    unit: value.unit,
    tolerance: null,
    free: { name: value.name, marked: null, tries: LEAK_TRIES },
    subject: boardSubject(probed, [...resistors, value]),
  }));
}

/** The board with a timer of every other family in place of one of its timers. */
function familySuspects(board: GoodBoard, timer: Part, resistors: readonly BoardValue[]): Suspect[] {
  const name = shortName(timer.name, board.prefix);
  const index = board.parts.findIndex((part) => isObject(part) && part.name === name);
  const place = board.circuit.parts.indexOf(timer);
  return timerFamilies.flatMap((other): Suspect[] => {
    // Nobody can have bought the ideal one.
    if (other === timer.values.family || other === 'ideal') return [];
    const data = withValue(board.parts[index], ['family'], other);
    const { part } = readPart(data, standardKinds, { place: '', index: place });
    if (part === undefined) return [];
    const changed: GoodBoard = {
      ...board,
      parts: board.parts.with(index, data),
      circuit: {
        ...board.circuit,
        parts: board.circuit.parts.with(place, { ...part, name: timer.name, nets: timer.nets }),
      },
    };
    return [
      {
        kind: 'family',
        part: name,
        other,
        unit: null,
        tolerance: null,
        free: null,
        subject: boardSubject(changed, resistors),
      },
    ];
  });
}
