import type { EventKind } from '../trace/event.ts';
import type { Guard, Reaction, Reactor } from './contract.ts';
import type { TimerParameters } from './families.ts';
import type { Pins } from './timer-pins.ts';
import type { Follower, Spike } from './timer-supply.ts';

/** Bits of the timer's discrete state. */
const LATCH = 1;
const TRIGGERED = 2;
const ACCEPTED = 4;
const RESET = 8;
const OUTPUT = 16;
/** State of a timer that starts set: latch and output. */
export const SET_AT_START = LATCH | OUTPUT;

/** Events of the timer's reactor. */
const TRIGGER_LOW = 0;
const TRIGGER_HIGH = 1;
const RESET_LOW = 2;
const RESET_HIGH = 3;
const THRESHOLD_OVER = 4;
const ACCEPT = 5;
const DELIVER = 6;
const SPIKE_OVER = 7;

const ACCEPT_SLOT = 0;
const DELIVER_SLOT = 1;
/** Only there where changes of the output draw a charge. */
const SPIKE_SLOT = 2;

/** The latch of a timer, its comparators, and what follows it after the delay. */
export function timerReactor(part: string, p: TimerParameters, pins: Pins, acts: Acts, start: number): Reactor {
  return {
    part,
    start,
    slots: acts.spike === undefined ? 2 : 3,
    timetable: [],
    guards: (state) => timerGuards(state, p, pins),
    react(state, event) {
      const change = new Change(state, p, acts);
      switch (event) {
        case TRIGGER_LOW:
          change.record('triggerLow');
          change.state |= TRIGGERED;
          if (p.minimumTrigger > 0) change.schedule.push({ slot: ACCEPT_SLOT, after: p.minimumTrigger, event: ACCEPT });
          else change.accept('triggerLow');
          break;
        case TRIGGER_HIGH:
          change.record('triggerHigh');
          change.state &= ~(TRIGGERED | ACCEPTED);
          if (p.minimumTrigger > 0) change.cancel.push(ACCEPT_SLOT);
          break;
        case ACCEPT:
          change.record('accepted', 'triggerLow');
          change.accept('accepted');
          break;
        case RESET_LOW:
          change.record('resetLow');
          change.state |= RESET;
          change.latch(false, 'resetLow');
          break;
        case RESET_HIGH:
          change.record('resetHigh');
          change.state &= ~RESET;
          if (change.state & ACCEPTED) change.latch(true, 'resetHigh');
          break;
        case THRESHOLD_OVER:
          change.record('thresholdOver');
          change.latch(false, 'thresholdOver');
          break;
        case DELIVER:
          change.follow();
          break;
        case SPIKE_OVER:
          change.endSpike();
          break;
      }
      return change;
    },
  };
}

/** Which comparators matter in a state. RESET and TRIGGER always do; TRIGGER also because every pulse gets its fate. */
function timerGuards(state: number, p: TimerParameters, pins: Pins): Guard[] {
  const guards: Guard[] = [];
  if (pins.reset !== undefined) {
    guards.push(
      state & RESET
        ? {
            event: RESET_HIGH,
            // After TRIGGER: a trigger that ends at the same instant starts no interval any more.
            rank: 2.5,
            watch: { plus: pins.reset, minus: pins.ground, seen: 'plus' },
            offset: p.resetLevel,
          }
        : {
            event: RESET_LOW,
            rank: 1,
            watch: { plus: pins.ground, minus: pins.reset, seen: 'minus' },
            offset: -p.resetLevel,
          },
    );
  }
  guards.push(
    state & TRIGGERED
      ? { event: TRIGGER_HIGH, rank: 2, watch: { plus: pins.trigger, minus: pins.lower, seen: 'plus' }, offset: 0 }
      : { event: TRIGGER_LOW, rank: 2, watch: { plus: pins.lower, minus: pins.trigger, seen: 'minus' }, offset: 0 },
  );
  if (state & LATCH && !(state & ACCEPTED)) {
    guards.push({
      event: THRESHOLD_OVER,
      rank: 3,
      watch: { plus: pins.threshold, minus: pins.control, seen: 'plus' },
      offset: 0,
    });
  }
  return guards;
}

/** What follows the output of a timer. */
export interface Acts {
  readonly followers: readonly Follower[];
  readonly spike: Spike | undefined;
}

/** A reaction under construction. */
class Change implements Reaction {
  readonly pieces: [number, number][] = [];
  readonly cancel: number[] = [];
  readonly records: { kind: EventKind; cause?: EventKind }[] = [];
  readonly schedule: { slot: number; after: number; event: number }[] = [];

  constructor(
    public state: number,
    private readonly parameters: TimerParameters,
    private readonly acts: Acts,
  ) {}

  record(kind: EventKind, cause?: EventKind): void {
    this.records.push(cause === undefined ? { kind } : { kind, cause });
  }

  accept(cause: EventKind): void {
    this.state |= ACCEPTED;
    if (!(this.state & RESET)) this.latch(true, cause);
  }

  latch(set: boolean, cause: EventKind): void {
    if (set === ((this.state & LATCH) !== 0)) return;
    this.state ^= LATCH;
    this.record(set ? 'set' : 'cleared', cause);
    if (this.parameters.delay > 0)
      this.schedule.push({ slot: DELIVER_SLOT, after: this.parameters.delay, event: DELIVER });
    else this.follow();
  }

  follow(): void {
    this.state ^= OUTPUT;
    const high = (this.state & OUTPUT) !== 0;
    for (const follower of this.acts.followers)
      this.pieces.push([follower.branch, high ? follower.high : follower.low]);
    if (high) this.record('outputHigh', 'set');
    else this.record('outputLow', 'cleared');
    const { spike } = this.acts;
    if (spike === undefined) return;
    this.pieces.push([spike.branch, spike.flowing]);
    this.cancel.push(SPIKE_SLOT);
    this.schedule.push({ slot: SPIKE_SLOT, after: this.parameters.transitionTime, event: SPIKE_OVER });
  }

  endSpike(): void {
    const spike = this.acts.spike!;
    this.pieces.push([spike.branch, spike.idle]);
  }
}
