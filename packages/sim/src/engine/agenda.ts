import { NumberMemory } from '../core/number-memory.ts';
import { addTwoPart, isAfter, multiplyExactly, tellSum, type TwoPart } from '../core/two-part.ts';
import type { Reactor } from '../device/contract.ts';
import { type Source, sourceOf } from '../signal/source.ts';
import type { Wave } from '../signal/wave.ts';
import { type AgendaStanding, difference, type Due, NEVER, pairOf, timeOf } from './agenda-standing.ts';
import { DueLines } from './due-lines.ts';

const START: TwoPart = { high: 0, low: 0 };

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
  /** Lines, things that happen at known times: the inputs, the timetables, the slots; times count from the anchor. */
  private readonly due: DueLines;
  private readonly timetables: readonly { index: number }[];
  private readonly slots: { reactor: number; waiting: Due[] }[] = [];
  private readonly firstSlot: number[] = [];
  /** The input whose corner the anchor is; -1 where it is something else. */
  private anchoredAt = -1;

  /** @param memory where it has its rows. */
  constructor(
    waves: readonly Wave[],
    private readonly reactors: readonly Reactor[],
    memory = new NumberMemory(),
  ) {
    const [timetablesFrom, slotsFrom] = [waves.length, waves.length + reactors.length];
    this.sources = waves.map(sourceOf);
    this.timetables = reactors.map(() => ({ index: 0 }));
    const ever: number[] = [];
    for (let j = 0; j < waves.length; j++) if (waves[j]!.shape !== 'constant') ever.push(j);
    for (let r = 0; r < reactors.length; r++) if (reactors[r]!.timetable.length > 0) ever.push(timetablesFrom + r);
    for (let reactor = 0; reactor < reactors.length; reactor++) {
      const first = this.slots.length;
      this.firstSlot.push(first);
      for (let line = first; line < first + reactors[reactor]!.slots; line++) {
        ever.push(slotsFrom + line);
        this.slots.push({ reactor, waiting: [] });
      }
    }
    this.due = new DueLines(slotsFrom + this.slots.length, ever, memory);
    for (let j = 0; j < waves.length; j++) this.due.set(j, this.sources[j]!.next);
    for (let r = 0; r < reactors.length; r++) this.due.set(timetablesFrom + r, this.entry(r, 0));
    this.due.pickFirst();
  }

  /** Now, in two parts (s). */
  get now(): TwoPart {
    return addTwoPart(this.anchor, { high: this.clockHigh, low: this.clockLow });
  }

  /** Tells a run what time it is, as `now`. */
  tellTime(run: { time: number; timeLow: number }): void {
    tellSum(this.anchor, this.clockHigh, this.clockLow, run);
  }

  /** Time from now to the next line due (s); Infinity when there is none. */
  get toNext(): number {
    return this.due.firstHigh - this.clockHigh - this.clockLow + this.due.firstLow;
  }

  /** Time since an input has passed its last corner (s), for one that has passed one or has begun on a slope. */
  sinceCorner(input: number): number {
    const { spacing } = this.sources[input]!;
    const due = this.due.at(input);
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
    return this.due.first < this.sources.length ? this.due.first : -1;
  }

  /** Steps the next input past its corner; now is the time of the corner. */
  advanceInput(): void {
    const input = this.due.first;
    const source = this.sources[input]!;
    this.moveAnchor(source.next);
    this.anchoredAt = input;
    source.advance();
    this.due.set(input, source.spacing);
    this.due.pickFirst();
  }

  /** Takes the next reactor event off the agenda; now is the time that it was set for. */
  takeEvent(): { readonly reactor: number; readonly event: number } {
    const line = this.due.first;
    const at = line - this.sources.length;
    let taken: { reactor: number; event: number };
    if (at < this.timetables.length) {
      const { timetable } = this.reactors[at]!;
      const table = this.timetables[at]!;
      const { at: time, event } = timetable[table.index]!;
      this.moveAnchor({ high: time, low: 0 });
      taken = { reactor: at, event };
      table.index++;
      this.due.set(line, difference(this.entry(at, table.index), this.anchor));
    } else {
      this.moveAnchor(addTwoPart(this.anchor, { high: this.due.firstHigh, low: this.due.firstLow }));
      const slot = this.slots[at - this.timetables.length]!;
      taken = { reactor: slot.reactor, event: slot.waiting.shift()!.event };
      this.due.set(line, slot.waiting[0]?.time ?? NEVER);
    }
    this.due.pickFirst();
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
    this.due.set(this.sources.length + this.timetables.length + at, waiting[0]!.time);
    this.due.pickFirst();
  }

  /** Empties a slot. */
  cancel(reactor: number, slot: number): void {
    const at = this.firstSlot[reactor]! + slot;
    if (this.slots[at]!.waiting.length === 0) return;
    this.slots[at]!.waiting.length = 0;
    this.due.set(this.sources.length + this.timetables.length + at, NEVER);
    this.due.pickFirst();
  }

  /** Whether the last thing that happened was the corner of an input that repeats itself, just now. */
  get atRepeatingCorner(): boolean {
    return this.clockHigh === 0 && this.anchoredAt >= 0 && this.sources[this.anchoredAt]!.repeats > 0;
  }

  /** Whether any input repeats itself. */
  get hasRepeatingInputs(): boolean {
    return this.sources.some((source) => source.cornersLeft > 0);
  }

  /** What of the agenda has to be the same for a run to be where it was a period ago, bit for bit. */
  phase(): number[] {
    const phase: number[] = [];
    this.sources.forEach((source, j) => {
      const { high, low } = this.due.at(j);
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
      least = Math.min(least, this.due.at(i).high - this.clockHigh);
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
      if (source.repeats === 0) this.due.set(j, difference(source.next, this.anchor));
    });
    this.timetables.forEach((table, r) => {
      this.due.set(this.sources.length + r, difference(this.entry(r, table.index), this.anchor));
    });
    this.due.pickFirst();
    return difference(this.anchor, before);
  }

  /** Where the agenda stands, as plain data. */
  standing(): AgendaStanding {
    const inputs = this.sources.length;
    const dues = Array.from({ length: inputs + this.timetables.length }, (_, line) => pairOf(this.due.at(line)));
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
      this.due.set(j, timeOf(standing.corners[j]!));
    });
    this.timetables.forEach((table, r) => {
      table.index = standing.timetables[r]!;
      this.due.set(this.sources.length + r, timeOf(standing.entries[r]!));
    });
    this.due.pickFirst();
  }

  /** The same for other waves and timetables: they go to where they are now, and what they hold before now is over. */
  resumeAnew(standing: AgendaStanding): void {
    this.takeUp(standing);
    const { now } = this;
    this.sources.forEach((source, j) => {
      source.seekTime(now);
      this.due.set(j, difference(source.next, this.anchor));
    });
    this.timetables.forEach((table, r) => {
      table.index = this.reactors[r]!.timetable.filter(({ at }) => at <= now.high).length;
      this.due.set(this.sources.length + r, difference(this.entry(r, table.index), this.anchor));
    });
    this.due.pickFirst();
  }

  private takeUp(standing: AgendaStanding): void {
    this.anchor = timeOf(standing.anchor);
    [this.clockHigh, this.clockLow] = standing.clock;
    this.slots.forEach((slot, i) => {
      slot.waiting = standing.slots[i]!.map(([high, low, event]) => ({ time: { high, low }, event }));
      this.due.set(this.sources.length + this.timetables.length + i, slot.waiting[0]?.time ?? NEVER);
    });
  }

  /** Date of an entry of a reactor's timetable. */
  private entry(reactor: number, index: number): TwoPart {
    const entry = this.reactors[reactor]!.timetable[index];
    return entry ? { high: entry.at, low: 0 } : NEVER;
  }

  /** Puts the anchor to the line that is first, whose date is given: the clock starts anew there. */
  private moveAnchor(date: TwoPart): void {
    const { due } = this;
    const first = { high: due.firstHigh, low: due.firstLow };
    due.moveToFirst();
    for (const { waiting } of this.slots) {
      for (let i = 0; i < waiting.length; i++) waiting[i]!.time = difference(waiting[i]!.time, first);
    }
    this.anchor = date;
    this.anchoredAt = -1;
    this.clockHigh = 0;
    this.clockLow = 0;
  }
}
