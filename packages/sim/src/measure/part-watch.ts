import type { Part } from '../circuit/description.ts';
import { valueAt } from '../core/exponential-sum.ts';
import type { SegmentView, SignalTable } from '../trace/frame.ts';
import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import { signalIndex } from '../trace/signal-name.ts';
import { SignalSum } from '../trace/signal-sum.ts';
import { clip } from './clip.ts';
import { CompensatedSum } from './compensated-sum.ts';
import type { Window } from './context.ts';
import { terminalNets } from './part-terminals.ts';

/** The voltage across a capacitor at both ends of a window, what its leakage took, and whether it jumped. */
export interface CapacitorEnds {
  readonly capacitance: number;
  /** Resistance of the leakage path (Ω), `Infinity` without one. */
  readonly leakage: number;
  readonly from: number;
  readonly until: number;
  /** When its voltage jumped for the first time inside the window (s); its current has no finite peak then. */
  readonly jump?: number;
}

/** Steps of the voltage below this share of it are rounding, not jumps. */
const JUMP = 1e-9;

/** Shows each stretch of a two-terminal part's current and voltage that lies inside a window. */
export class PartWatch implements PeriodKeeper {
  readonly #part: Part;
  readonly #window: Window;
  readonly #current = new SignalSum();
  readonly #voltage = new SignalSum();
  readonly #time = new CompensatedSum();
  #indices = { current: -1, first: -1, second: -1 };
  #before: number | undefined;
  #ends: { from: number; until: number; jump?: number } | undefined;

  /** @param part the part watched. */
  constructor(part: Part, window: Window) {
    this.#part = part;
    this.#window = window;
  }

  /** Finds the part's signals. */
  begin(table: SignalTable): void {
    const [first, second] = terminalNets(this.#part) ?? ['ground', 'ground'];
    this.#indices = {
      current: signalIndex(table, { current: this.#part.name }),
      first: signalIndex(table, { net: first }),
      second: signalIndex(table, { net: second }),
    };
  }

  /** Current and voltage of the part within the window; local time 0 is where the stretch begins. */
  look(segment: SegmentView): { current: SignalSum; voltage: SignalSum; length: number } | undefined {
    const inside = clip(segment, this.#window);
    const voltage = this.#voltage.load(segment, this.#indices.first, this.#indices.second);
    if (inside === undefined) {
      this.#before = valueAt(voltage, segment.length);
      return undefined;
    }
    const length = inside.end - inside.begin;
    voltage.shift(inside.begin);
    this.#follow(valueAt(voltage, 0), valueAt(voltage, length), segment.start, inside.begin);
    this.#time.add(length);
    return { current: this.#current.load(segment, this.#indices.current).shift(inside.begin), voltage, length };
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    this.#time.visit(visitor);
    // Voltages come back to what they were; their last bits stand for nothing.
    visitor.same(this.#ends?.jump);
  }

  /** Seconds of the window seen so far. */
  get time(): number {
    return this.#time.value;
  }

  /**
   * For a capacitor without series resistance: its charge can move in an instant, which no current shows, so it is taken
   * from the voltage at the ends. A jump at `from` belongs to the window, one at time 0 is where the run starts.
   */
  get capacitor(): CapacitorEnds | undefined {
    const { kind, values } = this.#part;
    if (kind !== 'capacitor' || this.#ends === undefined || Number(values.series ?? 0) > 0) return undefined;
    return {
      capacitance: Number(values.capacitance),
      leakage: Number(values.leakage ?? Infinity),
      ...this.#ends,
    };
  }

  #follow(start: number, end: number, segmentStart: number, begin: number): void {
    const before = begin > 0 ? start : (this.#before ?? start);
    this.#ends ??= { from: before, until: end };
    if (Math.abs(start - before) > JUMP * (Math.abs(start) + Math.abs(before))) this.#ends.jump ??= segmentStart;
    this.#ends.until = end;
    this.#before = end;
  }
}
