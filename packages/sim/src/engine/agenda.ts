import { addTwoPart, isAfter, multiplyExactly, type TwoPart } from '../core/two-part.ts';
import type { Reactor } from '../device/contract.ts';
import { type Source, sourceOf } from '../signal/source.ts';
import type { Wave } from '../signal/wave.ts';
import { type AgendaStanding, difference, NEVER, pairOf, timeOf } from './agenda-standing.ts';

const START: TwoPart = { high: 0, low: 0 };

/** An event that a reactor has scheduled. */
interface Due {
  /** When, counted from the anchor (s). */
  time: TwoPart;
  readonly event: number;
}

/** One line of the agenda: something that happens at known times. */
interface Line {
  /** When next, counted from the anchor (s). */
  due: TwoPart;
}

/**
 * All that happens at known times: corners of inputs, timetables of reactors, and events that reactors have scheduled.
 * At equal times inputs come first, then timetables, then scheduled events, each in the order of the parts.
 *
 * It keeps the time as well: an anchor, which is the last thing on the agenda that happened, and a clock that counts from
 * there. What comes next is known by its distance from the anchor, not by its date: a run that repeats itself then repeats
 * every bit of it, whatever the date. Corner k of an input is dated from k, so that nothing accumulates.
 */
export class Agenda {
  readonly sources: readonly Source[];
  /** Time of the last thing on the agenda that happened (s). */
  private anchor: TwoPart = START;
  /** Time since the anchor (s). */
  private clockHigh = 0;
  private clockLow = 0;
  private readonly lines: Line[] = [];
  private readonly timetables: { index: number }[] = [];
  private readonly slots: { reactor: number; waiting: Due[] }[] = [];
  private readonly firstSlot: number[] = [];
  /** The input whose corner the anchor is; -1 where it is something else. */
  private anchoredAt = -1;
  private first = 0;
  private dueHigh = Infinity;
  private dueLow = 0;

  constructor(
    waves: readonly Wave[],
    private readonly reactors: readonly Reactor[],
  ) {
    this.sources = waves.map(sourceOf);
    for (const source of this.sources) this.lines.push({ due: source.next });
    reactors.forEach((_, index) => {
      this.timetables.push({ index: 0 });
      this.lines.push({ due: this.entry(index, 0) });
    });
    reactors.forEach((reactor, index) => {
      this.firstSlot.push(this.slots.length);
      for (let slot = 0; slot < reactor.slots; slot++) {
        this.slots.push({ reactor: index, waiting: [] });
        this.lines.push({ due: NEVER });
      }
    });
    this.pickFirst();
  }

  /** Now, in two parts (s). */
  get now(): TwoPart {
    return addTwoPart(this.anchor, { high: this.clockHigh, low: this.clockLow });
  }

  /** Time from now to the next line due (s); Infinity when there is none. */
  get toNext(): number {
    return this.dueHigh - this.clockHigh - this.clockLow + this.dueLow;
  }

  /** Time since an input has passed its last corner (s), for one that has passed one or has begun on a slope. */
  sinceCorner(input: number): number {
    const { spacing } = this.sources[input]!;
    const { due } = this.lines[input]!;
    return spacing.high - due.high + this.clockHigh + (spacing.low - due.low + this.clockLow);
  }

  /** Lets time pass (s), at most up to the next line due. */
  pass(length: number): void {
    // An unevaluated sum of two doubles (Knuth), so that ten million steps lose nothing.
    const step = length + this.clockLow;
    const sum = this.clockHigh + step;
    const part = sum - this.clockHigh;
    this.clockLow = this.clockHigh - (sum - part) + (step - part);
    this.clockHigh = sum;
  }

  /** Index of the input whose corner is next, or -1 when the next is an event of a reactor. */
  get nextInput(): number {
    return this.first < this.sources.length ? this.first : -1;
  }

  /** Steps the next input past its corner; now is the time of the corner. */
  advanceInput(): void {
    const source = this.sources[this.first]!;
    this.moveAnchor(source.next);
    this.anchoredAt = this.first;
    source.advance();
    this.lines[this.first]!.due = source.spacing;
    this.pickFirst();
  }

  /** Takes the next reactor event off the agenda; now is the time that it was set for. */
  takeEvent(): { readonly reactor: number; readonly event: number } {
    const line = this.lines[this.first]!;
    const at = this.first - this.sources.length;
    let taken: { reactor: number; event: number };
    if (at < this.timetables.length) {
      const { timetable } = this.reactors[at]!;
      const table = this.timetables[at]!;
      const { at: time, event } = timetable[table.index]!;
      this.moveAnchor({ high: time, low: 0 });
      taken = { reactor: at, event };
      table.index++;
      line.due = difference(this.entry(at, table.index), this.anchor);
    } else {
      this.moveAnchor(addTwoPart(this.anchor, line.due));
      const slot = this.slots[at - this.timetables.length]!;
      taken = { reactor: slot.reactor, event: slot.waiting.shift()!.event };
      line.due = slot.waiting[0]?.time ?? NEVER;
    }
    this.pickFirst();
    return taken;
  }

  /** Schedules an event of a reactor `after` seconds from now. */
  schedule(reactor: number, slot: number, after: number, event: number): void {
    const at = this.firstSlot[reactor]! + slot;
    const waiting = this.slots[at]!.waiting;
    let time = addTwoPart({ high: this.clockHigh, low: this.clockLow }, { high: after, low: 0 });
    // First in, first out, also where a delay has just been made shorter.
    const last = waiting.at(-1);
    if (last && isAfter(last.time, time)) time = last.time;
    waiting.push({ time, event });
    this.lines[this.sources.length + this.timetables.length + at]!.due = waiting[0]!.time;
    this.pickFirst();
  }

  /** Empties a slot. */
  cancel(reactor: number, slot: number): void {
    const at = this.firstSlot[reactor]! + slot;
    if (this.slots[at]!.waiting.length === 0) return;
    this.slots[at]!.waiting.length = 0;
    this.lines[this.sources.length + this.timetables.length + at]!.due = NEVER;
    this.pickFirst();
  }

  /** Whether the last thing that happened was the corner of an input that repeats itself, just now. */
  get atRepeatingCorner(): boolean {
    return this.clockHigh === 0 && this.anchoredAt >= 0 && this.sources[this.anchoredAt]!.repeats > 0;
  }

  /** Whether any input repeats itself. */
  get hasRepeatingInputs(): boolean {
    return this.sources.some((source) => source.repeats > 0 && source.cornersLeft > 0);
  }

  /** What of the agenda has to be the same for a run to be where it was a period ago, bit for bit. */
  phase(): number[] {
    const phase: number[] = [];
    this.sources.forEach((source, j) => {
      const { high, low } = this.lines[j]!.due;
      if (source.repeats > 0 && high !== Infinity) phase.push(source.mark % source.repeats, high, low);
    });
    for (const { waiting } of this.slots) {
      phase.push(waiting.length);
      for (const { time, event } of waiting) phase.push(time.high, time.low, event);
    }
    const counted = phase.length > this.slots.length;
    if (counted) phase.push(this.anchoredAt, this.clockHigh, this.clockLow);
    return phase;
  }

  /** Time from now (s) to the first thing that does not repeat itself. */
  get toSingular(): number {
    let least = Infinity;
    for (let i = 0; i < this.sources.length + this.timetables.length; i++) {
      if (i < this.sources.length && this.sources[i]!.repeats > 0) continue;
      least = Math.min(least, this.lines[i]!.due.high - this.clockHigh);
    }
    return least;
  }

  /** Corners that each input has passed. */
  get marks(): number[] {
    return this.sources.map((source) => source.mark);
  }

  /** The most periods of the run that all inputs last for, when they have passed so many corners in one. */
  periodsLeft(corners: readonly number[]): number {
    return this.sources.reduce((least, source, j) => {
      return corners[j]! > 0 ? Math.min(least, Math.floor(source.cornersLeft / corners[j]!)) : least;
    }, Infinity);
  }

  /**
   * Goes on by so many periods of the run, each with so many corners of each input and as long as given (s); tells how
   * much later it is then. Where corners date the anchor, they date the new one.
   */
  skip(times: number, corners: readonly number[], period: TwoPart): TwoPart {
    const before = this.anchor;
    this.sources.forEach((source, j) => {
      if (corners[j]! > 0) source.seek(source.mark + times * corners[j]!);
    });
    if (this.atRepeatingCorner) this.anchor = this.sources[this.anchoredAt]!.since;
    else {
      const product = multiplyExactly(period.high, times);
      this.anchor = addTwoPart(before, addTwoPart(product, { high: period.low * times, low: 0 }));
    }
    this.sources.forEach((source, j) => {
      if (source.repeats === 0) this.lines[j]!.due = difference(source.next, this.anchor);
    });
    this.timetables.forEach((table, r) => {
      this.lines[this.sources.length + r]!.due = difference(this.entry(r, table.index), this.anchor);
    });
    this.pickFirst();
    return difference(this.anchor, before);
  }

  /** Where the agenda stands, as plain data. */
  standing(): AgendaStanding {
    const inputs = this.sources.length;
    const dues = this.lines.map(({ due }) => pairOf(due));
    return {
      anchor: [this.anchor.high, this.anchor.low],
      clock: [this.clockHigh, this.clockLow],
      marks: this.marks,
      corners: dues.slice(0, inputs),
      timetables: this.timetables.map((table) => table.index),
      entries: dues.slice(inputs, inputs + this.timetables.length),
      slots: this.slots.map((slot) => slot.waiting.map(({ time, event }) => [time.high, time.low, event] as const)),
    };
  }

  /** Takes up a standing of an agenda of the same program. */
  resume(standing: AgendaStanding): void {
    this.takeUp(standing);
    this.sources.forEach((source, j) => {
      source.seek(standing.marks[j]!);
      this.lines[j]!.due = timeOf(standing.corners[j]!);
    });
    this.timetables.forEach((table, r) => {
      table.index = standing.timetables[r]!;
      this.lines[this.sources.length + r]!.due = timeOf(standing.entries[r]!);
    });
    this.pickFirst();
  }

  /** The same for other waves and timetables: they go to where they are now, and what they hold before now is over. */
  resumeAnew(standing: AgendaStanding): void {
    this.takeUp(standing);
    const { now } = this;
    this.sources.forEach((source, j) => {
      source.seekTime(now);
      this.lines[j]!.due = difference(source.next, this.anchor);
    });
    this.timetables.forEach((table, r) => {
      table.index = this.reactors[r]!.timetable.filter(({ at }) => at <= now.high).length;
      this.lines[this.sources.length + r]!.due = difference(this.entry(r, table.index), this.anchor);
    });
    this.pickFirst();
  }

  private takeUp(standing: AgendaStanding): void {
    this.anchor = timeOf(standing.anchor);
    [this.clockHigh, this.clockLow] = standing.clock;
    this.slots.forEach((slot, i) => {
      slot.waiting = standing.slots[i]!.map(([high, low, event]) => ({ time: { high, low }, event }));
      this.lines[this.sources.length + this.timetables.length + i]!.due = slot.waiting[0]?.time ?? NEVER;
    });
  }

  /** Date of an entry of a reactor's timetable. */
  private entry(reactor: number, index: number): TwoPart {
    const entry = this.reactors[reactor]!.timetable[index];
    return entry ? { high: entry.at, low: 0 } : NEVER;
  }

  /** Puts the anchor to the line that is first, whose date is given: the clock starts anew there. */
  private moveAnchor(date: TwoPart): void {
    const { due } = this.lines[this.first]!;
    for (const line of this.lines) line.due = difference(line.due, due);
    for (const { waiting } of this.slots) {
      for (let i = 0; i < waiting.length; i++) waiting[i]!.time = difference(waiting[i]!.time, due);
    }
    this.anchor = date;
    this.anchoredAt = -1;
    this.clockHigh = 0;
    this.clockLow = 0;
  }

  private pickFirst(): void {
    const lines = this.lines;
    let first = 0;
    for (let i = 1; i < lines.length; i++) if (isAfter(lines[first]!.due, lines[i]!.due)) first = i;
    this.first = first;
    const { high, low } = lines.length > 0 ? lines[first]!.due : NEVER;
    this.dueHigh = high;
    this.dueLow = low;
  }
}
