import type { EventKind } from '#sim/trace/event.ts';
import type { Guard } from './guard.ts';
import type { NodalTimer } from './model.ts';

/** What a timer asks of the run it is in. */
export interface TimerHost {
  /** Lets something happen at a time; `owner` is what it can be forgotten by. */
  at(time: number, fire: () => void, owner?: unknown): void;
  forget(owner: unknown): void;
  take(branch: number, curve: number): void;
  record(part: string, kind: EventKind): void;
}

/** What a timer remembers; see the state table of the user's documentation: RESET beats TRIGGER beats THRESHOLD. */
export class TimerState {
  private set: boolean;
  private output: boolean;
  private triggered = false;
  private accepted = false;
  private resetting = false;

  constructor(
    private readonly timer: NodalTimer,
    private readonly run: TimerHost,
  ) {
    this.set = timer.set;
    this.output = timer.set;
  }

  guards(): Guard[] {
    const { trigger, threshold, control, lower, ground, reset, resetLevel } = this.timer;
    const guards: Guard[] = [];
    if (reset !== undefined) {
      guards.push(
        this.resetting
          ? { plus: reset, minus: ground, offset: resetLevel, rank: 2.5, fire: () => this.reset(false) }
          : { plus: ground, minus: reset, offset: -resetLevel, rank: 1, fire: () => this.reset(true) },
      );
    }
    guards.push(
      this.triggered
        ? { plus: trigger, minus: lower, offset: 0, rank: 2, fire: () => this.release() }
        : { plus: lower, minus: trigger, offset: 0, rank: 2, fire: (time) => this.pull(time) },
    );
    if (this.set && !this.accepted) {
      const fire = (time: number): void => {
        this.run.record(this.timer.part, 'thresholdOver');
        this.latch(false, time);
      };
      guards.push({ plus: threshold, minus: control, offset: 0, rank: 3, fire });
    }
    return guards.map((guard) => ({
      ...guard,
      fire: (time) => {
        this.now = time;
        guard.fire(time);
      },
    }));
  }

  private now = 0;

  private reset(low: boolean): void {
    this.resetting = low;
    this.run.record(this.timer.part, low ? 'resetLow' : 'resetHigh');
    if (low) this.latch(false, this.now);
    else if (this.accepted) this.latch(true, this.now);
  }

  private pull(time: number): void {
    this.triggered = true;
    this.run.record(this.timer.part, 'triggerLow');
    const { minimumTrigger } = this.timer;
    if (minimumTrigger === 0) this.accept(time);
    else {
      const at = time + minimumTrigger;
      const act = (): void => {
        this.run.record(this.timer.part, 'accepted');
        this.accept(at);
      };
      this.run.at(at, act, this);
    }
  }

  private release(): void {
    this.triggered = false;
    this.accepted = false;
    this.run.forget(this);
    this.run.record(this.timer.part, 'triggerHigh');
  }

  private accept(time: number): void {
    this.accepted = true;
    if (!this.resetting) this.latch(true, time);
  }

  private latch(set: boolean, time: number): void {
    if (this.set === set) return;
    this.set = set;
    this.run.record(this.timer.part, set ? 'set' : 'cleared');
    const at = time + this.timer.delay;
    if (this.timer.delay === 0) this.follow(at);
    else this.run.at(at, () => this.follow(at));
  }

  private follow(time: number): void {
    this.output = !this.output;
    for (const branch of this.timer.followers) this.run.take(branch, this.output ? 1 : 0);
    this.run.record(this.timer.part, this.output ? 'outputHigh' : 'outputLow');
    const { surge } = this.timer;
    if (surge === undefined) return;
    // A change while the charge of the one before still flows: both halves conduct for the whole time from now on.
    this.run.forget(surge);
    this.run.take(surge.branch, 1);
    this.run.at(time + surge.time, () => this.run.take(surge.branch, 0), surge);
  }
}
