import type { Circuit, Part } from '../circuit/description.ts';
import { Groups } from '../circuit/groups.ts';
import { GROUND } from '../circuit/names.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { RunEvent } from '../trace/event.ts';
import type { Observer } from '../trace/observer.ts';
import { runCircuit } from './simulate.ts';

/** Changes of outputs beyond this number are not compared. */
const MOST_CHANGES = 200_000;
/** Two runs that come to the same do so to rounding, as a share of the run. */
const SAME_TIME = 1e-9;

/** A change of a timer's output: when (s), of which timer, and to what. */
interface OutputChange {
  readonly time: number;
  readonly part: string;
  readonly high: boolean;
}

/** Keeps the changes of all timers' outputs. */
export class OutputHistory implements Observer {
  readonly ignoresPieces = true;
  readonly changes: OutputChange[] = [];
  /** True when there were more than can be kept. */
  cut = false;

  event({ kind, part, time }: RunEvent): void {
    if (kind !== 'outputHigh' && kind !== 'outputLow') return;
    if (this.changes.length >= MOST_CHANGES) this.cut = true;
    else this.changes.push({ time, part, high: kind === 'outputHigh' });
  }
}

/** Timers of a circuit that are to be looked at from both starts. */
function undecided(circuit: Circuit): Part[] {
  return circuit.parts.filter(({ kind, values }) => kind === 'timer' && values['start'] === 'both');
}

/**
 * The circuit with all its timers of `start: "both"` set, where a run takes them as cleared; undefined where there are
 * none.
 */
export function otherStart(circuit: Circuit): Circuit | undefined {
  const timers = new Set(undecided(circuit));
  if (timers.size === 0) return undefined;
  const parts = circuit.parts.map((part) =>
    timers.has(part) ? { ...part, values: { ...part.values, start: 'set' } } : part,
  );
  return { ...circuit, parts };
}

/** What both starts of a circuit come to. */
export interface StartComparison {
  /** From when on (s) no output differs any more; 0 where none ever did, null where some differ at the end. */
  readonly alikeFrom: number | null;
  /** Timers whose outputs differ at some time, in the order of the parts. */
  readonly timers: readonly string[];
  /** The same in a sentence. */
  readonly sentence: string;
}

/** Compares the outputs of two runs up to `until` (s), of a circuit and of its {@link otherStart}. */
export function compareStarts(
  circuit: Circuit,
  cleared: OutputHistory,
  set: OutputHistory,
  until: number,
): StartComparison {
  const names = undecided(circuit).map(({ name }) => name);
  const both = `${names.join(' and ')} cleared or set at the start`;
  if (cleared.cut || set.cut) {
    const sentence = `With ${both}: too many changes of outputs to compare, more than ${MOST_CHANGES}. Make until shorter.`;
    return { alikeFrom: null, timers: names, sentence };
  }
  const timers = circuit.parts.filter(({ kind }) => kind === 'timer');
  const found = timers.map(({ name, values }) => {
    const first = levelsOf(cleared, name, values['start'] === 'set');
    const second = levelsOf(set, name, values['start'] !== 'cleared');
    return { name, last: lastDifference(first, second, until * SAME_TIME) };
  });
  const differing = found.filter(({ last }) => last > 0).map(({ name }) => name);
  const last = Math.max(0, ...found.map((each) => each.last));
  const text = (seconds: number): string => formatQuantity(seconds, 's');
  if (last === Number.POSITIVE_INFINITY) {
    const ends = found.filter((each) => each.last === Number.POSITIVE_INFINITY).map(({ name }) => name);
    const sentence = `With ${both} it does not come to the same by ${text(until)}: the ${ends.length === 1 ? 'output' : 'outputs'} of ${ends.join(' and ')} still ${ends.length === 1 ? 'differs' : 'differ'}.`;
    return { alikeFrom: null, timers: differing, sentence };
  }
  const sentence =
    last === 0
      ? `With ${both}, every output does the same from the start on.`
      : `With ${both}, both end alike after ${text(last)}; until then the output of ${differing.join(' and ')} differs.`;
  return { alikeFrom: last, timers: differing, sentence };
}

/** A timer's output at 0 and its changes after that. */
interface Levels {
  readonly start: boolean;
  readonly changes: readonly OutputChange[];
}

function levelsOf(history: OutputHistory, timer: string, set: boolean): Levels {
  const all = history.changes.filter(({ part }) => part === timer);
  const after = all.findIndex(({ time }) => time > 0);
  const changes = after < 0 ? [] : all.slice(after);
  return { start: all[all.length - changes.length - 1]?.high ?? set, changes };
}

/** The last time at which two outputs differ; 0 where they never do, Infinity where they do at the end. */
function lastDifference(a: Levels, b: Levels, tolerance: number): number {
  const level = ({ start, changes }: Levels): boolean => changes.at(-1)?.high ?? start;
  if (level(a) !== level(b)) return Number.POSITIVE_INFINITY;
  let [i, j] = [a.changes.length - 1, b.changes.length - 1];
  while (i >= 0 && j >= 0 && Math.abs(a.changes[i]!.time - b.changes[j]!.time) <= tolerance) {
    i--;
    j--;
  }
  // Past the changes that are the same, the later of the two that are not is where they last differed.
  const last = Math.max(a.changes[i]?.time ?? 0, b.changes[j]?.time ?? 0);
  // Nothing the same since, and changes go on: they only happen to stand alike at the end.
  const settled = i < a.changes.length - 1 || j < b.changes.length - 1;
  const busy = Math.min(a.changes.length, b.changes.length) > 1;
  return last > 0 && !settled && busy ? Number.POSITIVE_INFINITY : last;
}

/**
 * The timers that end up differently when the latches settle in the opposite order at time 0: a race that a real board
 * decides by chance. Empty where the order of the parts does not matter.
 */
export function powerUpRace(circuit: Circuit): string[] {
  const timers = circuit.parts.filter(({ kind }) => kind === 'timer');
  if (!mayMeet(circuit, timers)) return [];
  const backwards = timers.toReversed();
  const parts = circuit.parts.map((part) => (part.kind === 'timer' ? backwards.shift()! : part));
  const [first, second] = [circuit, { ...circuit, parts }].map((each) => {
    const history = new OutputLatches();
    runCircuit(each, { until: 0, observers: [history] });
    return history.set;
  });
  return timers.map(({ name }) => name).filter((name) => first!.get(name) !== second!.get(name));
}

/** Whether two timers act upon each other at all: over some net that no supply holds without resistance. */
function mayMeet(circuit: Circuit, timers: readonly Part[]): boolean {
  const held = new Set([GROUND]);
  for (const { kind, nets, values } of circuit.parts) {
    if (kind === 'supply' && values['resistance'] === 0 && nets['minus'] === GROUND) held.add(nets['plus']!);
  }
  const groups = new Groups();
  for (const { name, nets } of circuit.parts) {
    for (const net of Object.values(nets)) if (!held.has(net)) groups.join(`part ${name}`, `net ${net}`);
  }
  const apart = new Set(timers.map(({ name }) => groups.representative(`part ${name}`)));
  return apart.size < timers.length;
}

/** A race in a sentence, with the timers that {@link powerUpRace} found; undefined where it found none. */
export function raceWords(timers: readonly string[]): string | undefined {
  if (timers.length === 0) return undefined;
  return `At power-up ${timers.join(' and ')} race: this run lets the latches settle in the order of the parts, in the opposite order they end up the other way. A real board decides by chance; hold RESET low while the supply rises, or state start.`;
}

/** Keeps the last change of every latch. */
class OutputLatches implements Observer {
  readonly ignoresPieces = true;
  readonly set = new Map<string, boolean>();

  event({ kind, part }: RunEvent): void {
    if (kind === 'set' || kind === 'cleared') this.set.set(part, kind === 'set');
  }
}
