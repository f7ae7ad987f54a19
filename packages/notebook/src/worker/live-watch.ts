import type { Circuit } from '@two-thirds/sim/circuit';
import type { EventKind, Observer, RunEvent, SegmentView, SignalTable } from '@two-thirds/sim/trace';
import { buzzerTone, type SoundingSpan } from './buzzer-tone.ts';
import { type LiveEvent, MOST_CHANGES, MOST_TOLD, type OutputSlice, type PartSlice } from '../runtime/live-protocol.ts';

/** What people follow; corners of inputs and pieces of curves are left out. */
const telling: ReadonlySet<EventKind> = new Set([
  'close',
  'open',
  'triggerLow',
  'thresholdOver',
  'resetLow',
  'resetHigh',
  'set',
  'cleared',
  'outputHigh',
  'outputLow',
  'pulledIn',
  'droppedOut',
  'sounding',
  'silent',
  'snap',
  'fault',
]);

/** Parts whose current is watched: what they give, light or sound, follows it. */
const watchedKinds: ReadonlySet<string> = new Set(['led', 'speaker']);

/** A part below this current (A) is taken as giving nothing: some microamperes are not seen or heard (common practice, no source). */
const NOTHING = 1e-5;

/** Watches a live run slice by slice, in memory that does not depend on what happens. */
export class LiveWatch implements Observer {
  /** When the present interval of each timer began (s), while one runs; names as in the circuit. */
  readonly since = new Map<string, number>();
  /** Relays that are pulled in and buzzers that sound; names as in the circuit. */
  readonly active = new Set<string>();
  /** How many events that can be told of the slice has had. */
  happened = 0;
  private readonly parts: WatchedPart[];
  private readonly outputs: WatchedOutput[];
  private readonly buzzers: WatchedBuzzer[];
  /** Relays: what their contacts do without their armature is a bounce. */
  private readonly relays: ReadonlySet<string>;
  /** Timers whose latch is set when a run begins. */
  private readonly set: readonly string[];
  private readonly prefix: string;
  private readonly links: ReadonlyMap<string, string>;
  private told: LiveEvent[] = [];
  /** Contacts that a hand has worked, and whether what it did last is still to be seen. */
  private readonly hands = new Map<string, boolean>();

  /**
   * @param prefix put before the board's own names: only its own parts are watched.
   * @param links jumpers to other boards that are told of too, by the names they have on the page.
   */
  constructor(circuit: Circuit, prefix: string, links: ReadonlyMap<string, string> = new Map()) {
    this.prefix = prefix;
    this.links = links;
    const own = circuit.parts.filter(({ name }) => name.startsWith(prefix));
    this.parts = own.filter(({ kind }) => watchedKinds.has(kind)).map(({ name }) => new WatchedPart(name));
    const timers = own.filter(({ kind }) => kind === 'timer');
    this.outputs = timers.map(({ name }) => ({ timer: name, high: false, before: false, changes: [], cut: false }));
    const buzzers = own.filter(({ kind }) => kind === 'buzzer');
    this.buzzers = buzzers.map(({ name, values }) => ({ name, frequency: Number(values['frequency']), spans: [] }));
    this.relays = new Set(circuit.parts.flatMap(({ kind, name }) => (kind === 'relay' ? [name] : [])));
    this.set = circuit.parts.filter(({ values }) => values['start'] === 'set').map(({ name }) => name);
    for (const name of this.set) this.since.set(name, 0);
  }

  /** Latches, relays and contacts have begun anew, at a time (s), without an event that says so. */
  startAnew(now: number): void {
    this.since.clear();
    for (const name of this.set) this.since.set(name, now);
    this.active.clear();
    this.hands.clear();
  }

  /** Part of the observer's contract. */
  begin(signals: SignalTable): void {
    for (const part of this.parts) part.index = signals.nets.length + signals.currents.indexOf(part.name);
  }

  /** Part of the observer's contract. */
  segment(segment: SegmentView): void {
    for (const part of this.parts) part.take(segment);
  }

  /** Part of the observer's contract. */
  event(event: RunEvent): void {
    const { part, kind, time } = event;
    if (!telling.has(kind)) return;
    const running = this.since.has(part);
    if (kind === 'set') this.since.set(part, time);
    if (kind === 'cleared') this.since.delete(part);
    if (kind === 'outputHigh' || kind === 'outputLow') this.change(part, kind === 'outputHigh', time);
    if (kind === 'pulledIn' || kind === 'sounding') this.active.add(part);
    if (kind === 'droppedOut' || kind === 'silent') this.active.delete(part);
    if (kind === 'sounding' || kind === 'silent') this.sound(part, kind === 'sounding', time);
    const name = this.links.get(part) ?? (part.startsWith(this.prefix) ? part.slice(this.prefix.length) : undefined);
    if (name === undefined) return;
    const isContact = (kind === 'close' || kind === 'open') && this.hands.has(part);
    const bounces =
      (isContact && this.hands.get(part) === false) || ((kind === 'close' || kind === 'open') && this.relays.has(part));
    if (isContact) this.hands.set(part, false);
    const told = { ...event, part: name, running, ...(bounces ? { bounces } : {}) };
    // A return of a contact is told with what happens at its instant, or alone; never as if it came later than it did.
    this.told = this.told.filter(
      (each) => !each.bounces || (each.time === time && !(bounces && each.part === told.part)),
    );
    if (bounces) this.tell(told);
    else if (!this.takeBack(told)) {
      this.happened += 1;
      this.tell(told);
    }
  }

  /** A hand works a contact: its next change is the hand's, those after it are its own. Name as in the circuit. */
  worked(part: string): void {
    this.hands.set(part, true);
  }

  /** The board's own parts among those that are active, as it names them. */
  get activeParts(): string[] {
    const own = [...this.active].filter((part) => part.startsWith(this.prefix));
    return own.map((part) => part.slice(this.prefix.length));
  }

  private tell(event: LiveEvent): void {
    if (this.told.length === MOST_TOLD) this.told.shift();
    this.told.push(event);
  }

  /** A limit that was only passed while a jump settled is nothing to tell of; true where an event ends such a passing. */
  private takeBack({ part, kind, time, timeLow, fault }: LiveEvent): boolean {
    if (kind !== 'fault' || fault?.phase !== 'clear') return false;
    const passed = this.told.findIndex(
      (each) =>
        each.part === part &&
        each.fault?.what === fault.what &&
        each.fault.pin === fault.pin &&
        each.time === time &&
        each.timeLow === timeLow,
    );
    if (passed < 0) return false;
    this.told.splice(passed, 1);
    this.happened -= 1;
    return true;
  }

  /** Begins a slice. */
  clear(): void {
    this.happened = 0;
    this.told = [];
    for (const part of this.parts) part.clear();
    for (const { spans } of this.buzzers) {
      const last = spans.at(-1);
      spans.length = 0;
      // What sounds on began before the next slice.
      if (last?.until === Infinity) spans.push({ from: -Infinity, until: Infinity });
    }
    for (const output of this.outputs) {
      output.before = output.high;
      output.changes = [];
      output.cut = false;
    }
  }

  /** The last events of the slice. */
  get events(): readonly LiveEvent[] {
    return this.told;
  }

  /** @param current gives the current of a part now (A), for slices in which no time passes. */
  partSlices(current: (part: string) => number): PartSlice[] {
    return this.parts.map((part) => part.slice(this.prefix, current));
  }

  /** What the outputs of the board's timers did in the slice. */
  outputSlices(): OutputSlice[] {
    return this.outputs.map(({ timer, before, changes, cut }) => ({
      timer: timer.slice(this.prefix.length),
      high: before,
      changes,
      cut,
    }));
  }

  /** The tones of the board's buzzers in the slice between two times (s). */
  buzzerSlices(from: number, until: number): OutputSlice[] {
    return this.buzzers.map(({ name, frequency, spans }) => {
      const inside = spans.map((span) => ({ from: Math.max(from, span.from), until: Math.min(until, span.until) }));
      return buzzerTone(name.slice(this.prefix.length), frequency, inside, from, until);
    });
  }

  private sound(part: string, begins: boolean, time: number): void {
    const spans = this.buzzers.find(({ name }) => name === part)?.spans;
    if (spans === undefined) return;
    const last = spans.at(-1);
    if (!begins && last !== undefined) spans[spans.length - 1] = { from: last.from, until: time };
    else if (begins && spans.length < MOST_CHANGES) spans.push({ from: time, until: Infinity });
  }

  private change(timer: string, high: boolean, time: number): void {
    const output = this.outputs.find((each) => each.timer === timer);
    if (output === undefined || output.high === high) return;
    output.high = high;
    if (output.changes.length < MOST_CHANGES) output.changes.push(time);
    else output.cut = true;
  }
}

interface WatchedBuzzer {
  readonly name: string;
  readonly frequency: number;
  readonly spans: SoundingSpan[];
}

interface WatchedOutput {
  readonly timer: string;
  high: boolean;
  before: boolean;
  changes: number[];
  cut: boolean;
}

/** Adds up the current of a part and counts how often it begins to flow. */
class WatchedPart {
  index = -1;
  readonly name: string;
  private isOn = false;
  private charge = 0;
  private length = 0;
  private rises = 0;
  private firstRise = 0;
  private lastRise = 0;

  constructor(name: string) {
    this.name = name;
  }

  take(segment: SegmentView): void {
    const { start, length } = segment;
    const charge = integral(segment, this.index);
    const isOn = charge > NOTHING * length;
    if (isOn && !this.isOn) {
      if (this.rises === 0) this.firstRise = start;
      this.lastRise = start;
      this.rises += 1;
    }
    this.isOn = isOn;
    this.charge += Math.max(0, charge);
    this.length += length;
  }

  clear(): void {
    this.charge = 0;
    this.length = 0;
    this.rises = 0;
  }

  slice(prefix: string, current: (part: string) => number): PartSlice {
    const { rises, firstRise, lastRise, length } = this;
    const mean = length > 0 ? this.charge / length : Math.max(0, current(this.name));
    return { part: this.name.slice(prefix.length), current: mean, rises, firstRise, lastRise };
  }
}

/** The integral of a signal over a stretch, in closed form. */
function integral({ frame, amplitudes, length }: SegmentView, index: number): number {
  frame.need?.(index);
  const { rates, rows, constants, slopes } = frame;
  const count = rates.length;
  let sum = ((constants[index] ?? 0) + ((slopes[index] ?? 0) * length) / 2) * length;
  for (let k = 0; k < count; k += 1) {
    const amplitude = (rows[index * count + k] ?? 0) * (amplitudes[k] ?? 0);
    const rate = rates[k] ?? 0;
    sum += amplitude * (rate === 0 ? length : -Math.expm1(-rate * length) / rate);
  }
  return sum;
}
