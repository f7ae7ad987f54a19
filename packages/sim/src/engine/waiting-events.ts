/** Events that reactors have scheduled, by slot, with times on a clock that may be set back. */
export class WaitingEvents {
  /** Now, by whoever keeps the clock (s). */
  now = 0.5;
  /** When the next one comes (s); Infinity when there is none. */
  next = Infinity;
  /** What was taken out last. */
  reactor = 0;
  event = 0;
  private nextSlot = 0;
  private count = 0;
  private readonly queues: { readonly reactor: number; readonly times: number[]; readonly events: number[] }[] = [];
  private readonly firstSlot: number[] = [];

  /** @param slots how many slots each reactor has. */
  constructor(slots: readonly number[]) {
    slots.forEach((many, reactor) => {
      this.firstSlot.push(this.queues.length);
      for (let slot = 0; slot < many; slot++) this.queues.push({ reactor, times: [], events: [] });
    });
  }

  /** Schedules an event `after` seconds from now; it does not come before those that wait in the same slot already. */
  schedule(reactor: number, slot: number, after: number, event: number): void {
    const time = this.now + after;
    const { times, events } = this.queues[this.firstSlot[reactor]! + slot]!;
    const last = times.at(-1);
    times.push(last !== undefined && last > time ? last : time);
    events.push(event);
    this.count++;
    this.pick();
  }

  /** Empties a slot. */
  cancel(reactor: number, slot: number): void {
    const { times, events } = this.queues[this.firstSlot[reactor]! + slot]!;
    if (times.length === 0) return;
    this.count -= times.length;
    times.length = 0;
    events.length = 0;
    this.pick();
  }

  /** Takes the next event out. */
  take(): void {
    const { reactor, times, events } = this.queues[this.nextSlot]!;
    times.shift();
    this.reactor = reactor;
    this.event = events.shift()!;
    this.count--;
    this.pick();
  }

  /** Sets the clock back (s). */
  setBack(by: number): void {
    if (this.count === 0) return;
    for (const { times } of this.queues) for (let i = 0; i < times.length; i++) times[i]! -= by;
    this.next -= by;
  }

  /** Empties all. */
  clear(): void {
    if (this.count === 0) return;
    for (const { times, events } of this.queues) times.length = events.length = 0;
    this.count = 0;
    this.next = Infinity;
  }

  private pick(): void {
    this.next = Infinity;
    if (this.count === 0) return;
    for (let slot = 0; slot < this.queues.length; slot++) {
      const time = this.queues[slot]!.times[0];
      if (time === undefined || time >= this.next) continue;
      this.next = time;
      this.nextSlot = slot;
    }
  }
}
