import type { TwoPart } from '../core/two-part.ts';
import { addExactly } from '../core/two-part.ts';
import type { Reactor } from '../device/contract.ts';
import { type Source, sourceOf } from '../signal/source.ts';
import type { Wave } from '../signal/wave.ts';

const NEVER: TwoPart = { high: Infinity, low: 0 };

interface Due {
  readonly time: TwoPart;
  readonly event: number;
}

/** Where an agenda stands: corners passed by each input, entries passed of each timetable, events waiting in each slot. */
export interface AgendaStanding {
  readonly marks: readonly number[];
  readonly timetables: readonly number[];
  /** Time in two parts (s), and event. */
  readonly slots: readonly (readonly (readonly [number, number, number])[])[];
}

/** One line of the agenda: something that happens at known times. */
interface Line {
  next: TwoPart;
}

/**
 * All that happens at known times: corners of inputs, timetables of reactors, and events that reactors have scheduled.
 * At equal times inputs come first, then timetables, then scheduled events, each in the order of the parts.
 */
export class Agenda {
  readonly sources: readonly Source[];
  /** Time of the next line due. */
  next: TwoPart = NEVER;
  private readonly lines: Line[] = [];
  private readonly timetables: { reactor: number; index: number }[] = [];
  private readonly slots: { reactor: number; waiting: Due[] }[] = [];
  private readonly firstSlot: number[] = [];
  private first = 0;

  constructor(
    waves: readonly Wave[],
    private readonly reactors: readonly Reactor[],
  ) {
    this.sources = waves.map(sourceOf);
    for (const source of this.sources) this.lines.push({ next: source.next });
    reactors.forEach((reactor, index) => {
      this.timetables.push({ reactor: index, index: 0 });
      this.lines.push({ next: this.timetableTime(index, 0) });
    });
    reactors.forEach((reactor, index) => {
      this.firstSlot.push(this.slots.length);
      for (let slot = 0; slot < reactor.slots; slot++) {
        this.slots.push({ reactor: index, waiting: [] });
        this.lines.push({ next: NEVER });
      }
    });
    this.pickFirst();
  }

  /** Index of the input whose corner is next, or -1 when the next is an event of a reactor. */
  get nextInput(): number {
    return this.first < this.sources.length ? this.first : -1;
  }

  /** Steps the next input past its corner. */
  advanceInput(): void {
    const source = this.sources[this.first]!;
    source.advance();
    this.lines[this.first]!.next = source.next;
    this.pickFirst();
  }

  /** Takes the next reactor event off the agenda. */
  takeEvent(): { readonly reactor: number; readonly event: number } {
    const at = this.first - this.sources.length;
    const line = this.lines[this.first]!;
    let taken: { reactor: number; event: number };
    if (at < this.timetables.length) {
      const table = this.timetables[at]!;
      taken = { reactor: table.reactor, event: this.reactors[table.reactor]!.timetable[table.index]!.event };
      table.index++;
      line.next = this.timetableTime(table.reactor, table.index);
    } else {
      const slot = this.slots[at - this.timetables.length]!;
      taken = { reactor: slot.reactor, event: slot.waiting.shift()!.event };
      line.next = slot.waiting[0]?.time ?? NEVER;
    }
    this.pickFirst();
    return taken;
  }

  /** Schedules an event of a reactor `after` seconds from the given time. */
  schedule(reactor: number, slot: number, high: number, low: number, after: number, event: number): void {
    const at = this.firstSlot[reactor]! + slot;
    const sum = addExactly(high, after);
    const waiting = this.slots[at]!.waiting;
    let time = addExactly(sum.high, sum.low + low);
    // First in, first out, also where a delay has just been made shorter.
    const last = waiting.at(-1);
    if (last && (last.time.high > time.high || (last.time.high === time.high && last.time.low > time.low))) {
      time = last.time;
    }
    waiting.push({ time, event });
    this.lines[this.sources.length + this.timetables.length + at]!.next = waiting[0]!.time;
    this.pickFirst();
  }

  /** Empties a slot. */
  cancel(reactor: number, slot: number): void {
    const at = this.firstSlot[reactor]! + slot;
    if (this.slots[at]!.waiting.length === 0) return;
    this.slots[at]!.waiting.length = 0;
    this.lines[this.sources.length + this.timetables.length + at]!.next = NEVER;
    this.pickFirst();
  }

  /** Where the agenda stands, as plain data. */
  standing(): AgendaStanding {
    return {
      marks: this.sources.map((source) => source.mark),
      timetables: this.timetables.map((table) => table.index),
      slots: this.slots.map((slot) => slot.waiting.map(({ time, event }) => [time.high, time.low, event] as const)),
    };
  }

  /** Takes up a standing of an agenda of the same program. */
  resume(standing: AgendaStanding): void {
    this.sources.forEach((source, j) => source.seek(standing.marks[j]!));
    this.takeUp(standing);
  }

  /** The same at a time for other waves: the inputs go to where their own waves are then. */
  resumeAt(standing: AgendaStanding, time: TwoPart): void {
    for (const source of this.sources) source.seekTime(time);
    this.takeUp(standing);
  }

  private takeUp(standing: AgendaStanding): void {
    this.sources.forEach((source, j) => (this.lines[j]!.next = source.next));
    this.timetables.forEach((table, r) => {
      table.index = standing.timetables[r]!;
      this.lines[this.sources.length + r]!.next = this.timetableTime(r, table.index);
    });
    this.slots.forEach((slot, i) => {
      slot.waiting = standing.slots[i]!.map(([high, low, event]) => ({ time: { high, low }, event }));
      this.lines[this.sources.length + this.timetables.length + i]!.next = slot.waiting[0]?.time ?? NEVER;
    });
    this.pickFirst();
  }

  private timetableTime(reactor: number, index: number): TwoPart {
    const entry = this.reactors[reactor]!.timetable[index];
    return entry ? { high: entry.at, low: 0 } : NEVER;
  }

  private pickFirst(): void {
    const lines = this.lines;
    let first = 0;
    for (let i = 1; i < lines.length; i++) {
      const one = lines[i]!.next;
      const best = lines[first]!.next;
      if (one.high < best.high || (one.high === best.high && one.low < best.low)) first = i;
    }
    this.first = first;
    this.next = lines.length > 0 ? lines[first]!.next : NEVER;
  }
}
