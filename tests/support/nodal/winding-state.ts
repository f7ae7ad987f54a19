import type { Guard } from './guard.ts';
import type { NodalWinding } from './model.ts';
import type { TimerHost } from './timer-state.ts';

/** Windings are looked at after the comparators of timers. */
const RANK = 3.5;

/** What a winding remembers: which way its current is enough, if it is, and whether its armature is pulled in. */
export class WindingState {
  private direction: -1 | 0 | 1 = 0;
  private pulled = false;

  constructor(
    private readonly winding: NodalWinding,
    private readonly run: TimerHost,
  ) {}

  guards(): Guard[] {
    const { plus, minus, on, off } = this.winding;
    const along = { plus, minus, rank: RANK };
    const against = { plus: minus, minus: plus, rank: RANK };
    if (this.direction === 0) {
      return [
        { ...along, offset: on, fire: (time) => this.change(1, time) },
        { ...against, offset: on, fire: (time) => this.change(-1, time) },
      ];
    }
    const end = this.direction === 1 ? against : along;
    return [{ ...end, offset: -off, fire: (time) => this.change(0, time) }];
  }

  private change(direction: -1 | 0 | 1, time: number): void {
    const { part, operate, release } = this.winding;
    this.direction = direction;
    this.run.record(part, direction === 0 ? 'windingOff' : 'windingOn');
    this.run.forget(this);
    if (this.pulled === (direction !== 0)) return;
    this.run.at(time + (direction === 0 ? release : operate), () => this.move(), this);
  }

  private move(): void {
    const { part, makes, breaks } = this.winding;
    this.pulled = !this.pulled;
    for (const branch of makes) this.run.take(branch, this.pulled ? 1 : 0);
    for (const branch of breaks) this.run.take(branch, this.pulled ? 0 : 1);
    this.run.record(part, this.pulled ? 'pulledIn' : 'droppedOut');
  }
}
